"""Two numbers of one occasion that are far apart: which of them does the person believe?

Both are in the log already. The other one stays there, marked as not believed, outside every
figure; with "Both" nothing is marked.
"""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from logbook.domain.levels import LOW_BELOW
from logbook.domain.readings import Doubt, Reading
from logbook.domain.repeats import are_far_apart
from logbook.ui.desk import Desk
from logbook.ui.entry.question_step import QuestionStep
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.numbers import glucose_text

_BOTH = "both"


class Believing(QObject):
    """`asks` fills `step` where there is something to ask; `settled` tells what is believed.

    `settled` carries the reading to show and a message about the other one.
    """

    settled = Signal(object, str)

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._first: Reading | None = None
        self._again: Reading | None = None
        self.step = QuestionStep(desk, leads_back=False)
        self.step.answered.connect(self._take)

    def asks(self, first: Reading, again: Reading) -> bool:
        """Whether there is something to ask about these two; then the step is ready."""
        if not self._desk.book.has_records([first.id]):
            return False  # taken back meanwhile
        if not are_far_apart(first.glucose, again.glucose):
            return False
        self._first, self._again = first, again
        answers = [(str(one.id), _named(one)) for one in (first, again)]
        self.step.ask(
            _("Which number do you believe?"),
            "",
            _why(first),
            [*answers, (_BOTH, _("Both of them"))],
        )
        return True

    def is_open(self) -> bool:
        """Whether both numbers are still there to ask about."""
        if self._first is None or self._again is None:
            return False
        both = [self._first.id, self._again.id]
        return len(self._desk.book.has_records(both)) == len(both)

    def _take(self, code: str) -> None:
        first, again = self._first, self._again
        if first is None or again is None:
            return
        believed, other = (first, again) if code == str(first.id) else (again, first)
        message = ""
        if code != _BOTH:
            # Food on a finger makes a number too high, never too low.
            is_higher = other.glucose.order_steps > believed.glucose.order_steps
            doubt = Doubt.UNWASHED_FINGER if is_higher else Doubt.OTHER
            if self._desk.write(self._desk.book.doubt, other.id, doubt) is None:
                return
            message = _("{number} stays in the log, outside every figure.").format(
                number=glucose_text(other.glucose)
            )
        self._first = self._again = None
        self.settled.emit(believed, message)


def _why(first: Reading) -> str:
    if first.glucose.order_steps >= LOW_BELOW[first.glucose.unit]:
        return _(
            "They are far apart. Food on a finger can do this. The other one stays in the log."
        )
    return "{} {}".format(
        _("They are far apart. Sugar on a finger makes a number too high."),
        _("If you are not sure, believe the low one. The other one stays in the log."),
    )


def _named(reading: Reading) -> str:
    return _("{number}, at {time}").format(
        number=glucose_text(reading.glucose), time=clock_text(reading.at)
    )
