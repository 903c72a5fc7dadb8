"""What is asked about a file: which column, which unit, the order of days, what words mean."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtWidgets import QWidget

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Unit
from logbook.domain.slots import Slot
from logbook.exchange.draft import Beside
from logbook.exchange.first_look import look_at
from logbook.exchange.sentences import import_problem_text
from logbook.ui.pages.bring_in import FileState, FileView, examples, go_on
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.importing import (
    column_question,
    example_text,
    named_column,
    unit_doubt_text,
)
from logbook.wording.numbers import unit_text
from logbook.wording.terms import slot_text

_CELLS_SHOWN = 3
_MOST_WORDS = 12


class ColumnView(FileView):
    """Which column holds one thing: a button for each column, with what stands in it."""

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        look = self.draft.look
        self.columns = Columns(self.look, most=3, least_width=11)
        for place in range(look.column_count):
            cells = examples(look, place, _CELLS_SHOWN)
            button = SubjectButton(
                self.look, named_column(place, look.headings[place]), example_text(cells)
            )
            button.setProperty("place", place)
            button.clicked.connect(self._take)
            self.columns.add(button)
        self.column.addWidget(self.columns)
        self.together = BigButton(self.look, _("Day and time stand in one column"))
        self.together.clicked.connect(self._ask_together)
        self.together.setVisible(state.column in ("date", "time"))
        self.apart = BigButton(self.look, _("Day and time stand in two columns"))
        self.apart.clicked.connect(self._ask_apart)
        self.apart.setVisible(state.column == "moment")
        self.none = BigButton(self.look, _("It is not in this file"))
        self.none.clicked.connect(self._leave_out)
        self.none.setVisible(state.column not in ("date", "time", "moment", "value"))
        for other in (self.together, self.apart, self.none):
            self.column.addWidget(other)
        self.column.addStretch(1)

    def title(self) -> str:
        return column_question(self.state.column)

    def _take(self) -> None:
        place = int(self.sender().property("place"))
        self.importing.change(self.draft.with_column(place, self.state.column))
        self.page.turn_to("import_columns")

    def _leave_out(self) -> None:
        place = self.draft.place(self.state.column)
        if place is not None:
            self.importing.change(self.draft.with_column(place, ""))
        self.page.turn_to("import_columns")

    def _ask_together(self) -> None:
        self.state.column = "moment"
        self.page.turn_to("import_column")

    def _ask_apart(self) -> None:
        self.state.column = "date"
        self.page.turn_to("import_column")


class UnitView(FileView):
    """In which unit are the numbers? Asked where the file leaves a doubt."""

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        draft, doubt = self.draft, self.draft.unit_doubt
        place = draft.place("value")
        cells = [] if place is None else examples(draft.look, place, 6)
        shown = example_text(cells)
        self.column.addWidget(Sentence(self.look, _("Numbers {examples}.").format(examples=shown)))
        if doubt is not None:
            why = unit_doubt_text(doubt.value, draft.evidence.said)
            self.column.addWidget(Sentence(self.look, why))
        self.choice = Choice(
            self.look,
            _("The unit of the numbers"),
            [(unit, unit_text(unit)) for unit in Unit],
            shows_label=False,
        )
        for button in self.choice.buttons.values():
            button.setMinimumHeight(self.look.theme.key)
        self.choice.choose(draft.unit_in_force)
        self.choice.chosen.connect(self._take)
        self.column.addWidget(self.choice)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("In which unit are the numbers?")

    def first_field(self) -> QWidget:
        return next(iter(self.choice.buttons.values()))

    def _take(self, unit: Unit) -> None:
        self.importing.change(replace(self.draft, unit=unit))
        go_on(self.page, self.state)


class OrderView(FileView):
    """Is 03/04 the 3rd of April or the 4th of March?"""

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        draft = self.draft
        column = "moment" if draft.place("moment") is not None else "date"
        place = draft.place(column)
        cells = [] if place is None else examples(draft.look, place, 4)
        shown = example_text(cells)
        self.column.addWidget(Sentence(self.look, _("Days {examples}.").format(examples=shown)))
        self.choice = Choice(
            self.look,
            _("What comes first?"),
            [(False, _("The month first")), (True, _("The day first"))],
            shows_label=False,
        )
        for button in self.choice.buttons.values():
            button.setMinimumHeight(self.look.theme.key)
        self.choice.chosen.connect(self._take)
        self.column.addWidget(self.choice)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What comes first in these days?")

    def first_field(self) -> QWidget:
        return next(iter(self.choice.buttons.values()))

    def _take(self, is_day_first: bool) -> None:
        self.importing.change(replace(self.draft, is_day_first=is_day_first))
        go_on(self.page, self.state)


class WordsView(FileView):
    """What the words in the columns of times and kinds mean; press one to say otherwise."""

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        draft = self.draft
        found = [(column, word) for column in ("slot", "kind") for word in draft.words(column)]
        # What is not known comes first.
        self.words = sorted(found, key=self._is_known)[:_MOST_WORDS]
        self.chosen: tuple[str, str] | None = None
        self.buttons = Columns(self.look, most=3, least_width=10)
        self.column.addWidget(self.buttons)
        self.meanings = Choice(
            self.look,
            _("What does it mean?"),
            [
                *((slot, slot_text(slot)) for slot in Slot),
                (Beside.NOTE, _("A note")),
                (Beside.LEFT_OUT, _("Leave these lines out")),
            ],
            columns=4,
            kind=ButtonKind.CHIP,
        )
        self.meanings.chosen.connect(self._take)
        self.meanings.hide()
        self.column.addWidget(self.meanings)
        self.column.addStretch(1)
        self._show()

    def title(self) -> str:
        return _("What do these words of the file mean?")

    def _is_known(self, named: tuple[str, str]) -> bool:
        return self.draft.is_known(*named)

    def _show(self) -> None:
        self.buttons.clear()
        for place, (column, word) in enumerate(self.words):
            button = SubjectButton(self.look, word, self._meaning_text(column, word))
            button.setProperty("place", place)
            button.clicked.connect(self._choose)
            self.buttons.add(button)
        self.page.update_head()

    def _meaning_text(self, column: str, word: str) -> str:
        meaning = self.draft.meaning(column, word)
        if isinstance(meaning, Slot):
            return slot_text(meaning)
        if meaning is Beside.NOTE:
            return _("goes into a note")
        return _("left out") if meaning is Beside.LEFT_OUT else _("a reading")

    def _choose(self) -> None:
        self.chosen = self.words[int(self.sender().property("place"))]
        column, word = self.chosen
        self.meanings.label.setText(_("What does “{word}” mean?").format(word=word))
        self.meanings.choose(self.draft.meaning(column, word))
        self.meanings.show()
        self.page.update_head()
        next(iter(self.meanings.buttons.values())).setFocus()

    def _take(self, meaning: Slot | Beside) -> None:
        if self.chosen is not None:
            self.importing.change(self.draft.with_meaning(self.chosen[1], meaning))
        self.meanings.hide()
        self._show()


class FormView(FileView):
    """How the file is written: its sheet, or its letters and what parts its columns."""

    def __init__(self, page: ViewPage, state: FileState) -> None:
        super().__init__(page, state)
        look = self.draft.look
        self.sheet = Choice(
            self.look, _("Which sheet holds the readings?"), [(one, one) for one in look.sheets]
        )
        self.delimiter = Choice(
            self.look,
            _("What stands between the columns?"),
            [
                ("comma", _("A comma")),
                ("semicolon", _("A semicolon")),
                ("tab", _("A tab")),
                ("pipe", _("An upright line")),
                ("space", _("A space")),
            ],
            columns=5,
        )
        self.encoding = Choice(
            self.look,
            _("Do letters look wrong? Try another way of reading them."),
            [
                ("utf-8", _("As most programs write them")),
                ("windows-1252", _("Western Europe")),
                ("windows-1250", _("Central Europe")),
                ("windows-1251", _("Cyrillic")),
                ("windows-1253", _("Greek")),
                ("windows-1254", _("Turkish")),
            ],
            columns=3,
        )
        for choice in (self.sheet, self.delimiter, self.encoding):
            self.column.addWidget(choice)
            choice.chosen.connect(self._take)
        self.sheet.choose(look.sheet)
        self.sheet.setVisible(len(look.sheets) > 1)
        self.delimiter.setVisible(look.form is not None)
        self.encoding.setVisible(look.form is not None)
        if look.form is not None:
            self.delimiter.choose(look.form.delimiter)
            self.encoding.choose(look.form.encoding.removesuffix("-sig"))
        self.column.addStretch(1)

    def title(self) -> str:
        return _("How is the file written?")

    def _take(self, _value: str) -> None:
        look = self.draft.look
        form = look.form
        try:
            again = look_at(
                look.path,
                sheet=self.sheet.value or "",
                delimiter="" if form is None else self.delimiter.value or form.delimiter,
                encoding="" if form is None else self.encoding.value or form.encoding,
            )
        except LogbookError as error:
            self.desk.say(import_problem_text(error))
            return
        self.importing.look_again(again)
        self.page.turn_to("import_columns")
