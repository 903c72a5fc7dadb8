"""Write down: the page that opens. It says which step is shown and writes what was decided.

The steps themselves are in `ui.entry`; what follows Save is told by `entry.outcome`.
"""

from __future__ import annotations

from datetime import timedelta

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.glucose import Kind
from logbook.domain.happenings import StripFailure, What
from logbook.domain.moments import Moment
from logbook.domain.slots import Purpose
from logbook.ui.desk import Desk
from logbook.ui.entry.around import Around
from logbook.ui.entry.filling import Filling
from logbook.ui.entry.first_start import FirstStart
from logbook.ui.entry.happening import HappeningEntry
from logbook.ui.entry.low_turns import LowTurns
from logbook.ui.entry.low_watch import LowWatch
from logbook.ui.entry.notices_step import Notices
from logbook.ui.entry.outcome import Outcome
from logbook.ui.entry.saver import Saver
from logbook.ui.entry.step import Step
from logbook.ui.page import MARGIN, Page
from logbook.ui.parts.marks import draw_drop
from logbook.ui.theme import GAP
from logbook.wording import _, cautions

# The result gives way to the form after this long, so that the page that opens is the form.
_RESULT_HOLDS = timedelta(minutes=10)


class WriteDown(Page):
    """The page; `step` is what it shows."""

    name = "write_down"
    sign = staticmethod(draw_drop)

    @staticmethod
    def label() -> str:
        return _("Write down")

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.filling = Filling(desk, self)
        self.low = LowWatch(desk)
        self.happening = HappeningEntry(desk, self.filling.when_step, self)
        self.saver = Saver(desk, self.filling, self.low, self)
        self.outcome = Outcome(desk, self.filling, self.low, self)
        self.notices = Notices(desk, self)
        self._is_writing = False
        self.turns = LowTurns(desk, self.low, self.filling, self.name, self)
        self.save_button = self.set_main_button(_("Save"), self._main)
        self.save_button.setMinimumWidth(300)
        self.back_button = self.add_action(_("Go back"), self._back)
        self.around = Around(desk, self)
        self.writer_button = self.add_action("", self.around.ask_writer)
        self.writer_button.describe(_("Who is writing?"))
        self._make_steps()
        self._connect_steps()
        if self.filling.restore():
            desk.say(_still_here())
        desk.news.changed.connect(self._hear)

    def lay_out(self) -> None:
        """No title above: each step has its own, where it leaves room."""
        self.title.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, GAP // 2, 0, 0)
        column.addWidget(self.scrolled)
        self.scrolled.form_height = self._form_height
        self.scrolled.room_told.connect(self._lay_form)
        self.body.setContentsMargins(MARGIN, 0, MARGIN, 0)

    def _form_height(self, width: int) -> int | None:
        """The form lies in as many columns as fit; None for the steps, which lie in one."""
        if self.step is not self.form:
            return None
        room, above = width - 2 * MARGIN, 0
        if self.long_message.isVisibleTo(self):
            above = self.long_message.heightForWidth(room) + self.body.spacing()
        return above + self.form.height_at(room)

    def _lay_form(self, width: int) -> None:
        self.form.lie_in(width - 2 * MARGIN)

    def _make_steps(self) -> None:
        desk, filling = self.desk, self.filling
        self.form = filling.form
        self.question_step, self.happened_step = self.saver.question_step, self.happening.step
        self.result_step, self.low_step = self.outcome.result_step, self.outcome.low_step
        self.first_start = FirstStart(desk)
        self.step: QWidget = self.form
        self._steps: tuple[Step, ...] = (
            filling.finger_step,
            filling.side_step,
            filling.when_step,
            filling.more_step,
            *self.happening.steps,
            self.question_step,
            self.outcome.believing.step,
            self.result_step,
            self.low_step,
            *self.outcome.low_more.steps,
            self.notices.step,
            *self.around.steps,
            self.first_start,
        )
        for widget in (self.form, *self._steps):
            self.body.addWidget(widget)
            widget.setVisible(widget is self.form)

    def _connect_steps(self) -> None:
        for step in self._steps:
            if step not in self.outcome.low_more.steps:
                step.left.connect(self._leave_step)
            step.main_changed.connect(self._name_actions)
        filling = self.filling
        filling.step_wanted.connect(self._show)
        filling.number_changed.connect(self._name_actions)
        filling.circumstances_changed.connect(self._show_chips)
        filling.when_step.moment_chosen.connect(self._take_moment)
        for touched in (self.form.keypad.typed, self.form.keypad.taken_back):
            touched.connect(self.low.attend)
        self.form.keypad.lo.clicked.connect(self.saver.press_lo)
        self.form.keypad.hi.clicked.connect(self.saver.press_hi)
        self.saver.step_wanted.connect(self._show)
        self.saver.saved.connect(self.outcome.show_saved)
        self.outcome.step_wanted.connect(self._show)
        self.outcome.form_wanted.connect(self._begin)
        self.form.fingers.something_happened.connect(self._want_happening)
        self.happening.told.connect(self._write_happening)
        self.happening.step_wanted.connect(self._show)
        self.result_step.another_wanted.connect(self._begin)
        self.low_step.another_wanted.connect(self.turns.put_aside)
        self.turns.low_wanted.connect(self.outcome.show_low)
        self.low_step.something_happened.connect(self._want_happening)
        self.happened_step.ill_today.connect(self._begin_illness)
        self.happened_step.meal_begun.connect(self._begin_meal)
        self.notices.step_wanted.connect(self._show)
        self.around.step_wanted.connect(self._show)
        self.notices.form_wanted.connect(self._show_what_is_due)
        self.notices.low_wanted.connect(self.turns.come_back)
        self.first_start.finished.connect(self._show_what_is_due)

    # --- what is shown ----------------------------------------------------------------------------

    def refresh(self, changed: Changed | None) -> None:
        self.low.look()
        self.notices.look_at_kit()
        self.notices.look(self.low.course)
        self.filling.forget_news()
        if self.saver.is_writing or self._is_writing:
            return
        # Where nothing can be written, no answer could be kept.
        if not self.desk.book.settings.country and self.desk.only_read_because is None:
            self._show(self.first_start)
        elif self._rests() or (changed is None and self.step is not self.result_step):
            self._show_what_is_due()
        elif self.step is self.result_step:
            self.outcome.refresh_result()

    def _rests(self) -> bool:
        """Whether what is shown may give way: no question is open, no shown reading still there."""
        if self.step is self.result_step:
            shown = self.result_step.reading
            return shown is not None and not self.desk.book.has_records([shown.id])
        if self.step is self.outcome.believing.step:
            return not self.outcome.believing.is_open()
        return self.step in (self.form, self.low_step, self.first_start)

    def _hear(self) -> None:
        if self.isVisible():
            return
        self.turns.look_from_elsewhere()
        self.notices.look_at_kit()
        self.notices.look(self.low.course)

    def shown(self) -> None:
        self._let_result_go()

    def open_part(self, part: str) -> None:
        if part == "waiting":
            self.notices.open()
        else:
            self.around.open(part)

    def beat(self, now: Moment) -> None:
        if isinstance(self.step, Step):
            self.step.beat(now)
        else:
            self.filling.show_circumstances(now)
        self._let_result_go()

    def watch(self, now: Moment) -> None:
        self.turns.watch(now)
        self._fill_screen()
        self.notices.look(self.low.course)
        if self.step is self.low_step:
            self.outcome.refresh_low(now)

    def _fill_screen(self) -> None:
        self.turns.fill_screen(is_shown=self.isVisible() and self.step is self.low_step)

    def words_before_closing(self) -> str:
        if self.low.due is None or self.low.ring.can_ring:
            return ""
        return cautions.cannot_ring()

    def words_before_leaving(self) -> str:
        return "" if self.low.due is None else _("A check after a low is still to come here.")

    def keep_typed(self) -> None:
        self.filling.file.keep_now()

    def _show_what_is_due(self) -> None:
        if self.turns.is_low_first():
            self.outcome.show_low()
        else:
            self.filling.show()

    def _show(self, step: QWidget) -> None:
        if step is not self.step:
            # Else the focus would go on by itself, perhaps to Save.
            self.setFocus(Qt.FocusReason.OtherFocusReason)
            self.step.hide()
            self.step = step
            step.show()
            self.scrolled.to_top()
            self._fill_screen()
        self._name_actions()

    def _name_actions(self) -> None:
        text, back = _("Save"), ""
        writing = self.around.writing_text() if self.step is self.form else ""
        if isinstance(self.step, Step):
            text, back = self.step.main_text(), self.step.back_text()
        elif not self.filling.draft.is_empty:
            text = self.around.save_text(self.filling.number_text())
        named = (self.save_button, text), (self.back_button, back), (self.writer_button, writing)
        for button, words in named:
            button.setVisible(bool(words))
            button.setText(words)

    def _show_chips(self) -> None:
        self.scrolled.settle()
        self.scrolled.show_part(self.form.circumstances.chips())

    def _let_result_go(self) -> None:
        at = self.result_step.shown_at
        if self.step is not self.result_step or at is None:
            return
        if self.desk.now().instant - at.instant > _RESULT_HOLDS:
            self._begin()

    # --- keys and actions -------------------------------------------------------------------------

    def typed(self, event: QKeyEvent) -> bool:
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            if self.save_button.isVisible():
                # The same Enter must not bounce onto the button it leads to.
                self.desk.look.presses.admits(event.timestamp())
                self.save_button.setFocus(Qt.FocusReason.TabFocusReason)
            return True
        if event.key() == Qt.Key.Key_Escape:
            self._back()
            return True
        if self.step is self.result_step and event.text().isdigit():
            self._begin()
        if self.step is not self.form or not self.filling.take_key(event):
            return False
        self.low.attend()
        return True

    def _main(self) -> None:
        if isinstance(self.step, Step):
            self.step.main()
        else:
            self.saver.save()

    def _back(self) -> None:
        if isinstance(self.step, Step) and self.step.back_text():
            self.step.back()

    def _leave_step(self) -> None:
        self.desk.say("")
        filling = self.filling
        if self.happening.is_asked and self.step is filling.when_step:
            self.happening.ask_again()
            return
        if self.step in (self.happening.finger_step, self.happening.side_step):
            self.happening.go_back(self.step)
            return
        self.happening.leave()
        if self.step is self.question_step and filling.draft.kind is not Kind.NUMBER:
            filling.clear()
        if self.step is filling.side_step:
            self._show(filling.finger_step)
        elif self.step is self.happened_step:
            self._show_what_is_due()
        else:
            filling.show()

    def _begin(self) -> None:
        self.filling.begin(Purpose.PLANNED)
        self.desk.say("" if self.filling.draft.is_empty else _still_here())
        self._show_what_is_due()

    # --- without a number -------------------------------------------------------------------------

    def _want_happening(self) -> None:
        self.low.attend()
        if self.step is self.form and self.filling.purpose is Purpose.RECHECK:
            self.filling.leave_recheck()
            self.outcome.show_low()
        else:
            self.happening.ask()

    def _begin_illness(self) -> None:
        self._is_writing = True
        self.happening.leave()
        self.outcome.begin_illness()
        self._is_writing = False

    def _begin_meal(self) -> None:
        self.happening.leave()
        self._show_what_is_due()
        self.filling.plan_ways.begin_likely_meal()

    def _take_moment(self, at: Moment) -> None:
        if self.happening.is_asked:
            self.happening.ask(at)
        else:
            self.filling.take_moment(at)

    def _write_happening(self, what: What, failure: StripFailure | None) -> None:
        self._is_writing = True
        is_kept = self.happening.write(what, failure, self.low.due)
        self._is_writing = False
        if is_kept:
            self.outcome.show_happened(what, failure)


def _still_here() -> str:
    return _("What you typed before is still here. It is not saved yet.")
