"""The step that tells each notice in full, with its buttons, and who keeps it up to date."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from logbook.domain.low_course import LowCourse
from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.entry.copies_notice import copies_notices
from logbook.ui.entry.kit_notice import kit_notice
from logbook.ui.entry.notices import Answered, Notice, read_notices, settle_notice
from logbook.ui.entry.step import Step
from logbook.ui.entry.travel_notice import settle_travel, settles_travel, travel_notice
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.flow import Flow
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import clock_text


class NoticesStep(Step):
    """Each of them in full. `settled` after an answer was kept; it asks for what is left."""

    settled = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("What waits for you"))
        self._rows = QWidget()
        self._column = QVBoxLayout(self._rows)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(2 * GAP)
        self.column.addWidget(self._rows)
        self.column.addStretch(1)
        self.notices: tuple[Notice, ...] = ()

    def show_notices(self, notices: tuple[Notice, ...]) -> None:
        """Show these."""
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self.notices = notices
        said_before: set[tuple[str, ...]] = set()
        for place, notice in enumerate(notices):
            # The number of the provider once, not below every call.
            is_said = notice.details in said_before
            said_before.add(notice.details)
            shown = replace(notice, details=()) if is_said else notice
            row = NoticeRow(self.desk, shown, self._take)
            for button in row.buttons:
                button.setProperty("place", place)
            self._column.addWidget(row)

    def _take(self) -> None:
        sender = self.sender()
        notice = self.notices[int(sender.property("place"))]
        answered = Answered(str(sender.property("answered")))
        if settles_travel(answered):
            is_settled = settle_travel(self.desk, answered)
        else:
            is_settled = settle_notice(self.desk, notice, answered)
        if is_settled:
            self.settled.emit()


class NoticeRow(QFrame):
    """One notice: what, the details, and its buttons. `take` is a bound method of a QObject."""

    def __init__(self, desk: Desk, notice: Notice, take: object) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        if notice.text:
            column.addWidget(Words(desk.look, notice.text, "heading"))
        self.buttons: list[BigButton] = []
        row = Flow()
        details = Sentences(desk.look)
        if notice.asks_first:
            column.addLayout(row)
            column.addWidget(details)
        else:
            column.addWidget(details)
            column.addLayout(row)
        # Only now: said before it has its place, it would come up as a window of its own.
        details.say(notice.details)
        for answered, words in notice.choices:
            button = BigButton(desk.look, words, ButtonKind.OTHER)
            button.describe(notice.text or notice.short)
            button.setProperty("answered", answered.value)
            button.clicked.connect(take)
            row.addWidget(button)
            self.buttons.append(button)


class Notices(QObject):
    """The step and the button's words, kept up to date; `step_wanted` shows the step."""

    step_wanted = Signal(object)
    form_wanted = Signal()
    low_wanted = Signal()

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._course: LowCourse | None = None
        self.step = NoticesStep(desk)
        self.all: tuple[Notice, ...] = ()
        # The kit is read after a change only: its dates move with the day, not with the minute.
        self._of_kit: Notice | None = None
        self._kit_day = desk.today()
        self.step.settled.connect(self._settled)
        desk.damage_told.connect(self._look_again)

    def look_at_kit(self) -> None:
        """The log or the day changed: what of the kit waits now."""
        self._kit_day = self._desk.today()
        self._of_kit = kit_notice(self._desk, self._desk.now())

    def look(self, course: LowCourse | None) -> None:
        """Ask the log again."""
        self._course = course
        now = self._desk.now()
        self.all = (*read_notices(self._desk, course, now), *copies_notices(self._desk, now))
        if self._kit_day != self._desk.today():
            self.look_at_kit()
        travel = travel_notice(self._desk, self._desk.now())
        if travel is not None:
            self.all = (*self.all, travel)
        if self._of_kit is not None:
            self.all = (*self.all, self._of_kit)
        if self.step.isVisible() and self.step.notices != self.all:
            self.step.show_notices(self.all)  # answered or taken back elsewhere
        text = "" if not self.all else self.all[0].short
        if course is not None and course.due_at is not None:
            at = clock_text(Moment.at(course.due_at, self._desk.zone()))
            text = _("Your low: check again at {time}").format(time=at)
        elif len(self.all) > 1:
            text = _("{first} And {n} more.").format(
                first=text if text.endswith((".", "?")) else f"{text}.", n=len(self.all) - 1
            )
        self._desk.tell_waiting(text)

    def _look_again(self) -> None:
        self.look(self._course)

    def open(self) -> None:
        """Show what waits; an open low has a page of its own."""
        if self._course is not None and self._course.due_at is not None:
            self.low_wanted.emit()
            return
        self.look(self._course)
        self.step.show_notices(self.all)
        self.step_wanted.emit(self.step)

    def _settled(self) -> None:
        self.look_at_kit()
        self.look(self._course)
        self.step.show_notices(self.all)
        if not self.all:
            self.form_wanted.emit()
