"""What a person does before and after an appointment, press by press, on a real log."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, time, timedelta
from pathlib import Path
from uuid import uuid4

import pypdf
import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QPlainTextEdit
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.plan.calendar_days import plan_on
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.domain.targets import SetBy
from logbook.domain.visits import Appointment, Medicine
from logbook.ui import printing, saving_places
from logbook.ui.parts.big_button import BigButton
from logbook.ui.printing import Printers, PrintJob
from tests.ui.plan_window import NOON, TODAY, OpenWindow, open_window, write_readings


@pytest.fixture
def opened(qtbot: QtBot, tmp_path: Path) -> Iterator[OpenWindow]:
    with open_window(qtbot, tmp_path) as window:
        write_readings(window.book, 40)
        yield window


def printed(monkeypatch: pytest.MonkeyPatch) -> list[PrintJob]:
    """Two printers, and what was sent to them."""
    sent: list[PrintJob] = []
    monkeypatch.setattr(printing, "find_printers", lambda: Printers(("Den", "Hall"), "Hall"))
    monkeypatch.setattr(printing, "print_out", sent.append)
    return sent


def test_the_report_is_printed_in_at_most_4_clicks_from_the_open_window(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.clicks <= 4
    (job,) = sent
    assert (job.printer, job.copies) == ("Hall", 1)
    assert "Fasting (before breakfast)" in pypdf_text(job.content)
    assert opened.message == "Sent to the printer Hall: 1 copy."


def test_it_is_seen_before_it_is_printed_in_4_clicks(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("See the report")
    opened.wait_for_jobs()
    assert opened.view.preview.place.startswith("page 1 of ")  # type: ignore[attr-defined]
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    assert opened.clicks == 4
    assert len(sent) == 1


def test_the_report_is_saved_in_3_clicks_and_its_place_said(
    opened: OpenWindow, person_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = person_folder / "documents"
    monkeypatch.setattr(saving_places, "documents_folder", lambda: folder)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("Save as PDF")
    opened.press("Documents")
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert opened.clicks == 3
    assert opened.message == "Saved as “Visit report November 25, 2026” in your Documents folder."
    (file,) = folder.iterdir()
    assert "Fasting (before breakfast)" in pypdf_text(file.read_bytes())


def test_a_question_comes_to_mind_and_is_on_the_paper(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.press("Write or see questions")
    field = opened.view.first_field()
    assert isinstance(field, QPlainTextEdit)
    opened.type_into(field, "May I walk before breakfast?")
    opened.press("Add question")
    opened.press("Back")
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    text = " ".join(pypdf_text(sent[0].content).split())
    assert "May I walk before breakfast?" in text


def test_everything_is_there_after_closing_and_opening(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("Write it down")
        opened.type_into(opened.view.day.field, "December 8")  # type: ignore[attr-defined]
        opened.press("Save appointment")
        opened.press("Write or see questions")
        field = opened.view.first_field()
        assert isinstance(field, QPlainTextEdit)
        opened.type_into(field, "One")
        opened.press("Add question")
    with Book.open(tmp_path / "my.logbook", lambda: NOON, read_only=True) as book:
        assert [one.day for one in book.appointments()] == [date(2026, 12, 8)]
        assert [one.text for one in book.questions()] == ["One"]


def test_the_report_is_printed_by_keyboard(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    """From the page *Visit*: Enter leads to the main action, Enter takes it; twice over."""
    sent = printed(monkeypatch)
    for _view in ("home", "preview", "print"):
        for _time in (1, 2):
            opened.key(Qt.Key.Key_Return)
            opened.wait_for_jobs()
            opened.wait_for_jobs()
    assert len(sent) == 1
    assert opened.keys <= 8


def pypdf_text(content: bytes) -> str:
    import io

    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    return "\n".join(page.extract_text() for page in pages)


# --- what was decided, the list before, and sheets for the person ---------------------------------


def test_what_was_decided_goes_where_it_belongs_and_holds_from_the_visit(
    opened: OpenWindow,
) -> None:
    visit = date(2026, 11, 20)
    opened.book.add(Appointment(uuid4(), visit), Medicine(uuid4(), "Old 5 mg", date(2026, 1, 1)))
    opened.press("Visit")
    opened.press("Write down what was decided")
    opened.type_into(opened.view.note, "Walk after dinner")  # type: ignore[attr-defined]

    opened.press("Medicines")
    assert opened.page.name == "my_plan"
    opened.type_into(opened.view.text, "New 10 mg")  # type: ignore[attr-defined]
    opened.press("Add medicine")
    opened.press(stop_of(opened, "Old"))
    opened.press("Back")
    assert opened.page.name == "visit"
    assert opened.view.note.toPlainText() == "Walk after dinner"  # type: ignore[attr-defined]

    opened.press("When to check")
    opened.press("Write down my plan")
    opened.press("Bedtime")
    opened.press("Save plan")
    opened.press("Back")
    opened.press("Next appointment")
    opened.type_into(opened.view.day.field, "Mar 1, 2027")  # type: ignore[attr-defined]
    opened.press("Save appointment")
    opened.press("Write down what was decided")
    opened.press("Save this")

    old, new = opened.book.medicines()
    assert (old.text, old.holds_until) == ("Old 5 mg", date(2026, 11, 19))
    assert (new.text, new.holds_from) == ("New 10 mg", visit)
    (plan,) = opened.book.plans()
    assert plan.holds_from == visit
    assert [one.decided for one in opened.book.appointments()] == ["Walk after dinner", ""]
    assert not opened.desk.is_after_visit
    assert opened.desk.changes_from == TODAY


def test_a_plan_looked_through_after_a_visit_is_no_change_of_it(opened: OpenWindow) -> None:
    visit = TODAY - timedelta(days=5)
    plan = CheckPlan(
        uuid4(), date(2026, 1, 1), (PlannedCheck(Slot.FASTING, time(7), every_days=3),), NOON
    )
    opened.book.add(Appointment(uuid4(), visit), plan)
    opened.press("Visit")
    opened.press("Write down what was decided")
    opened.press("When to check")
    opened.press("Change the plan")
    opened.press("Save plan")
    assert "Nothing was changed" in opened.message
    assert opened.book.plans() == [plan]
    opened.press("Back")
    assert "Nothing new since November 20" in opened.button("When to check").text()


def test_a_published_plan_is_agreed_at_an_earlier_visit_from_its_own_first_day(
    opened: OpenWindow,
) -> None:
    """It asked for nothing before that day, so that there is nothing to agree."""
    published = CheckPlan(
        uuid4(),
        TODAY - timedelta(days=2),
        (PlannedCheck(Slot.FASTING, time(7)),),
        NOON - timedelta(days=2),
        SetBy.PUBLISHED,
        source="An invented guideline",
    )
    opened.book.add(Appointment(uuid4(), TODAY - timedelta(days=5)), published)
    opened.press("Visit")
    opened.press("Write down what was decided")
    opened.press("When to check")
    opened.press("My provider agrees with this plan")
    opened.press("Save plan")
    held = plan_on(opened.book.plans(), TODAY)
    assert held is not None
    assert (held.set_by, held.checks) == (SetBy.PROVIDER, published.checks)
    assert held.holds_from == published.holds_from


def stop_of(opened: OpenWindow, medicine: str) -> BigButton:
    """The button that ends a medicine."""
    return next(
        one
        for one in opened.buttons()
        if one.text() == "I stopped it" and medicine in one.accessibleDescription()
    )


def test_the_appointment_after_a_visit_of_today_is_another_one(opened: OpenWindow) -> None:
    opened.book.add(Appointment(uuid4(), TODAY))
    opened.press("Visit")
    opened.press("Write down what was decided")
    opened.press("Next appointment")
    opened.type_into(opened.view.day.field, "Mar 1, 2027")  # type: ignore[attr-defined]
    opened.press("Save appointment")
    assert [one.day for one in opened.book.appointments()] == [TODAY, date(2027, 3, 1)]


def test_the_list_before_a_visit_knows_when_the_report_was_printed(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    printed(monkeypatch)
    opened.book.add(Appointment(uuid4(), date(2026, 12, 1)))
    opened.press("Visit")
    assert "0 of 1 done" in opened.button("Before the visit").text()
    opened.press("Before the visit")
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    opened.wait_for_jobs()
    assert "1 of 1 done" in opened.button("Before the visit").text()


def test_a_sheet_is_seen_and_printed_in_5_clicks(
    opened: OpenWindow, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent = printed(monkeypatch)
    opened.window.show_page("my_plan")
    opened.clicks = 0
    opened.press("Visit")
    opened.press("Sheets for yourself")
    opened.press("Fridge sheet")
    opened.wait_for_jobs()
    opened.press("Print")
    opened.wait_for_jobs()
    main = opened.page.main_button
    assert main is not None
    opened.press(main)
    opened.wait_for_jobs()
    assert opened.clicks <= 5
    (job,) = sent
    assert "I have diabetes" in pypdf_text(job.content)
    assert opened.page.view_name == "sheets"
