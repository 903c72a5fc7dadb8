"""What a person does with the kit, in a real window over a real log."""

from __future__ import annotations

from datetime import date, time, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from logbook.domain.kit.control_results import ControlResult, result_of
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.strips import Vial, WhyEnded
from logbook.domain.kit.supplies import ForLows, SupplyKind
from logbook.domain.kit.vial_life import life_of, vial_in_use
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.slots import Slot
from logbook.ui.pages.kit import Kit
from logbook.ui.pages.look_back import LookBack
from logbook.ui.pages.visit_paper import State
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.paper_file import PaperFile
from logbook.ui.parts.texts import Words
from logbook.ui.parts.view_page import ViewPage
from tests.ui.writing_window import Writer, settle, writing_window

PAGES = (WriteDown, Kit)


def fill(person: Writer, label: str, text: str) -> None:
    """Type into the field with this label."""
    fields = fields_of(person, label)
    assert len(fields) == 1, label
    fields[0].setFocus()
    fields[0].setText(text)
    settle()


def fields_of(person: Writer, label: str) -> list[QLineEdit]:
    return [
        field
        for field in person.window.page.findChildren(QLineEdit)
        if field.isVisible() and field.accessibleName() == label
    ]


def buttons_of(person: Writer, text: str) -> list[BigButton]:
    """The buttons of that text, from above to below."""
    seen = [one for one in person.window.page.findChildren(BigButton) if one.isVisible()]
    found = [one for one in seen if one.text() == text]
    return sorted(found, key=lambda one: one.mapTo(person.window, QPoint(0, 0)).y())


def described(button: BigButton) -> str:
    return button.accessibleDescription()


def words(person: Writer) -> str:
    """Everything that can be read on the page that is shown."""
    shown = [one for one in person.window.page.findChildren(Words) if one.isVisible()]
    return "\n".join([*(one.text() for one in shown), person.message])


def press(person: Writer, *texts: str | BigButton) -> None:
    """Press buttons of the page, wherever on it they lie."""
    for text in texts:
        button = text if isinstance(text, BigButton) else person.button(text)
        scrolled = person.window.page.scrolled
        if scrolled.content.isAncestorOf(button):
            scrolled.show_part(button)
        person.click(button)


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
        press(person, "Write down what happened", "Dropped", "Write it down")
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
        press(person, "Add or change", "Add something")
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


# --- more of the kit ------------------------------------------------------------------------------


def show_kit(person: Writer) -> None:
    person.window.show_page("kit")
    settle()


def test_a_pot_opened_earlier_counts_from_its_day_and_from_what_is_left(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "Write down the open pot")
        fill(person, "Printed date", "03/2027")
        press(person, "3 months")
        fill(person, "Opened on", "March 1, 2026")
        fill(person, "Strips in it now", "38")
        press(person, "It is open")
        kit = person.book.kit()
        vial = vial_in_use(None, kit)
        assert vial is not None
        life = life_of(vial)
        assert life is not None
        # The calendar: three months after March 1 is June 1, not the 90th day, which is May 30.
        assert (vial.opened_on, life.until) == (date(2026, 3, 1), date(2026, 6, 1))
        assert account_of(vial, kit).left == 38

        person.book.undo()  # the pot and its count were one action

        assert person.book.kit().vials == ()
        assert person.book.kit().strip_counts == ()


