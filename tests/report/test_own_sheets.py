"""The person's own sheets, read back by an independent PDF reader (pypdf and PDFium).

The card's size is that of ISO/IEC 7810 ID-1, 85.60 by 53.98 mm, as bank cards are.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time
from uuid import uuid4

import pytest

from logbook.domain.glucose import Unit
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan, PlannedCheck
from logbook.domain.settings import HandsPricked, LogSettings
from logbook.domain.sites import FINGERS, OTHER_PLACES
from logbook.domain.slots import Slot
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetBook, TargetKind
from logbook.domain.ticks import About, Tick, TickBook, Told
from logbook.domain.visits import Appointment, Contact, Medicine
from logbook.report.options import Paper, ReportOptions
from logbook.report.own_facts import OwnFacts
from logbook.report.own_sheets import own_sheet
from logbook.wording.own_sheets import OwnSheet
from tests.report.reading_back import Printed

NOW = datetime(2026, 11, 25, 17, tzinfo=UTC)
MM = 72 / 25.4
BLANK = (OwnSheet.WEEK, OwnSheet.MONTH, OwnSheet.PROFILE, OwnSheet.HANDS)


def target(kind: TargetKind, low: int, high: int, *, is_agreed: bool = True) -> Target:
    limits = Limits(Unit.MG_DL, Limit(Operator.AT_LEAST, low), Limit(Operator.AT_MOST, high))
    return Target(
        uuid4(),
        kind,
        (limits,),
        date(2026, 9, 2),
        SetBy.PROVIDER,
        is_agreed=is_agreed,
        written_at=NOW,
    )


def facts(**other: object) -> OwnFacts:
    made = OwnFacts(
        settings=LogSettings(
            person_name="Ada Invented",
            born="March 3, 1948",
            country="US",
            high_plan="Above 300 mg/dL twice: phone the practice.",
            hands_pricked=HandsPricked.BOTH,
        ),
        made_at=Moment.at(NOW, "America/New_York"),
        medicines=(
            Medicine(uuid4(), "Inventolin 10 units", date(2026, 1, 1)),
            Medicine(uuid4(), "Oldmedicine", date(2025, 1, 1), date(2026, 2, 1)),
        ),
        contacts=(
            Contact(uuid4(), "person", "Berta Invented", "555 0100"),
            Contact(uuid4(), "provider", "Dr. Invented", "555 0101"),
        ),
        targets=TargetBook(
            [
                target(TargetKind.FASTING, 80, 130),
                target(TargetKind.BEDTIME, 90, 150, is_agreed=False),
            ]
        ),
        ticks=TickBook([]),
        plan=CheckPlan(
            uuid4(),
            date(2026, 9, 2),
            (
                PlannedCheck(Slot.FASTING, time(7, 30)),
                PlannedCheck(Slot.BEFORE_DINNER, time(18), weekdays=(0, 3)),
            ),
            NOW,
            profile_days=3,
        ),
        low_supplies=(
            LowSupply(uuid4(), ForLows.GLUCAGON, NOW, place="fridge door", who_knows="Berta"),
        ),
        appointment=Appointment(uuid4(), date(2026, 12, 1), time(10, 30), "Dr. Invented"),
    )
    return replace(made, **other)  # type: ignore[arg-type]


def printed(sheet: OwnSheet, given: OwnFacts, paper: Paper = Paper.LETTER) -> Printed:
    return Printed(own_sheet(sheet, given, ReportOptions(paper=paper)))


def whole(sheet: OwnSheet, given: OwnFacts) -> str:
    return " ".join(printed(sheet, given).whole_text.split())


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("sheet", list(OwnSheet))
def test_each_is_one_page_with_nothing_beyond_its_edges(sheet: OwnSheet, paper: Paper) -> None:
    made = printed(sheet, facts(), paper)
    assert made.page_count == 1
    width, height = made.size(0)
    sides = sorted(paper.size)
    assert sorted((width, height)) == pytest.approx(sides, abs=0.5)
    for one in made.characters(0):
        assert 0 <= one.left <= one.right <= width
        assert 0 <= one.bottom <= one.top <= height
    assert made.undefined_glyphs() == []


def test_the_plan_sheet_has_all_that_was_agreed() -> None:
    text = whole(OwnSheet.PLAN, facts())
    for told in (
        "Ada Invented",
        "Fasting (before breakfast), about 7:30",
        "Monday, Thursday",
        "80 to 130 mg/dL",
        "not yet agreed with your provider",
        "phone the practice",
        "Inventolin 10 units",
        "Berta Invented 555 0100",
        "Emergency: 911",
        "December 1, 2026",
    ):
        assert told in text, told
    assert "Oldmedicine" not in text


def test_own_plan_for_a_low_stands_in_place_of_the_usual_cautions() -> None:
    usual = whole(OwnSheet.PLAN, facts())
    assert "Take 15 grams of fast sugar now" in usual
    own = replace(facts().settings, low_plan="Four tablets from the red tin.")
    text = whole(OwnSheet.PLAN, facts(settings=own))
    assert "Four tablets from the red tin." in text
    assert "Take 15 grams" not in text


def test_large_letters_on_plan_and_fridge_sheet() -> None:
    for sheet in (OwnSheet.PLAN, OwnSheet.FRIDGE):
        sizes = [one.size for one in printed(sheet, facts()).characters(0)]
        large = [size for size in sizes if size >= 15.9]
        assert len(large) > 0.7 * len(sizes), sheet


def test_a_long_plan_goes_on_on_a_second_page_and_loses_nothing() -> None:
    long = replace(facts().settings, sick_day_plan="Drink a little. " * 150 + "The very end.")
    made = printed(OwnSheet.PLAN, facts(settings=long))
    assert made.page_count > 1
    assert "The very end." in " ".join(made.whole_text.split())


@pytest.mark.parametrize("sheet", [OwnSheet.WALLET, OwnSheet.FRIDGE])
def test_others_learn_what_to_do_and_whom_to_phone(sheet: OwnSheet) -> None:
    text = whole(sheet, facts())
    assert "can swallow: give me glucose tablets, or half a cup of juice" in text
    assert "give nothing by mouth" in text
    assert "Call 911" in text
    assert "Berta Invented 555 0100" in text


@pytest.mark.parametrize("sheet", [OwnSheet.WALLET, OwnSheet.FRIDGE, OwnSheet.PLAN])
def test_no_juice_where_tablets_slow_other_sugar_down(sheet: OwnSheet) -> None:
    slow = TickBook([Tick(uuid4(), About.SLOWS_SUGAR, Told.YES, date(2026, 1, 1), NOW)])
    assert "cup of juice" not in whole(sheet, facts(ticks=slow))
    assert "cup of juice" in whole(sheet, facts())  # the control: the words would be found


def test_the_fridge_sheet_tells_where_things_are() -> None:
    text = whole(OwnSheet.FRIDGE, facts())
    assert "fridge door" in text
    assert "Berta" in text


def test_the_card_is_as_large_as_a_bank_card() -> None:
    boxes = list(printed(OwnSheet.WALLET, facts()).drawn_boxes(0))
    cards = {
        (round((right - left) / MM, 1), round((top - bottom) / MM, 1))
        for left, bottom, right, top in boxes
        if top - bottom > 40 * MM and right - left > 40 * MM
    }
    assert cards, boxes
    for width, height in cards:
        assert width == pytest.approx(85.6, abs=0.5)
        assert height == pytest.approx(53.98, abs=0.5)


def test_a_card_with_too_much_says_where_the_rest_is() -> None:
    many = tuple(Medicine(uuid4(), f"Invented number {n}", date(2026, 1, 1)) for n in range(30))
    text = whole(OwnSheet.WALLET, facts(medicines=many))
    assert "More on my plan sheet." in text
    assert "Berta Invented 555 0100" in text
    made = printed(OwnSheet.WALLET, facts(medicines=many))
    assert min(one.size for one in made.characters(0)) >= 7.9


@pytest.mark.parametrize("sheet", BLANK)
def test_blank_sheets_have_the_unit_and_no_number_of_a_reading(sheet: OwnSheet) -> None:
    text = whole(sheet, facts())
    assert "mg/dL" in text or sheet is OwnSheet.HANDS
    assert "130" not in text
    mmol = replace(facts().settings, unit=Unit.MMOL_L)
    if sheet is not OwnSheet.HANDS:
        assert "mmol/L" in whole(sheet, facts(settings=mmol))


def test_columns_are_those_of_the_plan_and_all_usual_ones_without_one() -> None:
    with_plan = whole(OwnSheet.WEEK, facts())
    without = whole(OwnSheet.WEEK, facts(plan=None))
    assert "lunch" not in with_plan
    assert "lunch" in without
    assert "Bedtime" in without


def test_seven_checks_a_day_on_three_days() -> None:
    """Polonsky and colleagues, Diabetes Care 2011;34:262: seven points on three days."""
    text = whole(OwnSheet.PROFILE, facts())
    assert text.count("Before lunch") == 3
    assert text.count("Bedtime") == 3


@pytest.mark.parametrize("paper", list(Paper))
def test_the_hands_show_which_row_a_fingertip_has(paper: Paper) -> None:
    """Palms up, thumbs point outwards: the left hand's thumb sides lie at the left of each finger.

    Anatomy as one sees it on one's own hands; the places of the numbers are read by PDFium.
    """
    made = printed(OwnSheet.HANDS, facts(), paper)
    text = " ".join(made.whole_text.split())
    assert "Left middle finger: 1 thumb side, 2 little-finger side" in text
    assert "Right little finger: 11 inner edge, 12 outer edge" in text
    # In the upper left of the page the numbers over the fingertips are the only digits.
    wide, high = made.size(0)
    over = [
        one
        for one in made.characters(0)
        if one.text.isdigit() and one.bottom > 0.55 * high and one.left < 0.44 * wide
    ]
    from_left = "".join(one.text for one in sorted(over, key=lambda one: one.left))
    assert from_left == "123456" + "121110987"


@pytest.mark.parametrize("paper", list(Paper))
def test_no_head_of_a_blank_month_runs_into_the_next(paper: Paper) -> None:
    """The letters are read from left to right as PDFium finds them: an overlap would mix them."""
    made = printed(OwnSheet.MONTH, facts(plan=None), paper)
    assert "breakfast breakfast lunch lunch dinner dinner" in made.lines(0)


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("sheet", [OwnSheet.WEEK, OwnSheet.PROFILE])
def test_what_is_filled_in_by_hand_is_in_large_print(sheet: OwnSheet, paper: Paper) -> None:
    """All but the footer, with a plan of a few checks a day; sizes as PDFium reads them."""
    made = printed(sheet, facts(), paper)
    above = [one.size for one in made.characters(0) if one.bottom > 70 and one.text.strip()]
    assert above
    assert min(above) >= 14.9, sorted(set(above))


@pytest.mark.parametrize("paper", list(Paper))
def test_the_sheet_for_the_fingers_is_in_large_print(paper: Paper) -> None:
    """All but the numbers over the fingertips, which must not touch those of the next one."""
    made = printed(OwnSheet.HANDS, facts(), paper)
    high = made.size(0)[1]
    characters = [one for one in made.characters(0) if one.bottom > 70 and one.text.strip()]
    lower = [one.size for one in characters if one.bottom < 0.5 * high]
    assert lower
    assert min(lower) >= 13.9
    assert min(one.size for one in characters) >= 11


def test_with_every_finger_and_other_places_in_use_each_row_is_named() -> None:
    """Too many rows for large print: then the names stand at the rows."""
    every = replace(
        facts().settings, fingers_in_use=tuple(FINGERS), other_places_in_use=tuple(OTHER_PLACES)
    )
    text = " ".join(printed(OwnSheet.HANDS, facts(settings=every)).whole_text.split())
    assert "1. Left thumb, " in text
    assert "26. Right thigh" in text


def test_strange_texts_are_printed_or_boxed_and_break_nothing() -> None:
    odd = (Contact(uuid4(), "person", "שלום 李 \u202e x" * 20, "555\n0100"),)
    for sheet in OwnSheet:
        assert printed(sheet, facts(contacts=odd)).page_count >= 1
