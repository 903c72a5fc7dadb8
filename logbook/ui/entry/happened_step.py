"""Something happened, no number is needed: a low that was felt, help, a fall, a failed strip."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from logbook.domain.happenings import StripFailure, What
from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.entry.circumstances import When
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.form_rows import Choice
from logbook.ui.theme import GAP
from logbook.wording import _, cautions
from logbook.wording.dates import clock_text, moment_text
from logbook.wording.terms import strip_failure_text, what_text

_MY_PLAN = "my_plan"


class HappenedStep(Step):
    """Tells `happened` (what, strip failure or None) and `when_chosen`; the page writes it down."""

    happened = Signal(object, object)
    when_chosen = Signal(object)
    ill_today = Signal()
    meal_begun = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("What happened?"))
        self._whats = QWidget()
        grid = EvenGrid(2)
        self._whats.setLayout(grid)
        for what in What:
            button = BigButton(desk.look, what_text(what), ButtonKind.TALL)
            button.setProperty("what", what.value)
            button.clicked.connect(self._take)
            grid.addWidget(button)
        self.ill = BigButton(desk.look, _("I am ill today"), ButtonKind.TALL)
        self.ill.clicked.connect(self.ill_today)
        grid.addWidget(self.ill)
        self.eating = BigButton(desk.look, _("I start eating now"), ButtonKind.TALL)
        self.eating.clicked.connect(self.meal_begun)
        grid.addWidget(self.eating)
        self.medicine = BigButton(desk.look, _("Medicine late, missed or other"), ButtonKind.TALL)
        self.medicine.clicked.connect(self._to_medicine)
        grid.addWidget(self.medicine)
        self._ways = QWidget()
        ways = EvenGrid(3)
        self._ways.setLayout(ways)
        for failure in StripFailure:
            button = BigButton(desk.look, strip_failure_text(failure), ButtonKind.TALL)
            button.setProperty("way", failure.value)
            button.clicked.connect(self._take_way)
            ways.addWidget(button)
        self.when = Choice(
            desk.look,
            _("When?"),
            [
                (When.NOW, _("Now")),
                (When.EARLIER_TODAY, _("Earlier today")),
                (When.YESTERDAY, _("Yesterday")),
                (When.ANOTHER_DAY, _("Another day")),
            ],
            columns=4,
        )
        self.when.chosen.connect(self.when_chosen)
        self.column.addWidget(self.when)
        self.column.addSpacing(GAP)
        self.column.addWidget(self._whats)
        self.column.addWidget(self._ways)
        self.column.addStretch(1)

    def ask(self, at: Moment | None, when: When) -> None:
        """Ask what happened; `at` is None for now."""
        now = self.desk.now()
        self.title.setText(_("What happened?"))
        self.when.buttons[When.NOW].setText(_("Now, {time}").format(time=clock_text(now)))
        self.when.choose(when)
        text = _("When?")
        if at is not None:
            starts_at = self.desk.book.settings.day_starts_at
            text = _("When? {moment}").format(moment=moment_text(at, now, starts_at))
        self.when.label.setText(text)
        self.medicine.setVisible(_MY_PLAN in self.desk.page_names)
        self.when.show()
        self._whats.show()
        self._ways.hide()

    def _to_medicine(self) -> None:
        self.left.emit()
        self.desk.go_to(f"{_MY_PLAN}/medicine_note")

    def _take(self) -> None:
        what = What(str(self.sender().property("what")))
        if what is not What.STRIP_FAILED:
            self.happened.emit(what, None)
            return
        self.title.setText(_("A strip failed. What did you do then?"))
        self.when.hide()
        self._whats.hide()
        self._ways.show()

    def _take_way(self) -> None:
        way = StripFailure(str(self.sender().property("way")))
        self.happened.emit(What.STRIP_FAILED, way)


def after_happening(what: What) -> str:
    """What to do after it."""
    match what:
        case What.NEEDED_HELP | What.AMBULANCE:
            return _("Call your provider today and tell them.")
        case What.CANNOT_EAT_OR_DRINK:
            return cautions.sick_day_call()
        case What.FALL:
            return _("Tell your provider. If you hit your head or something hurts, call today.")
        case _:
            return _("Nothing to do now.")
