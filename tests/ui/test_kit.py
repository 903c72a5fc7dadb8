"""*Kit* on screen: large enough, whole, with names to say, in order, with nothing shown twice."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import AbstractContextManager
from datetime import date, timedelta
from itertools import pairwise
from pathlib import Path
from uuid import UUID, uuid4

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlBottle, ControlTest
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.meter_care import LabComparison, MeterEvent, MeterWhat
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.strips import ControlRange, Vial
from logbook.domain.kit.supplies import ForLows, LowSupply, Supply, SupplyKind
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings
from logbook.ui.pages.kit import Kit
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.chart_control import ControlChart
from logbook.ui.parts.texts import Words
from tests.ui.test_geometry import LAPTOP, WIDE, faults_of
from tests.ui.writing_window import NOON, ZONE, Writer, habit, settle, writing_window

SIZES = [(LAPTOP, 100), (WIDE, 100), (LAPTOP, 125), (LAPTOP, 150), (LAPTOP, 200), (WIDE, 200)]
BEDSIDE, HANDBAG = UUID(int=1), UUID(int=2)
# What the control tests show of the range 96 to 130: inside twice, above, far above, below.
SHOWN = (112, 99, 141, 400, 60)


def fill(book: Book) -> None:
    """Two meters and something of everything, all of it invented, with long names."""
    habit(book)
    unit, opened = Unit.MG_DL, NOON - timedelta(days=30)
    bedside = Meter.usual(BEDSIDE, "bedside", unit, date(2026, 1, 2))
    handbag = Meter.usual(HANDBAG, "handbag, the small one", unit, date(2026, 2, 2))
    vial = Vial(
        uuid4(),
        BEDSIDE,
        50,
        opened,
        lot="INVENTED-LOT-12345",
        code="17",
        expires=PrintedDate.from_code("2026-04"),
        after_opening=AfterOpening.from_code("90d"),
        opened_at=opened,
        opened_on=opened.date(),
        ranges=(ControlRange("normal", unit, 96, 130),),
    )
    bottle = ControlBottle(
        uuid4(),
        "normal",
        opened,
        after_opening=AfterOpening.from_code("3m"),
        opened_on=opened.date(),
    )
    tests = []
    for number, shown in enumerate(SHOWN):
        at = Moment.at(NOON - timedelta(days=20 - 3 * number), ZONE)
        glucose = Glucose.number(shown, unit)
        tests.append(
            ControlTest(
                uuid4(), at, at.instant, BEDSIDE, vial.id, bottle.id, "normal", glucose, 180
            )
        )
    now = Moment.at(NOON, ZONE)
    book.add(
        bedside,
        handbag,
        vial,
        Vial(uuid4(), BEDSIDE, 50, NOON, expires=PrintedDate.from_code("2027-03")),
        bottle,
        *tests,
        MeterEvent(uuid4(), BEDSIDE, MeterWhat.DROPPED, now, NOON),
        MeterEvent(uuid4(), HANDBAG, MeterWhat.CLOCK_CHECKED, now, NOON, 3),
        LabComparison(
            uuid4(), BEDSIDE, now, NOON, Glucose.number(150, unit), Glucose.number(120, unit), 40
        ),
        SharpsContainer(uuid4(), date(2026, 1, 2), NOON, capacity=60, closed_on=date(2026, 3, 1)),
        SharpsContainer(uuid4(), date(2026, 3, 1), NOON, capacity=70),
        LowSupply(
            uuid4(),
            ForLows.GLUCAGON,
            NOON,
            place="in the kitchen drawer",
            who_knows="Bea (next door)",
        ),
        LowSupply(uuid4(), ForLows.GLUCOSE_TABLETS, NOON, expires=PrintedDate.from_code("2026-04")),
        Supply(uuid4(), SupplyKind.STRIPS, "invented strips, type 9", NOON),
        Supply(
            uuid4(), SupplyKind.LANCETS, "invented lancets, 33 gauge", NOON, 80, date(2026, 3, 9)
        ),
    )


def kit_window(
    tmp_path: Path, *, size: tuple[int, int] = LAPTOP, percent: int = 100
) -> AbstractContextManager[Writer]:
    """The window with *Kit* on the filled log."""
    return writing_window(
        tmp_path,
        pages=(WriteDown, Kit),
        prepare=fill,
        settings=LogSettings(home_zone=ZONE, country="US"),
        size=size,
        percent=percent,
    )


def walk(person: Writer) -> Iterator[str]:
    """Every view, about the first meter and about none; those with a subject with one, too."""
    window = person.window
    window.show_page("kit")
    page = window.page
    assert isinstance(page, Kit)
    kit = person.book.kit()
    chosen = {
        "one_meter": kit.meters[0].id,
        "low_supply": kit.low_supplies[0].id,
        "supply": kit.supplies[0].id,
    }
    for name in page.makers:
        for meter_id in (BEDSIDE, None):
            if name in ("print", "save"):
                continue  # they look for printers and sticks of this very computer
            page.meter_id = meter_id
            page.chosen_id = chosen.get(name) if meter_id is not None else None
            page.turn_to(name)
            settle()
            yield f"{name} of {'a meter' if meter_id else 'none'}"


@pytest.mark.parametrize(("size", "percent"), SIZES)
def test_everything_is_large_enough_and_whole(
    qtbot: QtBot, tmp_path: Path, size: tuple[int, int], percent: int
) -> None:
    with kit_window(tmp_path, size=size, percent=percent) as person:
        faults: list[str] = []
        for step in walk(person):
            faults += [f"{step}: {fault}" for fault in faults_of(person.window)]
            if person.window.size().toTuple() != size:
                faults.append(f"{step} made the window grow to {person.window.size().toTuple()}")
                person.window.resize(*size)
        assert not faults, "\n".join(faults)


def test_at_the_largest_text_nothing_reaches_beside_the_window(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with kit_window(tmp_path, percent=300) as person:
        for step in walk(person):
            scrolled = person.window.page.scrolled
            assert scrolled.content.width() <= scrolled.area.viewport().width(), step


def focusable(window: QWidget) -> list[QWidget]:
    return [
        one
        for one in window.findChildren(QWidget)
        if one.isVisible() and one.focusPolicy() & Qt.FocusPolicy.TabFocus
    ]


def test_whatever_takes_the_keyboard_has_a_name_of_its_own(qtbot: QtBot, tmp_path: Path) -> None:
    with kit_window(tmp_path) as person:
        faults = []
        for step in walk(person):
            seen: set[tuple[str, str]] = set()
            for one in focusable(person.window):
                told = QAccessible.queryAccessibleInterface(one)
                name = told.text(QAccessible.Text.Name)
                if not name:
                    faults.append(f"{step}: {one} has no name")
                if told.role() in (QAccessible.Role.NoRole, QAccessible.Role.Client):
                    faults.append(f"{step}: {name} has no role")
                both = (name, told.text(QAccessible.Text.Description))
                if isinstance(one, BigButton) and both in seen:
                    faults.append(f"{step}: {both} twice")
                seen.add(both)
        assert not faults, "\n".join(faults)


def test_tab_goes_through_a_view_as_the_eye_does(qtbot: QtBot, tmp_path: Path) -> None:
    with kit_window(tmp_path) as person:
        faults = []
        for step in walk(person):
            page = person.window.page
            assert isinstance(page, Kit)
            view = page.view
            view.setFocus()
            order: list[QWidget] = []
            while True:
                person.type("Tab")
                reached = QApplication.focusWidget()
                if reached is None or not view.isAncestorOf(reached) or reached in order:
                    break
                order.append(reached)
            # Arrows, not Tab, go along the tiles of one choice.
            missed = [
                one
                for one in focusable(view)
                if one not in order and not (isinstance(one, BigButton) and one.isCheckable())
            ]
            faults += [f"{step}: Tab does not reach {one.accessibleName()}" for one in missed]
            places = [one.mapTo(view, QPoint(0, 0)) for one in order]
            for first, second in pairwise(places):
                if second.y() < first.y() - 40 and second.x() <= first.x():
                    faults.append(f"{step}: Tab goes up from {first} to {second}")
        assert not faults, "\n".join(faults)


def test_there_is_a_card_for_each_thing(qtbot: QtBot, tmp_path: Path) -> None:
    with kit_window(tmp_path) as person:
        person.window.show_page("kit")
        settle()
        cards = [card.accessibleName() for card in person.window.page.findChildren(Card)]
        assert cards == [
            "Strips: bedside",
            "Control solution: bedside",
            "Strips: handbag, the small one",
            "Control solution: handbag, the small one",
            "Meter: bedside",
            "Meter: handbag, the small one",
            "Lancets",
            "Sharps container",
            "For lows",
            "Stock",
        ]
        for card in person.window.page.findChildren(Card):
            assert [one for one in card.findChildren(Words) if one.text()][1:], "no state in words"
            assert 1 <= len(card.findChildren(BigButton)) <= 3


def test_the_picture_of_the_tests_says_each_in_words_and_keeps_all_marks_inside(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with kit_window(tmp_path) as person:
        person.window.show_page("kit")
        page = person.window.page
        assert isinstance(page, Kit)
        page.meter_id = BEDSIDE
        page.turn_to("results")
        settle()
        chart = page.findChild(ControlChart)
        assert isinstance(chart, ControlChart)
        told = chart.accessibleDescription()
        assert all(f"{shown} mg/dL" in told for shown in SHOWN)
        assert told.count("Strips and meter work.") == 2
        assert told.count("Strips and meter don't agree.") == 3
        assert told.count("It was colder than 20 °C (68 °F).") == len(SHOWN)
        # Worked out by hand: (99 - 96) / 34 = 0.088; (141 - 96) / 34 = 1.324; 400 is 8.94.
        places = [round(test.position, 3) for test in chart.shown()]
        assert places == [0.471, 0.088, 1.324, 8.941, -1.059]
        plot = chart._plot()
        assert all(plot.top() <= chart._y(plot, place) <= plot.bottom() for place in places)
        assert chart._y(plot, 8.941) < chart._y(plot, 1.324) < chart._y(plot, 0.088)


def test_a_meter_that_must_not_be_used_says_so_and_can_be_fit_again(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with kit_window(tmp_path) as person:
        person.window.show_page("kit")
        page = person.window.page
        assert isinstance(page, Kit)
        now = Moment.at(person.clock[0], ZONE)
        person.book.add(MeterEvent(uuid4(), HANDBAG, MeterWhat.NOT_FOR_DECISIONS, now, now.instant))
        settle()
        card = next(
            one
            for one in page.findChildren(Card)
            if one.isVisible() and one.accessibleName().startswith("Meter: hand")
        )
        said = " ".join(one.text() for one in card.findChildren(Words))
        assert "Do not use this meter for decisions." in said
        page.meter_id = HANDBAG
        page.turn_to("meter")
        settle()
        assert person.button("Fit for use again").isVisible()
