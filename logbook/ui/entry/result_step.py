"""What was saved: the number huge, where it stands in word and shape, and one next step."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.domain.answers import Asked, Said
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.sites import SiteUse
from logbook.domain.states import State
from logbook.ui.desk import Desk
from logbook.ui.entry.next_step import NextStep
from logbook.ui.entry.notices import Answered, Notice
from logbook.ui.entry.notices_step import NoticeRow
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.marks import StateMark
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.texts import Words
from logbook.ui.theme import BODY, GAP, ROW_FROM_PERCENT
from logbook.wording import _
from logbook.wording.dates import minutes_after_text, moment_text
from logbook.wording.numbers import glucose_text
from logbook.wording.sites import site_text
from logbook.wording.terms import asked_text, said_text, slot_text


class ResultStep(Step):
    """After Save. `another_wanted` leads on; `again_wanted` begins the same check once more."""

    another_wanted = Signal()
    again_wanted = Signal()
    unwell_told = Signal()
    felt_answered = Signal(object)
    more_wanted = Signal()
    call_answered = Signal(object, object)
    set_up_wanted = Signal()
    set_up_put_off = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        look = desk.look
        self.reading: Reading | None = None
        self._notice: Notice | None = None
        self.shown_at: Moment | None = None
        self.number = Words(look, role="number")
        self.column.addWidget(self.number)
        self.mark = StateMark(look, BODY + 6)
        self.state = Words(look, role="title")
        row = QHBoxLayout()
        row.setSpacing(GAP + 4)
        row.addWidget(self.mark)
        row.addWidget(self.state, 100)
        row.addStretch(1)
        self.column.addLayout(row)
        self.against = Words(look)
        self.own_plan = Words(look, role="heading")
        self.to_do = Words(look, role="heading")
        self.cautions = Sentences(look)
        self.strip = Words(look)
        self.next_check = Words(look)
        self.details = Words(look, role="quiet")
        for words in (self.against, self.own_plan, self.to_do, self.cautions):
            self.column.addWidget(words)
        self.again = BigButton(look, _("I tested again"), ButtonKind.TALL)
        self.again.clicked.connect(self.again_wanted)
        beside = QHBoxLayout()
        beside.addWidget(self.again)
        beside.addStretch(1)
        self.column.addLayout(beside)
        self._add_after_low()
        self._add_below()
        look.changed.connect(self._show_number)

    def _add_after_low(self) -> None:
        look = self.desk.look
        self.felt = Choice(
            look,
            asked_text(Asked.FELT_LOW_COMING),
            [(said, said_text(said)) for said in (Said.YES, Said.NO, Said.NOT_SURE)],
            columns=3,
        )
        self.felt.chosen.connect(self.felt_answered)
        self.column.addWidget(self.felt)
        self.tell_more = BigButton(look, _("Tell more about this low"), ButtonKind.OTHER)
        self.tell_more.describe(_("What you felt, and what was different"))
        self.tell_more.clicked.connect(self.more_wanted)
        more = QHBoxLayout()
        more.addWidget(self.tell_more)
        more.addStretch(1)
        self.column.addLayout(more)

    def _add_below(self) -> None:
        look = self.desk.look
        self._call = QWidget()
        self._calls = QVBoxLayout(self._call)
        self._calls.setContentsMargins(0, 0, 0, 0)
        self.column.addWidget(self._call)
        self.column.addWidget(self.strip)
        self.column.addWidget(self.next_check)
        self.unwell = BigButton(look, _("I feel unwell"), ButtonKind.OTHER)
        self.unwell.describe(_("Says what to do when you feel unwell with this number"))
        self.unwell.clicked.connect(self.unwell_told)
        row = QHBoxLayout()
        row.addWidget(self.unwell)
        row.addStretch(1)
        self.column.addLayout(row)
        self.column.addWidget(self.details)
        self._offer = QWidget()
        offer = QVBoxLayout(self._offer)
        offer.setContentsMargins(0, GAP, 0, 0)
        self.offer_words = Words(look)
        offer.addWidget(self.offer_words)
        buttons = QHBoxLayout()
        buttons.setSpacing(GAP)
        self.offer_now = BigButton(look, _("Answer now"), ButtonKind.OTHER)
        self.offer_later = BigButton(look, _("Later"), ButtonKind.OTHER)
        self.offer_now.clicked.connect(self.set_up_wanted)
        self.offer_later.clicked.connect(self.set_up_put_off)
        for button in (self.offer_now, self.offer_later):
            buttons.addWidget(button)
        buttons.addStretch(1)
        offer.addLayout(buttons)
        self.column.addWidget(self._offer)
        self.column.addStretch(1)

    def back_text(self) -> str:
        return ""

    def main_text(self) -> str:
        return _("Write down another")

    def main(self) -> None:
        self.another_wanted.emit()

    def show_reading(
        self, reading: Reading, words: NextStep, *, next_check: str, now: Moment, strip: str = ""
    ) -> None:
        """Show a reading that was just saved; `strip` is what must be said of its strip."""
        self.reading, self.shown_at = reading, now
        self._show_number()
        self.mark.show_state(words.state)
        self.state.say(words.state_words)
        self.against.say(words.against)
        self.own_plan.say(words.own_plan)
        self.to_do.say(words.to_do)
        self.cautions.say(words.cautions)
        self.again.setVisible(words.tests_again)
        self.unwell.setVisible(words.asks_unwell)
        self._show_after_low(is_shown=False)
        self.show_call(None)
        self.strip.say(strip)
        self.next_check.say(next_check)
        self.details.say(_details(reading, now, self.desk.book.settings.day_starts_at))
        self.offer_set_up("")

    def _show_number(self) -> None:
        """Huge, but in large text in the title, so that the next step is in sight below it."""
        text = "" if self.reading is None else glucose_text(self.reading.glucose)
        is_large = self.desk.look.theme.percent >= ROW_FROM_PERCENT
        self.number.say("" if is_large else text)
        if text:
            self.title.setText(_("Saved: {number}").format(number=text) if is_large else _("Saved"))

    def show_recovery(self, words: Sequence[str], *, is_measured: bool) -> None:
        """The low is over: what to do now, and the one question about it.

        More can be told of a low that has a reading, `is_measured`.
        """
        self.against.say(_("The low is over."))
        self.to_do.say("\n".join(words))
        self.cautions.say(())
        self.unwell.hide()
        self._show_after_low(is_shown=True)
        self.tell_more.setVisible(is_measured)

    def show_call(self, notice: Notice | None) -> None:
        """Whom to call because of what was just saved; None for nobody."""
        while (item := self._calls.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._notice = notice
        if notice is not None:
            self._calls.addWidget(NoticeRow(self.desk, notice, self._tell_call))
        self._call.setVisible(notice is not None)

    def _tell_call(self) -> None:
        if self._notice is not None:
            self.call_answered.emit(self._notice, Answered(self.sender().property("answered")))

    def _show_after_low(self, *, is_shown: bool) -> None:
        self.felt.choose(None)
        self.felt.setVisible(is_shown)
        self.tell_more.setVisible(is_shown)

    def show_happening(self, words: str, to_do: str, now: Moment, more: Sequence[str] = ()) -> None:
        """Show something that happened without a number."""
        self.reading, self.shown_at = None, now
        self.title.setText(_("Saved: {what}.").format(what=words))
        self._show_number()
        self.mark.show_state(State.NOT_JUDGED)
        for other in (self.state, self.against, self.own_plan, self.strip, self.next_check):
            other.say("")
        self.details.say("")
        self.to_do.say(to_do)
        self.cautions.say(more)
        self.again.hide()
        self.unwell.hide()
        self._show_after_low(is_shown=False)
        self.show_call(None)
        self.offer_set_up("")

    def offer_set_up(self, question: str) -> None:
        """Offer the next thing of the short list; empty for nothing."""
        self.offer_words.say(question)
        self._offer.setVisible(bool(question))


def _details(reading: Reading, now: Moment, day_starts_at: time) -> str:
    parts = [slot_text(reading.slot)]
    if reading.minutes_after is not None:
        parts[0] = f"{parts[0]} ({minutes_after_text(reading.minutes_after)})"
    parts.append(moment_text(reading.at, now, day_starts_at))
    if reading.site is not None and reading.site_use is SiteUse.USED:
        parts.append(site_text(reading.site))
    elif reading.site is not None:
        parts.append(_("{site} (suggested)").format(site=site_text(reading.site)))
    return " · ".join(parts)
