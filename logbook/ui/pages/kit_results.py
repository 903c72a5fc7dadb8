"""A view of *Kit*: what the control tests of a meter showed, in a picture and in words."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.control_due import is_not_for_decisions, standing_of
from logbook.domain.kit.control_results import (
    ControlResult,
    doubts_of,
    position_of,
    range_of,
    result_of,
    vial_tested,
)
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import meter_used
from logbook.ui.pages.kit_strips import kit_of
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.chart_control import ControlChart, PlacedTest
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import moment_text, short_day_text
from logbook.wording.kit_control import (
    control_test_text,
    never_a_reading,
    next_step_text,
    stop_meter,
)
from logbook.wording.kit_terms import control_doubt_text, control_result_text
from logbook.wording.numbers import days_text

_LISTED = 12
_INTERVALS = (7, 14, 30)


class ControlResultsView(View):
    """The latest tests; one that was a slip can be crossed out; how often a test is asked for."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.told = Paragraph(self.look, role="heading")
        self.chart = ControlChart(self.look)
        self.column.addWidget(self.told)
        self.column.addWidget(self.chart)
        self.column.addWidget(
            Paragraph(self.look, _("Each mark shows where a test lies in the range on its pot."))
        )
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP)
        self.column.addLayout(self._list)
        self.interval = Choice(
            self.look,
            _("How often should a control test be asked for?"),
            [
                (0, _("Only with a reason")),
                *((days, _("Every {days}").format(days=days_text(days))) for days in _INTERVALS),
            ],
            columns=4,
        )
        self.interval.chosen.connect(self._keep_interval)
        self.column.addWidget(self.interval)
        self.column.addWidget(Paragraph(self.look, never_a_reading()))
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What did the control tests show?")

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            kit = self.desk.book.kit()
        except LogbookError as error:
            self.desk.told(error)
            return
        settings, meter_id = self.desk.book.settings, kit_of(self.page).meter_id
        is_out = is_not_for_decisions(meter_id, kit, settings)
        standing = standing_of(meter_id, kit, settings)
        self.told.say(stop_meter() if is_out else next_step_text(standing))
        tests = [
            test
            for test in kit.control_tests
            if test.counts and meter_used(test.meter_id, test.at.instant, kit.meters) == meter_id
        ]
        self._draw(tests, kit)
        clear_layout(self._list)
        for test in list(reversed(tests))[:_LISTED]:
            self._list.addWidget(self._row(test, kit))
        if not tests:
            self._list.addWidget(Paragraph(self.look, _("None are written down.")))
        self.interval.choose(settings.control_interval_days or 0)

    def _draw(self, tests: list[ControlTest], kit: KitData) -> None:
        starts_at = self.desk.book.settings.day_starts_at
        placed = [(test, position_of(test, kit)) for test in tests]
        shown = [
            PlacedTest(short_day_text(test.at.day(starts_at)), position)
            for test, position in placed
            if position is not None
        ]
        words = " ".join(self._words(test, kit) for test in tests[-_LISTED:])
        self.chart.show_tests(shown, words)
        self.chart.setVisible(bool(shown))

    def _words(self, test: ControlTest, kit: KitData) -> str:
        """One test: when, the number, the range, and what it means."""
        result = result_of(test, kit)
        parts = [
            _("{when}: {value}").format(
                when=moment_text(test.at, self.desk.now(), self.desk.book.settings.day_starts_at),
                value=control_test_text(
                    test, range_of(vial_tested(test, kit), test.level, test.glucose.unit)
                ),
            )
        ]
        if result is not ControlResult.NOT_KNOWN:
            parts.append(control_result_text(result) + ".")
        doubts = doubts_of(test, kit, self.desk.book.settings)
        return " ".join([*parts, *(control_doubt_text(doubt) + "." for doubt in doubts)])

    def _row(self, test: ControlTest, kit: KitData) -> QWidget:
        row = QWidget()
        line = QHBoxLayout(row)
        line.setContentsMargins(0, 0, 0, 0)
        line.setSpacing(2 * GAP)
        words = Paragraph(self.look, self._words(test, kit))
        button = BigButton(self.look, _("Cross out"))
        button.describe(words.text())
        button.setProperty("test", str(test.id))
        button.clicked.connect(self._cross_out)
        line.addWidget(button)
        line.addWidget(words, 1)
        return row

    def _cross_out(self) -> None:
        wanted, desk = UUID(str(self.sender().property("test"))), self.desk
        for test in desk.book.kit().control_tests:
            if test.id == wanted:
                crossed_out = replace(test, crossed_out_at=desk.now().instant)
                if desk.write(desk.book.replace, crossed_out) is not None:
                    desk.say(_("The control test is crossed out."))
                    self.setFocus()
                return

    def _keep_interval(self, days: int) -> None:
        book = self.desk.book
        changed = replace(book.settings, control_interval_days=days or None)
        if self.desk.write(book.save_settings, changed) is not None:
            self.desk.say(_("Kept."))
