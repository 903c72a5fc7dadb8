"""The question about a corrected number before it is kept: is this what the meter showed?"""

from __future__ import annotations

from PySide6.QtCore import Signal

from logbook.domain.glucose import Glucose, Kind
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.ui.desk import Desk
from logbook.ui.entry.doubts import doubts_about_correction
from logbook.ui.entry.question_step import QuestionStep
from logbook.wording import _
from logbook.wording.numbers import glucose_text

_KEEP_IT = "keep"


class DoubtQuestion(QuestionStep):
    """`settled` carries the number that is meant; the page shows `question` as its title."""

    settled = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.hide()
        self.hide()
        self._glucose: Glucose | None = None
        self.answered.connect(self._take)

    @property
    def question(self) -> str:
        """What is asked now; empty for nothing."""
        return "" if self._glucose is None else self.title.text()

    def asks(self, reading: Reading, glucose: Glucose, at: Moment) -> bool:
        """Whether there is something to ask about this number; then it is shown."""
        if glucose.kind is Kind.READS_HIGH and glucose != reading.glucose:
            self._ask(
                glucose,
                _("Did the display show the letters HI?"),
                "HI",
                _("HI means: above what the meter can measure."),
                [(_KEEP_IT, _("Yes, save HI"))],
            )
            return True
        doubts = doubts_about_correction(self.desk, reading, glucose, at)
        if not doubts:
            return False
        doubt, shown = doubts[0], glucose_text(glucose)
        answers = [(_KEEP_IT, _("Yes, save {value}").format(value=shown))]
        if doubt.meant is not None:
            no = _("No, save {value}").format(value=glucose_text(doubt.meant))
            answers.append((doubt.meant.text, no))
        beside = "" if doubt.shown_beside is None else glucose_text(doubt.shown_beside)
        question = _("Is this what the meter showed?")
        self._ask(glucose, question, shown, doubt.why, answers, beside=beside)
        return True

    def close_question(self) -> None:
        """Ask no more; nothing was settled."""
        self._glucose = None
        self.hide()

    def _ask(
        self,
        glucose: Glucose,
        question: str,
        shown: str,
        why: str,
        answers: list[tuple[str, str]],
        *,
        beside: str = "",
    ) -> None:
        self._glucose = glucose
        self.ask(question, shown, why, answers, beside=beside)
        self.show()

    def _take(self, code: str) -> None:
        asked = self._glucose
        if asked is None:
            return
        self.close_question()
        self.settled.emit(asked if code == _KEEP_IT else Glucose.parse(code, asked.unit))
