"""What repeats, in the window: the words of each finding, and exactly its readings."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from uuid import uuid4

from PySide6.QtWidgets import QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.findings import FindingKind
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.meter_care import MeterAverage
from logbook.domain.kit.meters import Meter
from logbook.domain.laboratory import A1CUnit
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.readings import Reading
from logbook.domain.slots import Slot
from logbook.domain.summary import summarise
from logbook.domain.targets import TargetKind
from logbook.domain.visit_review import VisitReview, review_of
from logbook.domain.visits import Appointment
from logbook.ui.pages.look_back import LookBack
from logbook.ui.pages.look_back_repeats import RepeatsView
from logbook.ui.pages.look_back_rows import ReadingRow
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.texts import Words
from logbook.wording.completeness import both_counts
from tests.ui.looking_window import target
from tests.ui.writing_window import ZONE, Writer, habit, settle, writing_window

PAGES = (WriteDown, LookBack)
LOWS = ((9, 62), (4, 58))  # days before the last of March, and mg/dL


def two_lows_before_lunch(book: Book) -> None:
    """Three weeks of ordinary numbers, and two lows five days apart."""
    habit(book)
    for days, number in LOWS:
        wall = datetime(2026, 3, 31, 11, 20) - timedelta(days=days)
        at = Moment.from_wall(wall, ZONE)
        low = Glucose.number(number, Unit.MG_DL)
        book.add(Reading(uuid4(), low, at, at.instant, Slot.BETWEEN_MEALS))


def open_repeats(person: Writer) -> RepeatsView:
    person.window.show_page("look_back")
    settle()
    person.press("What repeats")
    page = person.window.page
    assert isinstance(page, LookBack)
    assert isinstance(page.view, RepeatsView)
    return page.view


def shown(widget: QWidget) -> str:
    return "\n".join(one.text() for one in widget.findChildren(Words) if one.isVisible())


def test_two_lows_in_a_fortnight_are_told_with_their_latest_day(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=two_lows_before_lunch, pages=PAGES) as person:
        view = open_repeats(person)
        words = shown(view)
        assert "2 of your lows came close together" in words
        assert "The latest was on March 27." in words
        assert "Worth asking your provider about." in words


def test_its_button_shows_exactly_its_readings(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=two_lows_before_lunch, pages=PAGES) as person:
        view = open_repeats(person)
        finding = next(one for one in view.findings if one.kind.value == "low_repeated")
        place = view.findings.index(finding)
        buttons = [b for b in view.findChildren(QWidget) if b.property("place") == place]
        assert len(buttons) == 1
        person.window.page.scrolled.show_part(buttons[0])
        person.click(buttons[0])

        rows = [row for row in person.window.page.findChildren(ReadingRow) if row.isVisible()]
        assert len(rows) == len(LOWS) == len(finding.reading_ids)
        words = shown(person.window.page)
        assert all(f"{number} mg/dL" in words for _days, number in LOWS)

        person.press("Back")  # to where they were asked for
        page = person.window.page
        assert isinstance(page, LookBack)
        assert isinstance(page.view, RepeatsView)
        person.press("Back")
        person.press("Each reading")  # shows everything again
        seen = [row for row in person.window.page.findChildren(ReadingRow) if row.isVisible()]
        assert len(seen) > len(LOWS)


def test_no_lows_is_said_with_who_looked(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit, pages=PAGES) as person:
        words = shown(open_repeats(person))
        assert "No lows seen in 30 days. Checks at bedtime: 20." in words
        assert "Between bedtime and waking: 0." in words


def fill(person: Writer, label: str, text: str) -> None:
    """Type into the field with this label."""
    fields = [
        field
        for field in person.window.page.findChildren(QLineEdit)
        if field.isVisible() and field.accessibleName() == label
    ]
    assert len(fields) == 1, label
    person.fill(fields[0], text)


def press(person: Writer, text: str) -> None:
    button = person.button(text)
    scrolled = person.window.page.scrolled
    if scrolled.content.isAncestorOf(button):
        scrolled.show_part(button)
    person.click(button)


def test_a_laboratory_value_stands_beside_the_log(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit, pages=PAGES) as person:
        person.window.show_page("look_back")
        settle()
        press(person, "Laboratory A1C")
        fill(person, "A1C", "72")
        press(person, "Keep this A1C")
        assert person.book.a1cs() == []  # 72 can only be mmol/mol
        fill(person, "A1C", "7.2")
        press(person, "Keep this A1C")
        (a1c,) = person.book.a1cs()
        assert (a1c.steps, a1c.unit) == (72, A1CUnit.PERCENT)
        # 7.2 % is 55 mmol/mol by the master equation (NGSP's table, in a copy).
        assert "7.2% (55 mmol/mol)" in shown(person.window.page)
        person.book.undo()
        assert person.book.a1cs() == []


def test_the_meters_average_is_compared_with_the_log(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=habit, pages=PAGES) as person:
        person.window.show_page("look_back")
        settle()
        press(person, "Is the log complete?")
        fill(person, "The meter's average", "140")
        fill(person, "From how many readings?", "60")
        press(person, "Compare")
        (average,) = person.book.meter_averages()
        assert (average.days, average.count) == (14, 60)
        words = shown(person.window.page)
        assert "The meter has" in words
        assert "It does not show that either is right." in words


def three_days_before_a_visit(book: Book) -> None:
    """Seven checks a day agreed for the three days before a visit; five made, two after lunch high.

    Too few checks to be taken for a profile without the plan and the appointment.
    """
    checks = (PlannedCheck(Slot.FASTING, time(7, 30)),)
    began = datetime(2026, 3, 1, tzinfo=UTC)
    book.add(
        target(TargetKind.AFTER_MEALS, None, 180),
        CheckPlan(uuid4(), date(2026, 3, 1), checks, began, profile_days=3),
        Appointment(uuid4(), date(2026, 3, 30)),
    )
    made = (
        (Slot.FASTING, 7, (104, 111, 120)),
        (Slot.AFTER_BREAKFAST, 9, (150, 160, 155)),
        (Slot.BEFORE_LUNCH, 12, (109, 115, 118)),
        (Slot.AFTER_LUNCH, 14, (231, 244, 166)),
        (Slot.BEFORE_DINNER, 18, (117, 121, 125)),
    )
    for slot, hour, numbers in made:
        for day, number in enumerate(numbers, 27):
            at = Moment.from_wall(datetime(2026, 3, day, hour, 10), ZONE)
            book.add(Reading(uuid4(), Glucose.number(number, Unit.MG_DL), at, at.instant, slot))


def reviewed(person: Writer) -> VisitReview:
    """The review that report and summary tell, of the last 30 days."""
    desk = person.window.desk
    period = Period.ending(desk.today(), 30)
    data = person.book.visit_data(period, desk.now())
    summary = summarise(
        data.series, period, data.settings, data.targets, data.happenings, data.answers
    )
    return review_of(data, summary)


def test_a_profile_agreed_before_a_visit_is_found_by_window_and_report(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=three_days_before_a_visit, pages=PAGES) as person:
        words = shown(open_repeats(person))
        assert "In your 3 days of 7 checks, 2 of 3 after lunch were above target." in words
        review = reviewed(person)
        [found] = [one for one in review.findings if one.kind is FindingKind.PROFILE]
        assert (found.slot, found.count, found.of) == (Slot.AFTER_LUNCH, 2, 3)
        assert review.plan is not None
        # One check on each of 30 days and six more on three: 15 of 30 + 18 were made.
        assert (review.plan.total.part, review.plan.total.of) == (15, 48)


def test_a_visit_of_another_day_makes_no_profile(qtbot: QtBot, tmp_path: Path) -> None:
    def visit_in_june(book: Book) -> None:
        three_days_before_a_visit(book)
        (appointment,) = book.appointments()
        book.replace(replace(appointment, day=date(2026, 6, 30)))

    with writing_window(tmp_path, prepare=visit_in_june, pages=PAGES) as person:
        assert "3 days of 7 checks" not in shown(open_repeats(person))
        assert not [one for one in reviewed(person).findings if one.kind is FindingKind.PROFILE]


def two_meters(book: Book) -> None:
    """Three weeks of checks with the meter by the bed, and a dozen with the one in the handbag."""
    bedside = Meter.usual(uuid4(), "bedside", Unit.MG_DL, date(2026, 1, 1))
    handbag = Meter.usual(uuid4(), "handbag", Unit.MG_DL, date(2026, 1, 1))
    book.add(handbag, bedside)
    for days in range(1, 13):
        for meter, hour, number in ((bedside, 7, 120), (handbag, 15, 220)):
            wall = datetime(2026, 3, 31, hour, 10) - timedelta(days=days)
            at = Moment.from_wall(wall, ZONE)
            glucose = Glucose.number(number, Unit.MG_DL)
            made = Reading(uuid4(), glucose, at, at.instant, Slot.OTHER, meter_id=meter.id)
            book.add(made)
    now = Moment.from_wall(datetime(2026, 3, 31, 11), ZONE)
    shown = Glucose.number(120, Unit.MG_DL)
    book.add(MeterAverage(uuid4(), bedside.id, now, now.instant, 14, shown, 12))


def test_the_window_and_the_report_compare_a_meter_with_its_own_readings(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=two_meters, pages=PAGES) as person:
        person.window.show_page("look_back")
        settle()
        press(person, "Is the log complete?")
        words = shown(person.window.page)
        assert "an average of 120 mg/dL from 12 readings" in words
        compared = reviewed(person).meter
        assert compared is not None
        assert (compared.log_count, compared.log_mean) == (12, 120)
        assert all(line in words for line in both_counts(compared))
