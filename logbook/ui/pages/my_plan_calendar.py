"""A view of *My plan*: the plan and its dates as a file that the calendar of a phone takes in."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from logbook.domain.kit.kit_data import KitData
from logbook.domain.moments import Moment
from logbook.domain.plan.calendar_days import PlanFacts
from logbook.domain.settings import LogSettings
from logbook.ui.pages.visit_out import SaveView
from logbook.ui.pages.visit_paper import ReportPaper
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import ViewPage
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.dates import day_text


class CalendarPaper(ReportPaper):
    """The calendar of the coming year, made like the report."""

    @property
    def name(self) -> str:
        return _("Checks calendar {day}").format(day=day_text(self._desk.today()))

    @property
    def making_text(self) -> str:
        return _("Making the calendar ...")

    def note_given_out(self) -> None:
        """Nothing waits for it."""

    def job(self) -> Callable[[Course], bytes]:
        book = self._desk.book
        return partial(_make, book.plan_facts(), book.kit(), book.settings, self._desk.now())


class CalendarView(SaveView):
    """Where the calendar is saved; a newer one replaces an older one on the phone."""

    back = "checks"
    ending = ".ics"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        words = _("Send the file to the phone and open it there. Make a new one after a change.")
        self.column.insertWidget(1, Paragraph(self.look, words))

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return CalendarPaper(page.desk, self)

    def title(self) -> str:
        return _("Where should the calendar be saved?")

    def name_text(self) -> str:
        return _("It will be called “{name}”, a calendar file.")


def _make(
    facts: PlanFacts, kit: KitData, settings: LogSettings, now: Moment, _course: Course
) -> bytes:
    from logbook.exchange.plan_calendar import calendar_of_year

    return calendar_of_year(facts, kit, settings, now)
