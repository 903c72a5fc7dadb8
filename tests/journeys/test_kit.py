"""What a person does with the kit, in a real window over a real log."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from logbook.domain.kit.control_results import ControlResult, result_of
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.strips import Vial, WhyEnded
from logbook.domain.kit.vial_life import vial_in_use
from logbook.ui.pages.kit import Kit
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import ViewPage
from tests.ui.writing_window import Writer, settle, writing_window

PAGES = (WriteDown, Kit)


def fill(person: Writer, label: str, text: str) -> None:
    """Type into the field with this label."""
    fields = [
        field
        for field in person.window.page.findChildren(QLineEdit)
        if field.isVisible() and field.accessibleName() == label
    ]
    assert len(fields) == 1, label
    fields[0].setFocus()
    fields[0].setText(text)
    settle()


def words(person: Writer) -> str:
    """Everything that can be read on the page that is shown."""
    shown = [one for one in person.window.page.findChildren(Words) if one.isVisible()]
    return "\n".join([*(one.text() for one in shown), person.message])


def press(person: Writer, *texts: str) -> None:
    """Press buttons of the page, wherever on it they lie."""
    for text in texts:
        button = person.button(text)
        scrolled = person.window.page.scrolled
        if scrolled.content.isAncestorOf(button):
            scrolled.show_part(button)
        person.press(text)


def view_of(person: Writer) -> str:
    page = person.window.page
    assert isinstance(page, ViewPage)
    return page.view_name


def open_pot(person: Writer) -> Vial:
    """The first pot, written down in full; it is in use now."""
    person.window.show_page("kit")
    settle()
    press(person, "Write down the open pot")
    fill(person, "Printed date", "03/2027")
    press(person, "It is open")
    vial = vial_in_use(None, person.book.kit())
    assert vial is not None
    return vial


def test_a_pot_is_written_down_once_and_readings_take_its_strips(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        vial = open_pot(person)
        assert vial.expires == PrintedDate.from_code("2027-03")
        assert (vial.count, view_of(person)) == (50, "home")
        person.window.show_page("write_down")
        settle()
        person.clock[0] += timedelta(minutes=5)
        person.press("1", "2", "8", "Save 128 mg/dL")
        account = account_of(vial, person.book.kit())
        assert (account.used, account.left) == (1, 49)
        person.window.show_page("kit")
        settle()
        assert "49" in words(person)


def test_the_next_pot_like_the_last_costs_2_clicks_and_its_date(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        first = open_pot(person)
        person.clock[0] += timedelta(days=40)
        before = person.clicks
        press(person, "Open the next one (same as last)")
        fill(person, "Printed date", "11/2027")
        press(person, "Open it")
        assert person.clicks - before == 2
        kit = person.book.kit()
        second = vial_in_use(None, kit)
        assert second is not None
        assert (second.count, second.after_opening) == (first.count, first.after_opening)
        assert second.expires == PrintedDate.from_code("2027-11")
        ended = next(vial for vial in kit.vials if vial.id == first.id)
        assert ended.why_ended is WhyEnded.EMPTY

        person.book.undo()  # one press takes the opening and the end of the other back

        assert vial_in_use(None, person.book.kit()) == first


def test_a_date_that_is_none_is_told_and_nothing_typed_is_lost(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        press(person, "Open the next one (same as last)")
        fill(person, "Printed date", "13/2027")
        press(person, "Open it")
        assert view_of(person) == "next_vial"
        assert "13/2027" in words(person)
        fill(person, "Printed date", "12/2027")
        press(person, "Open it")
        assert view_of(person) == "home"


def test_counting_again_puts_the_number_right_and_asks_about_a_gap(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        vial = open_pot(person)
        press(person, "Count again")
        fill(person, "Strips in the open pot", "41")
        assert "not written down" in words(person)
        press(person, "Keep this number")
        assert account_of(vial, person.book.kit()).left == 41


@pytest.mark.parametrize(("shown", "result"), [("112", "pass"), ("180", "fail")])
def test_a_control_test_costs_at_most_6_clicks_and_is_never_a_reading(
    qtbot: QtBot, tmp_path: Path, shown: str, result: str
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        press(person, "New bottle")
        fill(person, "Level", "normal")
        press(person, "It is open")
        press(person, "Control test")
        fill(person, "Lowest of the range", "96")
        fill(person, "Highest of the range", "130")
        fill(person, "What the meter shows", "110")
        press(person, "Keep the test")

        before = person.clicks
        person.clock[0] += timedelta(days=1)
        press(person, "Control test")
        fill(person, "What the meter shows", shown)
        press(person, "Keep the test")

        assert person.clicks - before <= 6
        kit = person.book.kit()
        first, second = kit.control_tests
        assert result_of(first, kit) is ControlResult.PASS
        assert result_of(second, kit).value == result
        assert person.readings == []
        assert person.book.series().instants == ()
        vial = vial_in_use(None, kit)
        assert vial is not None
        assert account_of(vial, kit).used == 2


def test_a_drop_is_written_down_and_asks_for_a_control_test(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        press(person, "The meter", "Dropped", "Write it down")
        (event,) = person.book.kit().meter_events
        assert [meter.id for meter in person.book.meters()] == [event.meter_id]
        assert "dropped" in words(person).lower()


def test_a_container_is_counted_closed_and_handed_in(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.show_page("kit")
        settle()
        press(person, "Start a container")
        fill(person, "How many sharps does it hold?", "300")
        press(person, "Start it today")
        press(person, "I closed it")
        press(person, "I handed it in")
        (container,) = person.book.kit().sharps_containers
        assert (container.capacity, container.closed_on, container.handed_in_on) == (
            300,
            person.window.desk.today(),
            person.window.desk.today(),
        )


def test_what_is_kept_for_lows(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.show_page("kit")
        settle()
        press(person, "Add or change")
        fill(person, "Where is it kept?", "in the blue bowl")
        press(person, "Keep it")
        (supply,) = person.book.kit().low_supplies
        assert supply.place == "in the blue bowl"
        assert "in the blue bowl" in words(person)
        person.book.undo()
        assert person.book.kit().low_supplies == ()


def test_who_has_no_control_solution_is_not_asked(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        press(person, "I have no control solution")
        assert not person.book.settings.has_control_solution
        press(person, "I have control solution now")
        assert person.book.settings.has_control_solution


def test_what_waits_of_the_kit_is_named_and_its_button_leads_there(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.show_page("kit")
        settle()
        press(person, "Write down the open pot")
        fill(person, "Printed date", "03/2026")  # it ends today, the last of March
        press(person, "It is open")
        person.clock[0] += timedelta(days=1)
        person.window.beat()
        settle()
        waiting = person.window.side_list.waiting
        assert waiting.isVisible()
        person.window.show_page("write_down")
        settle()
        person.click(waiting)
        press(person, "Open the next one (same as last)")
        assert view_of(person) == "next_vial"


def test_what_waits_of_the_kit_can_wait_until_tomorrow(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.show_page("kit")
        settle()
        press(person, "Write down the open pot")
        fill(person, "Printed date", "03/2026")
        press(person, "It is open")
        person.clock[0] += timedelta(days=1)
        person.window.show_page("write_down")
        person.window.refresh_all()
        settle()
        person.click(person.window.side_list.waiting)
        before = person.page.notices.all
        press(person, "Not today")
        assert len(person.page.notices.all) < len(before)


def test_an_out_of_date_strip_is_said_at_the_reading_and_nothing_is_refused(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.show_page("kit")
        settle()
        press(person, "Write down the open pot")
        fill(person, "Printed date", "03/2026")  # March 31 is its last day
        press(person, "It is open")
        person.window.show_page("write_down")
        settle()
        person.press("1", "2", "8", "Save 128 mg/dL")
        assert not person.page.result_step.strip.isVisible()
        person.clock[0] += timedelta(days=1)
        person.press("Write down another", "1", "3", "1", "Save 131 mg/dL")
        assert "until March 31, 2026" in person.page.result_step.strip.text()
        assert [one.glucose.steps for one in person.readings] == [128, 131]
