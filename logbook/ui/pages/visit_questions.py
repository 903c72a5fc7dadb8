"""A view of the page *Visit*: questions for the provider, collected whenever they come to mind."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.visits import Question
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.form_rows import NoteField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import relative_day_text

_DONE_SHOWN = 5


class QuestionsView(View):
    """The field for a new one above, the open ones below it, then those that were asked."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.text = rows.add_note(_("New question"), lines=2)
        self.column.addWidget(rows)
        self._open = _list_in(self.column)
        self._done = _list_in(self.column)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What do you want to ask?")

    def main_text(self) -> str:
        return _("Add question")

    @property
    def is_changed(self) -> bool:
        return bool(self.text.toPlainText().strip())

    def first_field(self) -> NoteField:
        return self.text

    def do_main(self) -> None:
        text = self.text.toPlainText().strip()
        if not text:
            self.desk.say(_("There is no question yet. Type it above, then add it."))
            self.text.setFocus()
            return
        question = Question(uuid4(), text, self.desk.now().instant)
        if self.desk.write(self.desk.book.add, question) is not None:
            self.text.clear()
            self.desk.say(_("Added: {question}").format(question=question.text))

    def refresh(self, changed: Changed | None) -> None:
        questions = self.desk.book.questions(open_only=False)
        waiting = [one for one in questions if one.done_on is None]
        done = [one for one in questions if one.done_on is not None]
        done.sort(key=lambda one: (one.done_on, one.written_at), reverse=True)
        self._fill(self._open, _("To ask ({n})").format(n=len(waiting)), waiting)
        self._fill(self._done, _("Asked, or put aside"), done[:_DONE_SHOWN])

    def _fill(self, column: QVBoxLayout, heading: str, questions: list[Question]) -> None:
        clear_layout(column)
        if questions:
            column.addWidget(Paragraph(self.look, heading, "heading"))
        for question in questions:
            column.addWidget(self._row(question))

    def _row(self, question: Question) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2 * GAP)
        button = BigButton(
            self.look, _("I asked this") if question.done_on is None else _("Bring back")
        )
        button.describe(question.text)
        button.setProperty("question", str(question.id))
        button.clicked.connect(self._turn_round)
        line.addWidget(button)
        text = question.text
        if question.done_on is not None:
            day = relative_day_text(question.done_on, self.desk.today())
            text = _("{question} (done {day})").format(question=text, day=day)
        line.addWidget(Paragraph(self.look, text), 1)
        return row

    def _turn_round(self) -> None:
        """Done, or back among those to ask."""
        wanted = UUID(str(self.sender().property("question")))
        for question in self.desk.book.questions(open_only=False):
            if question.id != wanted:
                continue
            is_done = question.done_on is None
            turned = replace(question, done_on=self.desk.today() if is_done else None)
            if self.desk.write(self.desk.book.replace, turned) is not None:
                words = _("Done: {question}") if is_done else _("To ask again: {question}")
                self.desk.say(words.format(question=question.text))
                self.setFocus()
            return


def _list_in(column: QVBoxLayout) -> QVBoxLayout:
    inner = QVBoxLayout()
    inner.setSpacing(GAP)
    column.addLayout(inner)
    return inner
