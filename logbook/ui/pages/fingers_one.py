"""One finger: how its sides stand, and marking it sore or leaving it out, with the reason."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.rest import SiteRest, SiteState, rests_of
from logbook.domain.rotation import SiteNote, noted_for, notes_about
from logbook.domain.settings import LogSettings
from logbook.domain.site_notes import (
    why_hand_is_left_out,
    with_hand_left_out,
    with_hand_used,
    with_left_out,
    with_sore,
    without_left_out,
    without_sore,
)
from logbook.domain.sites import SIDES, Hand, Side, Site
from logbook.ui.pages.fingers_subject import FingerSubject, punctures_lately
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.tiles import Tile, TileLayout
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _, mark
from logbook.wording.cautions import sore_finger
from logbook.wording.sites import (
    finger_text,
    hand_text,
    note_text,
    rest_text,
    side_text,
    site_rest_text,
    uses_text,
)

_FINGER_REASONS = (
    mark("It is numb"),
    mark("It hurts"),
    mark("A wound or a scar"),
    mark("The skin is hard"),
    mark("I do not like using it"),
    mark("Another reason"),
)
_HAND_REASONS = (
    mark("A fistula"),
    mark("The arm is swollen"),
    mark("After a stroke"),
    mark("A cast or a bandage"),
    mark("It is numb"),
    mark("Another reason"),
)
# Said beside a finger whatever was chosen; the rest is told by the state.
_SOFT_NOTES = (
    SiteNote.THUMB,
    SiteNote.INDEX,
    SiteNote.FINGER_PRICKED_LATELY,
    SiteNote.HURT_LATELY,
)
WHOLE = "whole"


class OneFingerView(View):
    """The sides as big buttons with what is known of them; below, what can be done."""

    back = "hands"

    def __init__(self, page: ViewPage, subject: FingerSubject) -> None:
        super().__init__(page)
        self.subject = subject
        hand, place = subject.site.hand, subject.site.place
        # Palms up, the left hand's thumb is at the left, the right hand's at the right.
        sides = SIDES if hand is Hand.LEFT else tuple(reversed(SIDES))
        options: list[tuple[object, str]] = [(side, side_text(place, side)) for side in sides]
        options.insert(1, (WHOLE, _("The whole finger")))
        self.sides = Choice(
            self.look, _("Which part of it?"), options, columns=3, shows_label=False
        )
        for button in self.sides.buttons.values():
            button.setMinimumHeight(self.look.theme.key)
        self.sides.choose(subject.site.side or WHOLE)
        self.sides.chosen.connect(self._choose_side)
        self.told = QVBoxLayout()
        self.told.setSpacing(4)
        self.sentences = [Sentence(self.look) for _n in range(5)]
        for sentence in self.sentences:
            self.told.addWidget(sentence)
        self.offered: dict[str, BigButton] = {}
        row = QWidget()
        tiles = TileLayout(row, most=3)
        for name, slot in (
            ("sore", self._mark_sore),
            ("not_sore", self._mark_not_sore),
            ("leave_out", self._leave_out),
            ("use_again", self._use_again),
            ("hand", self._leave_hand_out),
        ):
            button = Tile(self.look, "", ButtonKind.TALL)
            button.clicked.connect(slot)
            self.offered[name] = button
            tiles.addWidget(button)
        self.column.addWidget(self.sides)
        self.column.addLayout(self.told)
        self.column.addWidget(row)
        self.column.addStretch(1)

    def title(self) -> str:
        return finger_text(self.subject.site.hand, self.subject.site.place)

    def first_field(self) -> QWidget:
        return self.sides.buttons[self.subject.site.side or WHOLE]

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            self._read()
        except LogbookError as error:
            self.desk.told(error)

    def _read(self) -> None:
        now, settings, site = self.desk.now(), self.desk.book.settings, self.subject.site
        punctures = punctures_lately(self.desk, now)
        sites = [Site(site.hand, site.place, side) for side in SIDES]
        rests = rests_of(sites, punctures, settings, now)
        shown = [rest for rest in rests if site.side in (None, rest.site.side)]
        said = [_side_sentence(rest) for rest in shown]
        notes = notes_about(site, punctures, settings, now)
        said += [note_text(note) for note in notes if note in _SOFT_NOTES]
        if noted_for(site, settings.sore) is not None:
            said.append(sore_finger())
        if site.place not in settings.fingers_in_use:
            said.append(_("This finger is not in use. You can turn it on in My plan."))
        for sentence, text in zip(self.sentences, [*said, *[""] * 5], strict=False):
            sentence.say(text)
        self._offer(settings, rests)

    def _offer(self, settings: LogSettings, rests: tuple[SiteRest, ...]) -> None:
        site = self.subject.site
        hand_reason = why_hand_is_left_out(settings, site.hand)
        is_sore = noted_for(site, settings.sore) is not None or any(
            rest.state is SiteState.SORE for rest in rests if site.side is None
        )
        own = tuple(entry for entry in settings.left_out if entry[0] != site.hand.value)
        is_out = noted_for(site, own) is not None or (
            site.side is None and any(noted_for(rest.site, own) is not None for rest in rests)
        )
        is_in_use = site.place in settings.fingers_in_use and hand_reason is None
        offers = {
            "sore": "" if is_sore else _("It is sore"),
            "not_sore": _("Not sore any more") if is_sore else "",
            "leave_out": _("Leave it out") if is_in_use and not is_out else "",
            "use_again": _("Use it again") if is_out else "",
            "hand": _("Leave the whole hand out")
            if hand_reason is None
            else _("Use this hand again"),
        }
        for name, text in offers.items():
            self.offered[name].setText(text)
            self.offered[name].setVisible(bool(text))
            self.offered[name].describe(self.title())

    # --- doing --------------------------------------------------------------------------------

    def _choose_side(self, side: object) -> None:
        chosen = side if isinstance(side, Side) else None
        self.subject.site = replace(self.subject.site, side=chosen)
        self.refresh(None)
        self.desk.say("")

    def _mark_sore(self) -> None:
        self._save(
            with_sore(self.desk.book.settings, self.subject.site, self.desk.today()),
            _("It is left to rest. You are asked again in 7 days."),
        )

    def _mark_not_sore(self) -> None:
        self._save(
            without_sore(self.desk.book.settings, self.subject.site), _("It is in use again.")
        )

    def _use_again(self) -> None:
        self._save(
            without_left_out(self.desk.book.settings, self.subject.site), _("It is in use again.")
        )

    def _leave_out(self) -> None:
        self.subject.hand = None
        self.page.turn_to("leave_out")

    def _leave_hand_out(self) -> None:
        hand, settings = self.subject.site.hand, self.desk.book.settings
        if why_hand_is_left_out(settings, hand) is not None:
            self._save(with_hand_used(settings, hand), _("This hand is in use again."))
            return
        self.subject.hand = hand
        self.page.turn_to("leave_out")

    def _save(self, settings: LogSettings, message: str) -> None:
        if self.desk.write(self.desk.book.save_settings, settings) is not None:
            self.desk.say(message)


class LeaveOutView(View):
    """Why a finger or a whole hand is left out; one press on a reason does it."""

    back = "finger"

    def __init__(self, page: ViewPage, subject: FingerSubject) -> None:
        super().__init__(page)
        self.subject = subject
        self.column.addWidget(
            Sentence(self.look, _("It is not suggested any more until you use it again."))
        )
        self.reasons: dict[str, BigButton] = {}
        columns = Columns(self.look, most=2, least_width=12)
        reasons = _FINGER_REASONS if subject.hand is None else _HAND_REASONS
        for reason in reasons:
            button = BigButton(self.look, _(reason), ButtonKind.TALL)
            button.describe(_("Leaves it out for this reason"))
            button.clicked.connect(self._choose)
            self.reasons[_(reason)] = button
            columns.add(button)
        self.column.addWidget(columns)
        self.column.addStretch(1)

    def title(self) -> str:
        subject = self.subject
        if subject.hand is not None:
            what = hand_text(subject.hand)
        else:
            what = finger_text(subject.site.hand, subject.site.place)
        return _("{what}: why is it left out?").format(what=what)

    def _choose(self) -> None:
        sender = self.sender()
        if not isinstance(sender, BigButton):
            return
        settings, subject = self.desk.book.settings, self.subject
        if subject.hand is not None:
            changed = with_hand_left_out(settings, subject.hand, sender.text())
        else:
            changed = with_left_out(settings, subject.site, sender.text())
        if self.desk.write(self.desk.book.save_settings, changed) is not None:
            self.page.turn_to("finger", message=_("It is left out from now on."))


def _side_sentence(rest: SiteRest) -> str:
    assert rest.site.side is not None
    side = side_text(rest.site.place, rest.site.side)
    told = site_rest_text(rest)
    rested = rest_text(rest.days)
    parts = [told] if told == rested else [told, rested]
    if rest.uses or rest.days is not None:
        parts.append(uses_text(rest.uses))
    return _("{side}: {told}.").format(side=side, told=". ".join(parts))
