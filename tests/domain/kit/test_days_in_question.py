"""On which days a reading can be in question: no such reading lies outside them."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.suspects import days_in_question, suspect_readings
from logbook.domain.kit.vial_life import out_of_date
from logbook.domain.moments import Period
from logbook.domain.settings import LogSettings
from tests.domain.kit.invented_kit import at, control, day, meter, reading, vial

SETTINGS = LogSettings()
PERIOD = Period(day(3), day(40))
# The zones furthest from Greenwich on either side, and one between.
ZONES = ("Pacific/Kiritimati", "Pacific/Pago_Pago", "America/Chicago")

DAYS = st.integers(0, 50 * 24).map(lambda hours: hours / 24)
TESTS = st.lists(st.tuples(DAYS, st.sampled_from([120, 190])), max_size=6)


@given(
    opened=st.lists(st.tuples(DAYS, DAYS, st.integers(1, 20)), max_size=3),
    tests=TESTS,
    zone=st.sampled_from(ZONES),
)
def test_every_reading_in_question_lies_on_one_of_them(
    opened: list[tuple[float, float, int]], tests: list[tuple[float, int]], zone: str
) -> None:
    kit = KitData(
        meters=(meter(),),
        vials=tuple(vial(first, ended=first + end, after=f"{n}d") for first, end, n in opened),
        control_tests=tuple(control(days, value) for days, value in sorted(tests)),
    )
    readings = [replace(reading(0), at=at(hours / 8, zone)) for hours in range(8 * 50)]
    readings = [
        replace(one, id=type(one.id)(int=n))
        for n, one in enumerate(readings)
        if one.at.day(SETTINGS.day_starts_at) in PERIOD
    ]
    spans = days_in_question(kit, SETTINGS, PERIOD)
    asked = {*suspect_readings(readings, kit, SETTINGS)}
    asked |= {one.reading_id for one in out_of_date(readings, kit, SETTINGS)}
    for one in readings:
        if one.id in asked:
            assert any(one.at.day(SETTINGS.day_starts_at) in span for span in spans)
    for earlier, later in pairwise(spans):
        assert earlier.last < later.first
    assert all(span.first in PERIOD and span.last in PERIOD for span in spans)


def test_a_sound_kit_has_none() -> None:
    kit = KitData(
        meters=(meter(),),
        vials=(vial(0, ended=20, after="90d"), vial(20)),
        control_tests=(control(1, 120), control(20, 118), control(30, 190)),
    )
    assert days_in_question(kit, SETTINGS, PERIOD) == ()


def test_strips_past_their_date_are_in_question_until_they_are_put_away() -> None:
    kit = KitData(meters=(meter(),), vials=(vial(0, ended=20, after="10d"),))
    (span,) = days_in_question(kit, SETTINGS, PERIOD)
    assert (span.first, span.last) == (day(10), day(21))
    in_use = KitData(meters=(meter(),), vials=(vial(0, after="10d"),))
    (span,) = days_in_question(in_use, SETTINGS, PERIOD)
    assert span.last == PERIOD.last
