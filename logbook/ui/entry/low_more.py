"""More about a low that is over: feelings, cause, a note, help, the finger. All of it can wait."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

from PySide6.QtCore import QObject, Signal

from logbook.domain.answers import Said
from logbook.domain.happenings import Happening, What
from logbook.domain.readings import Reading
from logbook.domain.sites import Site, SiteUse
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.fingers import FingerStep, SideStep, finger_news
from logbook.ui.entry.more_step import MoreStep
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.hands import Finger
from logbook.wording import _
from logbook.wording.sites import site_text
from logbook.wording.terms import said_text


class LowMoreStep(MoreStep):
    """`help_told` carries yes or no; `finger_wanted` asks for the finger."""

    help_told = Signal(object)
    finger_wanted = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk, _("More about this low"), _("Done"))
        self.help = Choice(
            desk.look,
            _("Did someone have to help you?"),
            [(said, said_text(said)) for said in (Said.YES, Said.NO)],
        )
        self.help.chosen.connect(self.help_told)
        self.finger = BigButton(desk.look, "", ButtonKind.OTHER)
        self.finger.clicked.connect(self.finger_wanted)
        row = EvenGrid(2)
        row.addWidget(self.finger)
        end = self.column.count() - 1
        self.column.insertWidget(end, self.help)
        self.column.insertLayout(end + 1, row)

    def show_help(self, said: Said | None) -> None:
        """Show what was told about help."""
        self.help.choose(said)

    def show_finger(self, site: Site | None, *, has_fingers: bool) -> None:
        """Name the finger that was used, or ask for it."""
        self.finger.setText(
            _("Which finger was it?")
            if site is None
            else _("Finger: {site}").format(site=site_text(site))
        )
        self.finger.setVisible(has_fingers)


class LowMore(QObject):
    """Asks and writes it down; `step_wanted` shows a step, `left` leads back to the result."""

    step_wanted = Signal(object)
    left = Signal()

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._reading: Reading | None = None
        self._helped: UUID | None = None
        self._draft = Draft()
        self.step = LowMoreStep(desk)
        self.finger_step, self.side_step = FingerStep(desk), SideStep(desk)
        self.steps = (self.step, self.finger_step, self.side_step)
        self.step.left.connect(self._keep)
        self.step.help_told.connect(self._tell_help)
        self.step.finger_wanted.connect(self._ask_finger)
        self.finger_step.finger_chosen.connect(self._ask_side)
        self.finger_step.left.connect(self._show)
        self.side_step.side_chosen.connect(self._take_site)
        self.side_step.left.connect(self._ask_finger)

    def ask(self, reading: Reading) -> None:
        """Ask about this low; what was told before is shown."""
        self._reading = reading
        self._draft = Draft(
            feelings=reading.feelings,
            differences=reading.differences,
            could_not_wash=reading.could_not_wash,
            note=reading.note,
            site=reading.site if reading.site_use is SiteUse.USED else None,
        )
        helped = [one for one in self._about(reading) if one.counts and one.what.is_helped]
        self._helped = helped[-1].id if helped else None
        self.step.fill(self._draft)
        self.step.show_help(Said.YES if helped else None)
        self._show()

    def _show(self) -> None:
        has_fingers = self._desk.book.settings.tracks_fingers
        self.step.show_finger(self._draft.site, has_fingers=has_fingers)
        self.step_wanted.emit(self.step)

    def _about(self, reading: Reading) -> list[Happening]:
        return [one for one in self._desk.book.happenings() if one.about == reading.id]

    def _tell_help(self, said: Said) -> None:
        """Help is a record of its own: it counts as a low that needed help."""
        book, now, reading = self._desk.book, self._desk.now(), self._reading
        if reading is None:
            return
        if said is Said.YES and self._helped is None:
            helped = Happening(uuid4(), What.NEEDED_HELP, reading.at, now.instant, about=reading.id)
            if self._desk.write(book.add, helped) is not None:
                self._helped = helped.id
        elif said is Said.NO and self._helped is not None:
            told = [one for one in self._about(reading) if one.counts and one.what.is_helped]
            crossed = [replace(one, crossed_out_at=now.instant) for one in told]
            if self._desk.write(book.replace, *crossed) is not None:
                self._helped = None
        if (self._helped is None) is (said is Said.YES):
            self.step.show_help(None)

    def _ask_finger(self) -> None:
        self.finger_step.show_news(finger_news(self._desk, self._desk.now()))
        self.step_wanted.emit(self.finger_step)
        self.finger_step.set_first_focus()

    def _ask_side(self, finger: Finger) -> None:
        self.side_step.ask(finger)
        self.step_wanted.emit(self.side_step)
        self.side_step.set_first_focus()

    def _take_site(self, site: Site) -> None:
        self._draft.site = site
        self._show()

    def _keep(self) -> None:
        reading, draft, book = self._reading, self._draft, self._desk.book
        if reading is not None and book.has_records([reading.id]):
            now = book.reading(reading.id)
            told = replace(
                now,
                feelings=draft.feelings,
                differences=draft.differences,
                could_not_wash=draft.could_not_wash,
                note=draft.note.strip(),
            )
            if draft.site is not None:
                told = replace(told, site=draft.site, site_use=SiteUse.USED)
            if told != now and self._desk.write(book.replace, told) is None:
                return
        self.left.emit()
