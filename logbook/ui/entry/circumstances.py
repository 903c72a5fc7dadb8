"""When the check was made, and what for: tiles in the order of the day, chips after a meal."""

from __future__ import annotations

from datetime import time
from enum import Enum

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QSizePolicy, QVBoxLayout, QWidget

from logbook.domain.moments import Moment
from logbook.domain.slots import Slot
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import clock_text, moment_text
from logbook.wording.terms import slot_text


class When(Enum):
    """The four answers to When."""

    NOW = "now"
    EARLIER_TODAY = "earlier_today"
    YESTERDAY = "yesterday"
    ANOTHER_DAY = "another_day"


# Minutes since the first bite; three hours or more is a check between meals.
USUAL_MINUTES_AFTER = 120
THREE_HOURS = 180
_TILES = (
    Slot.FASTING,
    Slot.AFTER_BREAKFAST,
    Slot.BEFORE_LUNCH,
    Slot.AFTER_LUNCH,
    Slot.BEFORE_DINNER,
    Slot.AFTER_DINNER,
    Slot.BEDTIME,
    Slot.NIGHT,
    Slot.OTHER,
)
_OTHER_SLOTS = (Slot.BETWEEN_MEALS, Slot.BEFORE_SNACK, Slot.AFTER_SNACK, Slot.OTHER)


class Circumstances(QWidget):
    """Tells what was touched; what is chosen is shown from the draft."""

    when_chosen = Signal(object)
    slot_chosen = Signal(object)
    minutes_chosen = Signal(object)
    more_wanted = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk, look = desk, desk.look
        self._is_simple, self.when_is_open = False, False
        self.when_heading = Words(look, role="heading")
        self.when = Choice(
            look,
            _("When?"),
            [
                (When.NOW, _("Now")),
                (When.EARLIER_TODAY, _("Earlier today")),
                (When.YESTERDAY, _("Yesterday")),
                (When.ANOTHER_DAY, _("Another day")),
            ],
            shows_label=False,
        )
        self.slots = Choice(
            look,
            _("What was it for?"),
            [(slot, tile_text(slot)) for slot in _TILES],
        )
        self.more = BigButton(look, _("More …"), ButtonKind.OTHER)
        self.more.describe(_("Feelings, what was different, could not wash, a note"))
        self.slots.tiles.addWidget(self.more)
        self.minutes = Choice(
            look,
            _("How long since the first bite?"),
            [
                (60, _("About 1 hour")),
                (90, _("1½ hours")),
                (USUAL_MINUTES_AFTER, _("2 hours (usual)")),
                (THREE_HOURS, _("3 or more")),
            ],
            columns=4,
            kind=ButtonKind.CHIP,
        )
        self.other = Choice(
            look,
            _("Which one?"),
            [
                (slot, tile_text(slot))
                for slot in (Slot.BETWEEN_MEALS, Slot.BEFORE_SNACK, Slot.AFTER_SNACK)
            ],
            columns=3,
            kind=ButtonKind.CHIP,
        )
        self.when.chosen.connect(self.when_chosen)
        self.slots.chosen.connect(self.slot_chosen)
        self.minutes.chosen.connect(self.minutes_chosen)
        self.other.chosen.connect(self.slot_chosen)
        self.more.clicked.connect(self.more_wanted)
        for chips in (self.minutes, self.other):
            chips.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(4)
        column.addWidget(self.when_heading)
        column.addWidget(self.when)
        column.addSpacing(GAP - 4)
        column.addWidget(self.slots)
        column.addSpacing(GAP - 4)
        column.addWidget(self.minutes)
        column.addWidget(self.other)
        column.addStretch(1)

    def set_simple(self, is_simple: bool) -> None:
        """Ask for nothing but the time, and for that only where it isn't known."""
        self._is_simple = is_simple
        for part in (self.slots, self.more):
            part.setVisible(not is_simple)

    @property
    def is_needed(self) -> bool:
        """Whether there is anything to see."""
        return not self._is_simple or self.when_is_open

    def wanted_width(self) -> int:
        """The width at which every tile has its words on one line."""
        buttons = [*self.when.buttons.values(), *self.slots.buttons.values(), self.more]
        return 2 * max(button.sizeHint().width() for button in buttons) + GAP

    def chips(self) -> QWidget:
        """The chips that are shown for the chosen tile."""
        return self.other if self.other.isVisibleTo(self) else self.minutes

    def show_draft(self, draft: Draft, now: Moment, when: When | None) -> None:
        """Show what is chosen so far."""
        self.when.buttons[When.NOW].setText(_("Now, {time}").format(time=clock_text(now)))
        self.when.choose(when)
        if when is None:
            self.when_heading.setText(_("When was it?"))
        elif draft.at is not None:
            starts_at = self._desk.book.settings.day_starts_at
            moment = _capital(moment_text(draft.at, now, starts_at))
            self.when_heading.setText(_("When? {moment}").format(moment=moment))
        else:
            self.when_heading.setText(_("When?"))
        self.when_is_open = when is None
        self.setVisible(self.is_needed)
        slot = draft.slot
        self.slots.choose(Slot.OTHER if slot in _OTHER_SLOTS else slot)
        has_meal = slot is not None and slot.is_after_meal and slot is not Slot.AFTER_SNACK
        self.minutes.setVisible(has_meal and not self._is_simple)
        self.minutes.choose(draft.minutes_after)
        self.other.setVisible(slot in _OTHER_SLOTS and not self._is_simple)
        self.other.choose(slot)
        has_more = bool(
            draft.feelings
            or draft.differences
            or draft.could_not_wash
            or draft.meter_id
            or draft.note
        )
        self.more.setText(_("More (filled in)") if has_more else _("More …"))


def tile_text(slot: Slot) -> str:
    """The words on a tile, shorter than those of tables."""
    match slot:
        case Slot.FASTING:
            return _("Before breakfast")
        case Slot.OTHER:
            return _("Something else")
        case _:
            return slot_text(slot)


def when_of(at: Moment, now: Moment, day_starts_at: time) -> When:
    """Which answer to When a moment is; days are the person's."""
    days = (now.day(day_starts_at) - at.day(day_starts_at)).days
    return {0: When.EARLIER_TODAY, 1: When.YESTERDAY}.get(days, When.ANOTHER_DAY)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