def test_pots_in_stock_are_opened_with_the_date_they_print(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        press(person, "Add an unopened pot")
        fill(person, "Printed date", "08/2027")
        fill(person, "How many such pots?", "2")
        press(person, "Keep it")
        assert "Unopened: 2 pots, 100 strips." in words(person)
        before = person.clicks
        press(person, "Open the next one (same as last)")
        press(person, "It was damaged or damp")  # asked, as the pot before is full by the log
        press(person, "Open it")
        assert person.clicks - before == 3
        kit = person.book.kit()
        opened = vial_in_use(None, kit)
        assert opened is not None
        assert opened.expires == PrintedDate.from_code("2027-08")
        assert len(kit.vials) == 3
        assert [vial.why_ended for vial in kit.vials if vial.ended_at] == [WhyEnded.DAMAGED]
        assert "Unopened: 1 pot, 50 strips." in words(person)


def test_another_code_is_asked_for_before_the_first_test(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "Write down the open pot")
        fill(person, "Printed date", "03/2027")
        fill(person, "Code", "17")
        press(person, "It is open", "Open the next one (same as last)")
        fill(person, "Printed date", "04/2027")
        fill(person, "Code", "25")
        press(person, "Open it")
        assert "Set the meter to code 25" in words(person)


def with_bottle(person: Writer) -> None:
    open_pot(person)
    press(person, "New bottle")
    fill(person, "Level", "normal")
    press(person, "It is open")


def control_test(person: Writer, shown: str, warmth: str = "") -> None:
    person.clock[0] += timedelta(minutes=10)
    press(person, "Control test")
    fill(person, "What the meter shows", shown)
    fill(person, "Room temperature", warmth)
    press(person, "Keep the test")


def test_one_failed_test_shows_what_to_look_at_and_a_second_says_stop(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        with_bottle(person)
        press(person, "Control test")
        fill(person, "Lowest of the range", "96")
        fill(person, "Highest of the range", "130")
        fill(person, "What the meter shows", "110")
        press(person, "Keep the test")
        control_test(person, "180", "62")  # 62 °F are 16.7 °C
        assert person.book.kit().control_tests[-1].temperature_tenths == 167
        assert "Was the first drop wiped away?" in words(person)
        assert "It was colder than 20 °C (68 °F)." in person.message + words(person)
        control_test(person, "176")
        assert "Stop using these strips." in words(person)

        press(person, "Results")
        assert words(person).count("don't agree") == 2
        failed = [one for one in buttons_of(person, "Cross out") if "176" in described(one)]
        person.window.page.scrolled.show_part(failed[0])
        person.click(failed[0])
        assert words(person).count("don't agree") == 1
        person.book.undo()
        assert all(test.counts for test in person.book.kit().control_tests)


def test_readings_between_a_pass_and_two_fails_are_marked_in_the_log(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=(WriteDown, LookBack, Kit)) as person:
        with_bottle(person)
        press(person, "Control test")
        fill(person, "Lowest of the range", "96")
        fill(person, "Highest of the range", "130")
        fill(person, "What the meter shows", "110")
        press(person, "Keep the test")
        person.clock[0] += timedelta(minutes=10)
        person.window.show_page("write_down")
        settle()
        person.press("1", "2", "8", "Save 128 mg/dL")
        show_kit(person)
        control_test(person, "180")

        def each_reading() -> str:
            person.window.show_page("look_back")
            settle()
            page = person.window.page
            assert isinstance(page, LookBack)
            page.turn_to("time")
            press(person, "Each reading")
            told = words(person)
            page.turn_to("main")
            return told

        assert "Two control tests failed" not in each_reading()  # one alone proves nothing
        show_kit(person)
        control_test(person, "176")
        told = each_reading()
        assert "128 mg/dL" in told
        assert "Two control tests failed after this reading. The number may be wrong." in told


def test_how_often_a_control_test_is_asked_for(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        with_bottle(person)
        control_test(person, "110")
        press(person, "Results", "Every 14 days")
        assert person.book.settings.control_interval_days == 14
        person.book.undo()
        assert person.book.settings.control_interval_days is None


def test_a_clock_that_is_off_is_kept_until_it_was_set_right(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "Write down what happened", "Clock checked", "It is behind", "No")
        press(person, "Write it down")
        assert "Write the minutes as a number" in words(person)
        fill(person, "By how many minutes?", "7")
        press(person, "Write it down")
        (meter,) = person.book.meters()
        assert meter.clock_ahead == timedelta(minutes=-7)
        assert "The meter's clock is 7 minutes behind." in words(person)
        press(person, "Write down what happened", "Clock checked", "It is right", "Write it down")
        assert person.book.meters()[0].clock_ahead == timedelta(0)


def test_a_second_meter_has_strips_of_its_own(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        for name in ("bedside", "handbag"):
            press(person, buttons_of(person, "My meters")[0], "Add a meter")
            fill(person, "What do you call it?", name)
            press(person, "Keep this meter", "Back")
        press(person, buttons_of(person, "Write down the open pot")[0])
        fill(person, "Printed date", "03/2027")
        press(person, "It is open")
        (vial,) = person.book.kit().vials
        assert vial.meter_id == person.book.meters()[0].id

        press(person, "Add an unopened pot", "handbag")
        fill(person, "Printed date", "05/2027")
        press(person, "Keep it")
        assert {vial.meter_id for vial in person.book.kit().vials} == {
            meter.id for meter in person.book.meters()
        }


def test_a_meter_gets_other_limits_and_goes_out_of_use(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "My meters", "Add a meter")
        fill(person, "What do you call it?", "old")
        fill(person, "Lowest number it can show", "600")
        fill(person, "Highest number it can show", "20")
        press(person, "Keep this meter")
        assert "The highest must lie above the lowest." in words(person)
        fill(person, "Lowest number it can show", "10")
        fill(person, "Highest number it can show", "500")
        press(person, "Keep this meter")
        (meter,) = person.book.meters()
        assert (meter.lowest, meter.highest) == (10, 500)
        person.clock[0] += timedelta(days=3)
        press(person, "old", "No longer", "Keep this meter")
        today = person.window.desk.today()
        assert not person.book.meters()[0].is_in_use(today)
        assert person.book.meters()[0].is_in_use(today - timedelta(days=1))


def test_meter_and_laboratory_are_put_beside_one_another(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "My meters", "Add a meter")
        fill(person, "What do you call it?", "bedside")
        press(person, "Keep this meter", "bedside", "Compare with the laboratory")
        fill(person, "What the meter showed", "231")
        fill(person, "What the laboratory found", "200")
        fill(person, "Minutes between the two", "5")
        press(person, "Yes", "Compare")
        # ISO 15197:2013: within 15 % from 100 mg/dL on, so 170 to 230 mg/dL beside 200 mg/dL.
        assert "The meter is outside 170 to 230 mg/dL." in words(person)
        (pair,) = person.book.kit().lab_comparisons
        assert (pair.minutes_apart, pair.was_fasting) == (5, True)


def test_pen_needles_and_what_lies_in_the_container_are_counted(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "Start a container")
        fill(person, "How many sharps does it hold?", "60")
        fill(person, "Sharps that are in it already", "10")
        fill(person, "Pen needles a day", "4")
        press(person, "Start it today")
        person.pass_time(days=7)
        # 10 and 4 a day over 8 days, both ends included, are 42: two thirds of 60 are 40.
        assert "About 42 sharps went in. Look at the fill line" in words(person)


def test_a_thing_for_lows_is_changed_and_taken_off(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        press(person, "Add or change", "Add something", "Glucagon")
        fill(person, "Printed date", "05/2026")
        press(person, "Keep it", "Add or change", "Glucagon")
        assert [field.text() for field in fields_of(person, "Printed date")] == ["05/2026"]
        fill(person, "Printed date", "")
        fill(person, "Who knows how to use it?", "Bea")
        press(person, "Keep it")
        (supply,) = person.book.kit().low_supplies
        assert (supply.kind, supply.expires, supply.who_knows) == (ForLows.GLUCAGON, None, "Bea")
        press(person, "Add or change", "Glucagon", "It is used up or thrown away")
        assert "Glucagon" not in words(person).replace("glucagon", "")
        person.book.undo()
        assert person.book.kit().low_supplies == (supply,)


def test_the_refill_list_names_the_exact_type_and_becomes_a_paper(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        press(person, "Refill list", "Add something to the list")
        press(person, "Keep it")
        assert "Write what stands on the pack." in words(person)
        fill(person, "Its exact type", "invented strips, type 9")
        press(person, "Keep it", "Add something to the list", "Lancets")
        fill(person, "Its exact type", "invented lancets, 33 gauge")
        fill(person, "How many are there?", "80")
        press(person, "Keep it")
        page = person.window.page
        assert isinstance(page, Kit)
        paper = page.paper
        paper.want()
        qtbot.waitUntil(lambda: paper.state is State.MADE)
        with PaperFile(paper.content) as pages:
            printed = " ".join(pages.words(page) for page in range(pages.page_count))
        for text in ("invented strips, type 9, 50 there", "invented lancets, 33 gauge, 80 there"):
            assert text in printed
        assert "Only what fits your meter." in printed

        press(person, "When to order")
        fill(person, "Days from ordering to having", "21")
        press(person, "Keep these")
        assert person.book.settings.delivery_days == 21
        press(person, "Lancets", "Take it off the list")
        assert [one.kind for one in person.book.kit().supplies if one.ended_on is None] == [
            SupplyKind.STRIPS
        ]


def test_strips_on_the_refill_list_are_for_one_of_several_meters(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        show_kit(person)
        for name in ("bedside", "handbag"):
            press(person, buttons_of(person, "My meters")[0], "Add a meter")
            fill(person, "What do you call it?", name)
            press(person, "Keep this meter", "Back")
        press(person, buttons_of(person, "Refill list")[0], "Test strips for handbag")
        fill(person, "Its exact type", "invented strips, type 3")
        press(person, "Keep it")
        (supply,) = person.book.kit().supplies
        handbag = next(one for one in person.book.meters() if one.name == "handbag")
        assert supply.meter_id == handbag.id
        press(person, "Test strips for handbag", "Lancets", "Keep it")
        (supply,) = person.book.kit().supplies
        assert (supply.kind, supply.meter_id) == (SupplyKind.LANCETS, None)


def test_the_plan_says_how_long_strips_last_where_it_takes_more(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, pages=PAGES) as person:
        open_pot(person)
        assert "Too little is known to say how long they last." in words(person)
        today = person.window.desk.today()
        checks = tuple(
            PlannedCheck(slot, time(hour))
            for slot, hour in ((Slot.FASTING, 7), (Slot.BEFORE_LUNCH, 12), (Slot.BEDTIME, 22))
        )
        person.book.add(CheckPlan(uuid4(), today, checks, person.clock[0]))
        settle()
        # 50 strips at 3 a day are 16 days and 2 strips: the last whole day is the 15th from today.
        assert today == date(2026, 3, 31)
        assert "Enough until April 15, 2026." in words(person)
