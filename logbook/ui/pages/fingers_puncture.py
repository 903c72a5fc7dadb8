"""How the last prick went: did it hurt, was there enough blood, and which depth was set.

Pain lets the finger rest; a depth that worked is offered for that finger the next time.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal, InvalidOperation
from enum import StrEnum
from uuid import uuid4

from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.kit.depths import PunctureNote
from logbook.domain.kit.pricks import Prick
from logbook.domain.readings import Reading
from logbook.domain.sites import SiteUse
from logbook.ui.pages.fingers_subject import depth_for, pricks_lately
from logbook.ui.pages.fingers_words import prick_sentence
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.kit import after_little_blood, after_pain, depth_number, depth_text

# Dials are numbered from about half a step to 11, whatever the device; wider is a slip.
_MOST_DEPTH = Decimal(20)


class _Went(StrEnum):
    HURT = "hurt"
    LITTLE_BLOOD = "little_blood"
    BOTH = "both"
    WELL = "well"

    @property
    def did_hurt(self) -> bool:
        return self in (_Went.HURT, _Went.BOTH)

    @property
    def was_enough_blood(self) -> bool:
        return self not in (_Went.LITTLE_BLOOD, _Went.BOTH)


class PunctureView(EditedView):
    """One press says how it went; the depth is asked then and can be left out."""

    back = "lancet"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._prick: Prick | None = None
        self.about = Sentence(self.look)
        self.went = Choice(
            self.look,
            _("Did it hurt, or was it too little blood?"),
            [
                (_Went.HURT, _("It hurt")),
                (_Went.LITTLE_BLOOD, _("Not enough blood")),
                (_Went.BOTH, _("It hurt, and not enough blood")),
                (_Went.WELL, _("It went well")),
            ],
        )
        for button in self.went.buttons.values():
            button.setMinimumHeight(self.look.theme.key)
        self.went.chosen.connect(self._choose)
        self.depth_set = TextField(
            self.look,
            _("Depth on the device"),
            help_text=_("The number on its dial. It can be left out."),
        )
        self.depth_set.textEdited.connect(self._edit)
        self.worked = Sentence(self.look)
        for part in (self.about, self.went, self.depth_set.row, self.worked):
            self.column.addWidget(part)
        self.depth_set.row.hide()
        self.column.addStretch(1)

    def title(self) -> str:
        return _("How did the last prick go?")

    def main_text(self) -> str:
        return _("Keep this") if self._prick is not None else ""

    def first_field(self) -> QWidget:
        return next(iter(self.went.buttons.values()))

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            self._read()
        except LogbookError as error:
            self.desk.told(error)

    def _read(self) -> None:
        now = self.desk.now()
        pricks = pricks_lately(self.desk, now)
        before, self._prick = self._prick, pricks[-1] if pricks else None
        self.went.setVisible(self._prick is not None)
        if self._prick is None:
            self.about.say(_("No prick is written down in the last weeks."))
            self.worked.say("")
            return
        self.about.say(prick_sentence(self._prick, now, self.desk.book.settings.day_starts_at))
        site = self._prick.site
        depth = None if site is None else depth_for(self.desk, site, now)
        self.worked.say("" if depth is None else depth_text(depth))
        if before is None or before.about != self._prick.about:
            self._show_note(self._note())

    def _show_note(self, note: PunctureNote | None) -> None:
        """What was told about this prick already."""
        self._is_edited = False
        went = None
        if note is not None:
            hurt, enough = bool(note.did_hurt), note.was_enough_blood is not False
            went = next(
                one for one in _Went if (one.did_hurt, one.was_enough_blood) == (hurt, enough)
            )
        self.went.choose(went)
        known = None if note is None else note.depth_tenths
        self.depth_set.setText("" if known is None else depth_number(known))
        self.depth_set.row.setVisible(went is not None)

    def _note(self) -> PunctureNote | None:
        notes = [
            note
            for note in self.desk.book.puncture_notes()
            if self._prick is not None and note.about == self._prick.about
        ]
        return notes[-1] if notes else None

    def _choose(self) -> None:
        self._is_edited = True
        self.depth_set.row.show()
        self.page.update_head()

    def do_main(self) -> None:
        prick, went = self._prick, self.went.value
        if prick is None:
            return
        if went is None:
            self.desk.say(_("Choose one of these first."))
            return
        text = self.depth_set.text().strip()
        tenths = _depth_tenths(text) if text else None
        problems = []
        if text and tenths is None:
            problems.append((self.depth_set, _("Write the number on the dial, such as 2 or 2.5.")))
        if not self.show_problems((self.depth_set,), problems):
            return
        known = self._note()
        note = PunctureNote(
            uuid4() if known is None else known.id,
            prick.about,
            prick.at.instant,
            tenths,
            went.was_enough_blood,
            went.did_hurt,
        )
        if self.desk.write(self.desk.book.keep, note, *self._confirmed(prick)) is None:
            return
        self._is_edited = False
        told = [after_pain()] if went.did_hurt else []
        told += [] if went.was_enough_blood else [after_little_blood()]
        self.page.turn_to("hands", message=" ".join(told) or _("It is written down."))

    def _confirmed(self, prick: Prick) -> list[Reading]:
        """Whoever tells how this finger's prick went has used this finger."""
        if not prick.was_suggested:
            return []
        return [replace(self.desk.book.reading(prick.about), site_use=SiteUse.USED)]


def _depth_tenths(text: str) -> int | None:
    """A number of the dial in tenths, a comma taken for a point; None for anything else."""
    try:
        depth = Decimal(text.replace(",", "."))
    except InvalidOperation:
        return None
    if not (depth.is_finite() and 0 < depth <= _MOST_DEPTH) or depth * 10 % 1:
        return None
    return int(depth * 10)
