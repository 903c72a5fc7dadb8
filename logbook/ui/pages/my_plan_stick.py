"""The view of *My plan* for copies on a USB stick: which one, how old, and one made there now."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

from PySide6.QtWidgets import QFileDialog

from logbook.book import Changed
from logbook.domain.copies import SecondFolder
from logbook.domain.errors import LogbookError
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.saving_places import find_sticks
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.copies import last_copy_there_text, second_folder_name


class StickView(View):
    """Without a stick: which one. With one: a copy there now, or no more copies there."""

    back = "copies"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._course: Course | None = None
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self._places = Columns(self.look, most=3, least_width=12)
        self.column.addWidget(self._places)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Copies on a USB stick")

    def main_text(self) -> str:
        known = self.desk.book.second_folder()
        return _("Make a copy there now") if known is not None and known.is_there else ""

    def do_main(self) -> None:
        known = self.desk.book.second_folder()
        if known is not None:
            self._make_copy(Path(known.folder))

    @property
    def is_changed(self) -> bool:
        return self._course is not None  # kept until it has told how it went

    def refresh(self, changed: Changed | None) -> None:
        known = self.desk.book.second_folder()
        self._places.clear()
        if known is None:
            sticks = find_sticks()
            self._told.say(
                (
                    _("If this computer breaks, a copy on a stick still has everything."),
                    _("A copy then goes there each day when you close the program."),
                    _("Anyone who has the stick can read it. Keep it in a safe place."),
                    *([] if sticks else [_("No stick is plugged in now.")]),
                )
            )
            for stick in sticks:
                self._offer(stick.name, self._take).setProperty("folder", str(stick.folder))
        else:
            self._told.say(self._about(known))
        if known is None or not known.is_there:
            self._offer(_("Look for sticks again"), self._look_again)
        if known is None:
            self._offer(_("Another folder"), self._choose_folder)
        else:
            self._offer(_("No more copies there"), self._end)
        self.page.update_head()

    def _offer(self, text: str, slot: Callable[[], None]) -> BigButton:
        button = BigButton(self.look, text)
        button.clicked.connect(slot)
        self._places.add(button)
        return button

    def _about(self, known: SecondFolder) -> tuple[str, ...]:
        now = self.desk.now()
        name = second_folder_name(known.folder)
        told = [
            _("Copies also go to “{name}”.").format(name=name),
            last_copy_there_text(known, now),
        ]
        if not known.is_there:
            told.append(_("It is not plugged in now. Plug it in, wait a moment, then look again."))
        else:
            told.append(_("Let the computer eject a stick before you pull it out."))
        return tuple(told)

    def _look_again(self) -> None:
        self.desk.say("")
        self.refresh(None)

    def _take(self) -> None:
        self.take_folder(str(self.sender().property("folder")))

    def _choose_folder(self) -> None:
        dialog = QFileDialog(self, self.title())
        dialog.setFileMode(QFileDialog.FileMode.Directory)
        dialog.setOption(QFileDialog.Option.ShowDirsOnly)
        dialog.fileSelected.connect(self.take_folder)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def take_folder(self, name: str) -> None:
        """Copies go there from now on, and one at once."""
        if self._choose(Path(name)):
            self.refresh(None)
            self._make_copy(Path(name))

    def _end(self) -> None:
        if self._choose(None):
            self.refresh(None)
            self.desk.say(_("No more copies go there. Those that are there stay."))

    def _choose(self, folder: Path | None) -> bool:
        if self.desk.only_read_because is not None:
            self.desk.told(self.desk.only_read_because)
            return False
        try:
            self.desk.book.choose_second_folder(folder)
        except LogbookError as error:
            self.desk.told(error)
            return False
        return True

    def _make_copy(self, folder: Path) -> None:
        if self._course is not None:
            return
        self.desk.say(_("Making a copy ..."))
        self._course = self.desk.work.prepare()
        self._course.done.connect(self._made)
        self._course.failed.connect(self._not_made)
        self.desk.work.start(self._course, partial(self._make, folder))

    def _make(self, folder: Path, _course: Course) -> Path:
        return self.desk.book.make_copy(folder)

    def _made(self, _copy: Path) -> None:
        self._course = None
        self.refresh(None)
        self.desk.say(_("A copy was made there, read back and found good."))

    def _not_made(self, error: Exception) -> None:
        self._course = None
        self.refresh(None)
        if not isinstance(error, LogbookError):
            raise error
        self.desk.told(error)
