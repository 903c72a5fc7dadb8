"""Bringing in a file: which file, which of its columns is what, and what is not certain.

Reading it, the preview and the writing itself are in `bring_in_preview`.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from PySide6.QtCore import QStandardPaths
from PySide6.QtWidgets import QFileDialog, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.exchange.draft import Draft, Lack
from logbook.exchange.first_look import FirstLook
from logbook.exchange.layout import COLUMNS
from logbook.exchange.sentences import import_problem_text
from logbook.places import layouts_folder
from logbook.ui.importing import Importing
from logbook.ui.pages.look_back_list import rows_at
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.table import ReadTable
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.saving_places import find_places, where_and_when
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.importing import (
    column_text,
    example_text,
    lack_text,
    named_column,
    sheet_text,
    words_text,
)
from logbook.wording.numbers import unit_text

ENDINGS = (".csv", ".txt", ".tsv", ".tab", ".xlsx", ".ods", ".zip", ".json")
_MOST_FILES = 6
# At small and at large text.
_LINES_SHOWN = (4, 1)
_LONGEST_CELL = 24
# Where each thing that is still lacking is said.
_VIEW_OF = {
    Lack.UNIT: "import_unit",
    Lack.DAY_ORDER: "import_order",
}
_COLUMN_OF = {
    Lack.DATE: "date",
    Lack.TIME: "time",
    Lack.VALUE: "value",
    Lack.DATE_UNREADABLE: "date",
    Lack.TIME_UNREADABLE: "time",
    Lack.TOO_MANY_WORDS: "slot",
}


class FileState:
    """What the views of one page share: the file, and the column that is asked about."""

    def __init__(self) -> None:
        self.importing: Importing | None = None
        self.column = "date"
        self.outcome = ""


class FileView(View):
    """A view about the chosen file."""

    back = "import_columns"

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page)
        self.state = state
        self.column.setSpacing(GAP)

    @property
    def importing(self) -> Importing:
        """The file."""
        assert self.state.importing is not None
        return self.state.importing

    @property
    def draft(self) -> Draft:
        """What its columns mean so far."""
        draft = self.importing.draft
        assert draft is not None
        return draft


class PickView(View):
    """Files found where a person keeps such files, the newest first; or any other."""

    back = "main"

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page)
        self.state = state
        self.column.setSpacing(GAP)
        self.column.addWidget(
            Paragraph(self.look, _("A spreadsheet or a text file with day, time and number."))
        )
        self.files = find_files()
        self.buttons = Columns(self.look, most=2, least_width=16)
        for place, path in enumerate(self.files):
            button = SubjectButton(
                self.look, path.name, where_and_when(path, path.parent.name, self.desk.zone())
            )
            button.setProperty("place", place)
            button.clicked.connect(self._take)
            self.buttons.add(button)
        self.column.addWidget(self.buttons)
        self.other = BigButton(self.look, _("Choose another file"))
        self.other.clicked.connect(self._choose)
        self.column.addWidget(self.other)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which file holds the readings?")

    def first_field(self) -> QWidget:
        return self.other if not self.files else self

    def _take(self) -> None:
        self.open_file(self.files[int(self.sender().property("place"))])

    def _choose(self) -> None:
        dialog = QFileDialog(self, _("Which file holds the readings?"))
        dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
        dialog.fileSelected.connect(self._take_name)
        dialog.finished.connect(dialog.deleteLater)
        dialog.open()

    def _take_name(self, name: str) -> None:
        self.open_file(Path(name))

    def open_file(self, path: Path) -> None:
        """Look at a file and go on, or tell what is wrong with it."""
        try:
            self.state.importing = Importing.begin(path, layouts_folder())
        except LogbookError as error:
            self.desk.say(import_problem_text(error))
            return
        is_telling = self.state.importing.telling is not None
        self.page.turn_to("import_preview" if is_telling else "import_columns")


class ColumnsView(FileView):
    """The first lines as a table and, below, what each column is taken for."""

    back = "import"

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        self.told = Sentence(self.look)
        self.column.addWidget(self.told)
        self.table = ReadTable(self.look, _("The first lines of the file"))
        self.column.addWidget(self.table)
        self.subjects = Columns(self.look, most=3, least_width=10)
        self.column.addWidget(self.subjects)
        self.column.addStretch(1)
        self.buttons: dict[str, SubjectButton] = {}

    def title(self) -> str:
        return _("What is in “{file}”?").format(file=self.importing.path.name)

    def main_text(self) -> str:
        return _("Go on")

    def first_field(self) -> QWidget:
        return self

    def refresh(self, changed: Changed | None) -> None:
        look, draft = self.draft.look, self.draft
        heads = [named_column(place, look.headings[place]) for place in range(look.column_count)]
        rows = [
            [short(cell) for cell in (*row.fields, *[""] * look.column_count)][: look.column_count]
            for row in look.rows[: rows_at(self.look.theme.percent, _LINES_SHOWN)]
        ]
        self.table.show_rows(heads, rows)
        lacks = draft.lacks()
        if self.importing.layout is not None:
            text = _("This file is known as “{name}”.").format(name=self.importing.layout.name)
        elif lacks:
            text = lack_text(lacks[0].value)
        else:
            text = _("Look whether this is right. Press what is not.")
        known = self.importing.layout
        sheet = known.sheet if known is not None and known.sheet else look.sheet
        also = sheet_text(sheet, len(look.sheets))
        self.told.setText(" ".join(filter(None, (text, also))))
        self._show_subjects()

    def _show_subjects(self) -> None:
        self.subjects.clear()
        self.buttons.clear()
        draft = self.draft
        columns = ["moment"] if draft.place("moment") is not None else ["date", "time"]
        columns += ["value", "slot", "note"]
        columns += [one for one in COLUMNS if one in draft.columns and one not in columns]
        for column in columns:
            self._add(column, column_text(column), self._state_of(column), self._ask_column)
        self._add(
            "unit_of_numbers", _("The unit of the numbers"), self._unit_state(), self._ask_unit
        )
        words = [(column, word) for column in ("slot", "kind") for word in draft.words(column)]
        if words:
            unknown = sum(not draft.is_known(column, word) for column, word in words)
            text = words_text(len(words), unknown)
            self._add("words", _("What the words mean"), text, self._ask_words)
        if draft.look.form is not None or len(draft.look.sheets) > 1:
            self._add("form", _("How it is written"), self._form_state(), self._ask_form)

    def _add(self, name: str, text: str, state: str, slot: Callable[[], None]) -> None:
        button = SubjectButton(self.look, text, state)
        button.setProperty("column", name)
        button.clicked.connect(slot)
        self.buttons[name] = button
        self.subjects.add(button)

    def _state_of(self, column: str) -> str:
        place = self.draft.place(column)
        if place is None:
            return _("not in this file")
        look = self.draft.look
        cells = examples(look, place, 1)
        return f"{named_column(place, look.headings[place])}, {example_text(cells)}"

    def _unit_state(self) -> str:
        unit = self.draft.unit_in_force
        if self.draft.evidence.is_by_line:
            return _("as each line says")
        return _("not certain") if unit is None else unit_text(unit)

    def _form_state(self) -> str:
        form = self.draft.look.form
        return self.draft.look.sheet if form is None else form.encoding.upper()

    def _ask_column(self) -> None:
        self.state.column = str(self.sender().property("column"))
        self.page.turn_to("import_column")

    def _ask_unit(self) -> None:
        self.page.turn_to("import_unit")

    def _ask_words(self) -> None:
        self.page.turn_to("import_words")

    def _ask_form(self) -> None:
        self.page.turn_to("import_form")

    def do_main(self) -> None:
        go_on(self.page, self.state)


def go_on(page: ViewPage, state: FileState) -> None:
    """To what is still lacking, or to the preview."""
    assert state.importing is not None
    importing = state.importing
    is_known = importing.layout is not None or importing.draft is None
    lacks = () if is_known or importing.draft is None else importing.draft.lacks()
    if not lacks:
        page.turn_to("import_preview")
        return
    lack = lacks[0]
    if lack in _VIEW_OF:
        page.turn_to(_VIEW_OF[lack])
        return
    state.column = _COLUMN_OF[lack]
    page.turn_to("import_column", message=lack_text(lack.value))


def find_files() -> list[Path]:
    """Files that may hold readings, the newest first, where people keep such files."""
    folders = [place.folder for place in find_places()]
    downloads = QStandardPaths.writableLocation(QStandardPaths.StandardLocation.DownloadLocation)
    folders.append(Path(downloads))
    found: dict[Path, float] = {}
    for folder in folders:
        try:
            for path in folder.iterdir():
                if path.suffix.lower() in ENDINGS and path.is_file():
                    found[path] = path.stat().st_mtime
        except OSError:
            continue
    return sorted(found, key=lambda path: -found[path])[:_MOST_FILES]


def examples(look: FirstLook, place: int, count: int) -> list[str]:
    """Some different texts of a column, as they come."""
    return list(dict.fromkeys(short(cell) for cell in look.cells(place) if cell))[:count]


def short(cell: str) -> str:
    """What stands in a cell, on one line and not too long."""
    plain = " ".join(cell.split())
    return plain if len(plain) <= _LONGEST_CELL else plain[: _LONGEST_CELL - 1] + "…"
