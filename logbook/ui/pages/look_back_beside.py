"""Views of *Look back*: the log beside a laboratory's A1C, and beside the meter's own average.

Both numbers are typed in as they are printed or shown. What can be said of them is the domain's
(`a1c_comparison`, `meter_average`); neither ever proves the other wrong.
"""

from __future__ import annotations

from uuid import uuid4

from logbook.book import Book, Changed
from logbook.domain.a1c_comparison import a1c_beside_log, days_before
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.laboratory import A1CUnit, LabA1C, parse_a1c
from logbook.domain.meter_average import LogAndMeter, compare_with_meter
from logbook.domain.summary import summarise
from logbook.domain.visit_review import days_of_average, of_other_meters
from logbook.ui.entry.saving import meter_in_use
from logbook.ui.pages.look_back_ways import SaidLines
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.completeness import (
    both_counts,
    completeness_phrase,
    could_explain_text,
    proves_nothing,
    verdict_sentences,
)
from logbook.wording.dates import short_day_text
from logbook.wording.laboratory import (
    a1c_steps_text,
    a1c_unit_text,
    both_numbers,
    limits_of_both,
    what_it_means,
)
from logbook.wording.numbers import days_text, unit_text
from logbook.wording.problems import problem_text
from logbook.wording.typed_days import Toward

_SPANS = (7, 14, 30)
_MOST_READINGS = 9_999


def latest_a1c(book: Book) -> LabA1C | None:
    """The A1C that was drawn last; None where none is on record."""
    known = (one for one in book.a1cs() if one.counts)
    return max(known, key=lambda one: (one.drawn_on, one.written_at), default=None)


def a1c_state(book: Book) -> str:
    """The latest A1C, for the button that leads here."""
    latest = latest_a1c(book)
    if latest is None:
        return _("none written down")
    return _("{value} on {day}").format(
        value=a1c_steps_text(latest.steps, latest.unit),
        day=short_day_text(latest.drawn_on, with_year=True),
    )


def a1c_lines(book: Book) -> list[str]:
    """The latest laboratory A1C beside the log; empty where there is none."""
    latest = latest_a1c(book)
    if latest is None:
        return []
    days, settings = days_before(latest), book.settings
    summary = summarise(
        book.series(days), days, settings, book.targets(), book.happenings(days), book.answers()
    )
    beside = a1c_beside_log(latest, summary, book.ticks())
    return [*both_numbers(beside), *what_it_means(beside), *limits_of_both()]


def compared_average(book: Book) -> LogAndMeter | None:
    """The latest average read off a meter beside the log; None where there is none."""
    known = (one for one in book.meter_averages() if one.counts)
    latest = max(known, key=lambda one: one.at.instant, default=None)
    if latest is None:
        return None
    days = days_of_average(latest)
    others = of_other_meters(latest, book.readings(days), book.meters())
    return compare_with_meter(latest, book.series(days), others)


def average_state(book: Book) -> str:
    """What the last comparison said, for the button that leads here."""
    compared = compared_average(book)
    if compared is None:
        return _("not compared yet")
    return _("{day}: {verdict}").format(
        day=short_day_text(compared.average.at.wall.date()),
        verdict=completeness_phrase(compared.verdict),
    )


def average_lines(book: Book) -> list[str]:
    """The latest average beside the log in words; empty where there is none."""
    compared = compared_average(book)
    if compared is None:
        return []
    lines = [*both_counts(compared), *verdict_sentences(compared)]
    if compared.explanations:
        lines.append(
            " ".join((_("What can explain it:"), *map(could_explain_text, compared.explanations)))
        )
    return [*lines, proves_nothing()]


class _BesideView(View):
    """What is known above, the rows for a new one below."""

    back = "main"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.setSpacing(GAP)
        self._known = SaidLines(self.look)
        self.column.addWidget(self._known)
        self.rows = Form(self.look)
        self.column.addWidget(self.rows)
        self.column.addStretch(1)

    def lines(self) -> list[str]:
        """What is known already."""
        raise NotImplementedError

    def refresh(self, changed: Changed | None) -> None:
        self._known.say(self.lines())


class A1CView(_BesideView):
    """The laboratory's value as it is printed."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.unit: Choice = self.rows.add_choice(
            _("Unit of the laboratory"),
            [(unit, a1c_unit_text(unit)) for unit in A1CUnit],
            A1CUnit.PERCENT,
        )
        self.value: TextField = self.rows.add_text(_("A1C"))
        today = self.desk.today()
        self.day = DayField(
            self.look, _("Day of the blood sample"), today, value=today, toward=Toward.PAST
        )
        self.rows.add_widget(self.day)

    def title(self) -> str:
        return _("What did the laboratory find?")

    def main_text(self) -> str:
        return _("Keep this A1C")

    @property
    def is_changed(self) -> bool:
        return bool(self.value.text().strip())

    def lines(self) -> list[str]:
        return a1c_lines(self.desk.book)

    def do_main(self) -> None:
        desk, unit = self.desk, self.unit.value or A1CUnit.PERCENT
        problems: list[tuple[TextField | DayField, str]] = []
        steps = None
        try:
            steps = parse_a1c(self.value.text(), unit)
        except LogbookError as error:
            problems.append((self.value, problem_text(error)))
        if problem := self.day.problem():
            problems.append((self.day, problem))
        day = self.day.day()
        if not self.show_problems((self.value, self.day), problems) or steps is None:
            return
        assert day is not None
        a1c = LabA1C(uuid4(), day, steps, unit, desk.now().instant)
        if desk.write(desk.book.add, a1c) is not None:
            self.value.clear()
            self.desk.say(_("The A1C is written down."))
            self.page.update_head()


class AverageView(_BesideView):
    """The meter's own average and count, from its memory."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        unit = unit_text(self.desk.book.settings.unit)
        self.days: Choice = self.rows.add_choice(
            _("Over how many days?"), [(days, days_text(days)) for days in _SPANS], 14, columns=3
        )
        self.average: TextField = self.rows.add_text(_("The meter's average"), unit=unit)
        self.count: TextField = self.rows.add_text(
            _("From how many readings?"), help_text=_("If the meter tells it. It can be left out.")
        )

    def title(self) -> str:
        return _("What does the meter's memory say?")

    def main_text(self) -> str:
        return _("Compare")

    @property
    def is_changed(self) -> bool:
        return bool(self.average.text().strip())

    def lines(self) -> list[str]:
        return average_lines(self.desk.book)

    def do_main(self) -> None:
        desk, problems = self.desk, []
        glucose, count, text = None, None, self.count.text().strip()
        try:
            glucose = Glucose.parse(self.average.text(), desk.book.settings.unit)
        except LogbookError as error:
            problems.append((self.average, problem_text(error)))
        if text:
            if text.isascii() and text.isdigit() and int(text) <= _MOST_READINGS:
                count = int(text)
            else:
                problems.append((self.count, _("Write how many readings, as a whole number.")))
        if not self.show_problems((self.average, self.count), problems) or glucose is None:
            return
        now, meter = desk.now(), meter_in_use(desk.book, desk.now())
        average = MeterAverage(
            uuid4(),
            None if meter is None else meter.id,
            now,
            now.instant,
            self.days.value or 14,
            glucose,
            count,
        )
        if desk.write(desk.book.add, average) is not None:
            self.average.clear()
            self.count.clear()
            self.desk.say(_("The meter's average is written down."))
            self.page.update_head()
