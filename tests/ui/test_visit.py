"""The page *Visit*: appointment, questions, what was decided, and what can be chosen."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.domain.moments import Period
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment, Question
from logbook.report.options import Paper, Print
from logbook.ui.pages.my_plan_checks_draft import begin_plan
from logbook.ui.pages.visit import Visit
from logbook.ui.pages.visit_after import DecidedView
from logbook.ui.pages.visit_appointment import AppointmentView
from logbook.ui.pages.visit_choices import ChoicesView, DatesView
from logbook.ui.pages.visit_earlier import EarlierVisitsView
from logbook.ui.pages.visit_paper import Span, chosen_paper
from logbook.ui.pages.visit_questions import QuestionsView
from logbook.wording.manner import Manner, manner, set_manner
from tests.ui.plan_window import NOON, TODAY, OpenWindow, open_window, write_readings


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        yield window


def visit(opened: OpenWindow) -> Visit:
    page = opened.window.page
    assert isinstance(page, Visit)
    return page


# --- the appointment ------------------------------------------------------------------------------


def test_an_appointment_is_typed_and_kept(opened: OpenWindow) -> None:
    opened.press("Write it down")
    view = opened.view
    assert isinstance(view, AppointmentView)
    opened.type_into(view.day.field, "8 Dec")
    opened.type_into(view.time, "10:30 am")
    opened.type_into(view.with_whom, "Dr. Invented")
    opened.press("Save appointment")

    kept = opened.book.appointments()
    assert [(one.day, one.at, one.with_whom, one.place) for one in kept] == [
        (date(2026, 12, 8), time(10, 30), "Dr. Invented", "")
    ]
    assert opened.message == "Saved: appointment on Tuesday, December 8, 2026."
    texts = [words.text() for words in opened.view.findChildren(type(opened.page.title))]
    assert any("Tuesday, December 8, 2026, in 13 days" in text for text in texts)


def test_the_day_moves_by_big_buttons(opened: OpenWindow) -> None:
    opened.press("Write it down")
    view = opened.view
    assert isinstance(view, AppointmentView)
    opened.press("4 weeks later")
    opened.press("1 day later")
    opened.press("1 week earlier")
    assert view.day.day() == TODAY + timedelta(days=28 + 1 - 7)


def test_what_is_wrong_stands_at_the_field_and_above_in_the_same_words(opened: OpenWindow) -> None:
    opened.press("Write it down")
    view = opened.view
    assert isinstance(view, AppointmentView)
    opened.type_into(view.day.field, "31 Nov")
    opened.type_into(view.time, "2:30")
    opened.press("Save appointment")

    day = "There is no day “31 Nov”. Look at the day and the month once more."
    hour = "Is it morning or afternoon? Write 2:30 AM or 2:30 PM."
    assert view.problem_text == f"{day}\n{hour}"
    assert (view.day.field._problem.text(), view.time._problem.text()) == (day, hour)
    assert (view.day.field.text(), view.time.text()) == ("31 Nov", "2:30")
    assert view.day.field.hasFocus()
    assert opened.book.appointments() == []

    opened.type_into(view.day.field, "30 Nov")
    opened.type_into(view.time, "14:30")
    opened.press("Save appointment")
    assert opened.book.appointments()[0].at == time(14, 30)


def test_what_was_typed_is_there_after_looking_elsewhere(opened: OpenWindow) -> None:
    opened.press("Write it down")
    view = opened.view
    assert isinstance(view, AppointmentView)
    opened.type_into(view.with_whom, "Dr. Inv")
    opened.press("Back")
    opened.press("Write it down")
    assert opened.view is view
    assert view.with_whom.text() == "Dr. Inv"


def test_an_appointment_is_changed_and_the_change_taken_back(opened: OpenWindow) -> None:
    opened.book.add(Appointment(uuid4(), date(2026, 12, 1)))
    opened.press("Change the appointment")
    opened.press("1 week later")
    opened.press("Save appointment")
    assert [one.day for one in opened.book.appointments()] == [date(2026, 12, 8)]
    opened.click(opened.window.bar.undo)
    assert [one.day for one in opened.book.appointments()] == [date(2026, 12, 1)]


def test_what_was_decided_is_kept_with_its_visit(opened: OpenWindow) -> None:
    opened.book.add(Appointment(uuid4(), date(2026, 8, 29)), Appointment(uuid4(), TODAY))
    opened.press("Write down what was decided")
    view = opened.view
    assert isinstance(view, DecidedView)
    opened.type_into(view.note, "Walk after dinner, from December 1")
    opened.press("Save this")
    assert [one.decided for one in opened.book.appointments()] == [
        "",
        "Walk after dinner, from December 1",
    ]
    opened.press("Write down what was decided")
    view = opened.view
    assert isinstance(view, DecidedView)
    opened.press("August 29, 2026")
    assert view.note.toPlainText() == ""


def visits(opened: OpenWindow, count: int) -> list[date]:
    """So many visits, the last of them today and each four weeks after the one before."""
    days = [TODAY - timedelta(weeks=4 * back) for back in range(count)]
    opened.book.add(*(Appointment(uuid4(), day, decided=f"Words of {day}") for day in days))
    return days


def test_an_earlier_visit_is_reached_by_a_list_and_keeps_its_own_words(opened: OpenWindow) -> None:
    days = visits(opened, 12)
    opened.press("Write down what was decided")
    opened.press("An earlier visit")
    view = opened.view
    assert isinstance(view, EarlierVisitsView)
    rows = [one.text() for one in opened.buttons() if view.isAncestorOf(one)]
    assert [row.split("\n")[1] for row in rows] == [f"Words of {day}" for day in days]
    opened.press(next(one for one in opened.buttons() if f"Words of {days[8]}" in one.text()))
    view = opened.view
    assert isinstance(view, DecidedView)
    assert view.note.toPlainText() == f"Words of {days[8]}"
    assert opened.button("Earlier: April 15, 2026").isChecked()
    opened.type_into(view.note, "Later words")
    opened.press("Save this")
    assert "April 15, 2026" in opened.message
    changed = {one.day: one.decided for one in opened.book.appointments()}
    assert changed == {day: f"Words of {day}" for day in days} | {days[8]: "Later words"}


def test_three_visits_need_no_list(opened: OpenWindow) -> None:
    visits(opened, 3)
    opened.press("Write down what was decided")
    assert [one.text() for one in opened.buttons() if "earlier visit" in one.text()] == []


def test_words_typed_for_one_visit_stay_while_another_is_looked_at(opened: OpenWindow) -> None:
    days = visits(opened, 5)
    opened.press("Write down what was decided")
    view = opened.view
    assert isinstance(view, DecidedView)
    opened.type_into(view.note, "Typed today")
    opened.press("An earlier visit")
    opened.press("Back")
    assert opened.view is view
    assert view.note.toPlainText() == "Typed today"
    opened.press("October 28, 2026")
    assert view.note.toPlainText() == f"Words of {days[1]}"
    opened.press("November 25, 2026")
    assert view.note.toPlainText() == "Typed today"
    opened.press("Save this")
    assert opened.book.appointments()[-1].decided == "Typed today"
    assert opened.book.appointments()[-2].decided == f"Words of {days[1]}"


def test_the_plan_after_an_earlier_visit_begins_from_the_plan_of_that_day(
    opened: OpenWindow,
) -> None:
    days = visits(opened, 6)
    then = CheckPlan(uuid4(), days[5], (PlannedCheck(Slot.BEDTIME, time(22)),), NOON)
    now = CheckPlan(uuid4(), days[1], (PlannedCheck(Slot.FASTING, time(7)),), NOON)
    opened.book.add(then, now)
    opened.press("Write down what was decided")
    opened.press("An earlier visit")
    opened.press(next(one for one in opened.buttons() if f"Words of {days[4]}" in one.text()))
    opened.press("When to check")
    begun = begin_plan(opened.desk)
    assert (begun.holds_from, begun.checks) == (days[4], then.checks)


# --- questions ------------------------------------------------------------------------------------


def test_questions_are_added_done_and_brought_back(opened: OpenWindow) -> None:
    opened.press("Write or see questions")
    view = opened.view
    assert isinstance(view, QuestionsView)
    opened.type_into(view.text, "Is 2 hours right?")
    opened.press("Add question")
    assert [one.text for one in opened.book.questions()] == ["Is 2 hours right?"]
    assert opened.message == "Added: Is 2 hours right?"
    assert view.text.toPlainText() == ""

    opened.press("I asked this")
    assert opened.book.questions() == []
    assert opened.book.questions(open_only=False)[0].done_on == TODAY
    opened.press("Bring back")
    assert [one.done_on for one in opened.book.questions()] == [None]
    opened.click(opened.window.bar.undo)
    assert opened.book.questions() == []
    opened.press("Back")  # the message has gone; Undo and Put back have their room again
    opened.click(opened.window.bar.put_back)
    assert len(opened.book.questions()) == 1


def test_a_question_being_typed_outlives_news_and_a_press_on_an_empty_one_adds_nothing(
    opened: OpenWindow,
) -> None:
    opened.press("Write or see questions")
    view = opened.view
    assert isinstance(view, QuestionsView)
    opened.press("Add question")
    assert opened.book.questions() == []
    assert opened.message == "There is no question yet. Type it above, then add it."
    opened.type_into(view.text, "Half a ques")
    opened.book.add(Question(uuid4(), "Another one", NOON))
    opened.window.refresh_all()
    assert view.text.toPlainText() == "Half a ques"


# --- what the report holds ------------------------------------------------------------------------


def test_the_usual_period_is_since_the_last_visit(opened: OpenWindow) -> None:
    assert visit(opened).paper.period == Period.ending(TODAY, 90)
    opened.book.add(Appointment(uuid4(), date(2026, 8, 29)), Appointment(uuid4(), TODAY))
    assert visit(opened).paper.span is Span.SINCE_VISIT
    assert visit(opened).paper.period == Period(date(2026, 8, 29), TODAY)


@pytest.mark.parametrize(("text", "days"), [("2 weeks", 14), ("30 days", 30), ("90 days", 90)])
def test_a_period_is_one_press(opened: OpenWindow, text: str, days: int) -> None:
    opened.press("Choose days and paper")
    opened.press(text)
    assert visit(opened).paper.period == Period.ending(TODAY, days)


def test_any_dates_can_be_taken(opened: OpenWindow) -> None:
    opened.press("Choose days and paper")
    opened.press("Other days")
    view = opened.view
    assert isinstance(view, DatesView)
    opened.type_into(view.first.field, "Oct 1")
    opened.type_into(view.last.field, "Sep 30")
    opened.press("Take these days")
    assert view.problem_text == "The last day lies before the first day. Change one of them."
    opened.type_into(view.last.field, "Oct 31")
    opened.press("Take these days")
    assert isinstance(opened.view, ChoicesView)
    assert visit(opened).paper.period == Period(date(2026, 10, 1), date(2026, 10, 31))
    assert opened.view.span.value is Span.DATES


def test_choices_go_into_the_report(opened: OpenWindow) -> None:
    opened.press("Choose days and paper")
    opened.press("A4")
    opened.press("Large print, for you")
    opened.press("All days")
    opened.press("Yes")
    options = visit(opened).paper.options
    assert (options.paper, options.print) == (Paper.A4, Print.LARGE)
    assert (options.grid_days, options.appendix) == (None, True)
    assert opened.desk.preferences.paper == "a4"


@pytest.mark.parametrize(
    ("locale", "paper"), [("en_US", Paper.LETTER), ("en_CA", Paper.LETTER), ("en_GB", Paper.A4)]
)
def test_the_usual_paper_is_that_of_the_country(locale: str, paper: Paper) -> None:
    """Unicode CLDR, paperSize: US-Letter in the United States and Canada, A4 in Britain."""
    before = manner()
    set_manner(Manner(locale))
    try:
        assert chosen_paper("") is paper
        assert chosen_paper("a4") is Paper.A4
    finally:
        set_manner(before)


# --- the pages ------------------------------------------------------------------------------------


def test_the_preview_shows_pages_and_says_their_words(opened: OpenWindow) -> None:
    write_readings(opened.book, 20)
    opened.press("See the report")
    opened.wait_for_jobs()
    preview = opened.view.preview  # type: ignore[attr-defined]
    paper = visit(opened).paper.file
    assert paper is not None
    assert preview.place == f"page 1 of {paper.page_count}"
    assert opened.page.title.text() == f"This is your report: {preview.place}"
    assert "Fasting (before breakfast)" in preview.picture.accessibleDescription()
    picture = preview.picture.grab().toImage()
    colours = {picture.pixel(x, y) for x in range(0, picture.width(), 3) for y in range(0, 600, 3)}
    assert len(colours) > 10, "the page is blank"

    height = preview.picture.height()
    opened.press("Larger")
    assert preview.picture.heightForWidth(preview.picture.width()) > height
    opened.press("Right")
    opened.press("Smaller")
    if paper.page_count > 1:
        opened.press("Next page")
        assert preview.page_number == 2
        opened.press("Page before")
        assert preview.page_number == 1


def test_a_change_of_the_log_makes_the_report_anew(opened: OpenWindow) -> None:
    write_readings(opened.book, 5)
    opened.press("See the report")
    opened.wait_for_jobs()
    before = visit(opened).paper.content
    assert before.startswith(b"%PDF-")
    opened.click(opened.window.bar.undo)
    opened.wait_for_jobs()
    assert visit(opened).paper.content not in (b"", before)


def test_a_report_that_fails_is_said_in_words(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    from logbook.domain.errors import DamagedLog
    from logbook.ui.pages import visit_paper

    def fail(*_arguments: object) -> bytes:
        raise DamagedLog("my.logbook", why="malformed")

    monkeypatch.setattr(visit_paper, "_make", fail)
    opened.press("See the report")
    opened.wait_for_jobs()
    told = visit(opened).paper.problem
    assert told.startswith("The log my.logbook is damaged")
    assert opened.view._told.text() == told  # type: ignore[attr-defined]


def test_it_is_said_at_once_that_the_report_is_being_made(opened: OpenWindow) -> None:
    write_readings(opened.book, 5)
    said: list[str] = []
    gathered: list[bool] = []
    paper = visit(opened).paper
    paper.changed.connect(lambda: said.append(paper.state.value))
    opened.book.visit_data = _noted(opened.book.visit_data, gathered, said)  # type: ignore[method-assign]
    opened.press("See the report")
    opened.wait_for_jobs()
    assert said[0] == "making"
    assert said[-1] == "made"
    assert gathered == [True]  # it had been said before the log was read


def test_a_report_that_is_no_longer_wanted_leaves_no_job(opened: OpenWindow) -> None:
    paper = visit(opened).paper
    paper.want()
    was_busy = opened.desk.work.is_busy
    paper.spoil()
    assert (was_busy, opened.desk.work.is_busy) == (True, False)
    opened.wait_for_jobs()
    states = [paper.state.value]
    paper.want()
    opened.wait_for_jobs()
    assert [*states, paper.state.value] == ["not_made", "made"]


def _noted(
    gather: Callable[..., VisitData], gathered: list[bool], said: list[str]
) -> Callable[..., VisitData]:
    def noted(*arguments: object) -> VisitData:
        gathered.append(said == ["making"])
        return gather(*arguments)

    return noted
