"""Views of the page *Visit*: which days the report is about, on which paper, with what in it."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from logbook.book import Changed
from logbook.domain.moments import Period
from logbook.report.options import Paper, Print
from logbook.ui.pages.visit_paper import ReportPaper, Span, last_visit, with_span
from logbook.ui.parts.day_field import DayField, days_problems
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.dates import period_text
from logbook.wording.typed_days import Toward

if TYPE_CHECKING:
    from logbook.ui.pages.visit import Visit


def paper_of(page: ViewPage) -> ReportPaper:
    """The report of the page *Visit*."""
    visit: Visit = page  # type: ignore[assignment]
    return visit.paper


class ChoicesView(View):
    """Everything that can be chosen, each by one press; it holds at once."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.paper = paper_of(page)
        rows = Form(self.look)
        self.span = rows.add_choice(_("Which days?"), self._spans(), columns=3)
        self.span.chosen.connect(self._choose_span)
        self.days = rows.add_words("")
        self.sheet = self._choice(
            rows, _("Paper"), ((Paper.LETTER, _("Letter")), (Paper.A4, _("A4")))
        )
        self.print = self._choice(
            rows,
            _("Print"),
            (
                (Print.STANDARD, _("Standard print, for your provider")),
                (Print.LARGE, _("Large print, for you")),
            ),
        )
        self.grid = self._choice(
            rows,
            _("Day by day: how many of the last days?"),
            ((14, _("14 days")), (28, _("28 days")), (0, _("All days"))),
            columns=3,
        )
        self.appendix = self._choice(
            rows,
            _("Pages about method and fingers at the end?"),
            ((False, _("No")), (True, _("Yes"))),
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What should the report hold?")

    def main_text(self) -> str:
        return _("See the report")

    def do_main(self) -> None:
        self.page.turn_to("preview")

    def refresh(self, changed: Changed | None) -> None:
        choices, options = self.paper.choices, self.paper.options
        self.span.choose(self.paper.span)
        self.days.say(period_text(self.paper.period, with_days=True))
        self.sheet.choose(options.paper)
        self.print.choose(choices.print)
        self.grid.choose(choices.grid_days or 0)
        self.appendix.choose(choices.appendix)

    def _spans(self) -> list[tuple[Span, str]]:
        spans = [
            (Span.DAYS_14, _("2 weeks")),
            (Span.DAYS_30, _("30 days")),
            (Span.DAYS_90, _("90 days")),
            (Span.DATES, _("Other days")),
        ]
        last = last_visit(self.desk.book, self.desk.today())
        if last is not None:
            spans.insert(0, (Span.SINCE_VISIT, _("Since the last visit")))
        return spans

    def _choice(
        self, rows: Form, label: str, options: tuple[tuple[Any, str], ...], columns: int = 2
    ) -> Choice:
        choice = rows.add_choice(label, options, columns=columns)
        choice.chosen.connect(self._choose)
        return choice

    def _choose_span(self, span: Span) -> None:
        if span is Span.DATES:
            self.page.turn_to("dates")
            return
        self.paper.choose(with_span(self.paper.choices, span))
        self.refresh(None)

    def _choose(self) -> None:
        self.paper.choose(
            replace(
                self.paper.choices,
                print=self.print.value,
                grid_days=self.grid.value or None,
                appendix=self.appendix.value,
            )
        )
        if self.sheet.value is not self.paper.options.paper:
            self.desk.prefer(paper=self.sheet.value.value)
            self.paper.spoil()


class DatesView(View):
    """Any first and last day."""

    back = "choices"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.paper = paper_of(page)
        today, period = self.desk.today(), self.paper.period
        rows = Form(self.look)
        self.first = DayField(
            self.look, _("First day"), today, value=period.first, toward=Toward.PAST
        )
        self.last = DayField(self.look, _("Last day"), today, value=period.last, toward=Toward.PAST)
        rows.add_widget(self.first)
        rows.add_widget(self.last)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("From which day to which day?")

    def main_text(self) -> str:
        return _("Take these days")

    def first_field(self) -> DayField:
        return self.first

    def do_main(self) -> None:
        problems = days_problems(self.first, self.last)
        if not self.show_problems((self.first, self.last), problems):
            return
        first, last = self.first.day(), self.last.day()
        assert first is not None
        assert last is not None
        self.paper.choose(with_span(self.paper.choices, Span.DATES, Period(first, last)))
        self.page.turn_to("choices")
