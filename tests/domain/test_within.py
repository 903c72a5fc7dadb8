"""A period found in a long series by its instants, in whatever zone its readings were made."""

from __future__ import annotations

from datetime import date, datetime, time

from hypothesis import given
from hypothesis import strategies as st

from logbook.domain.moments import Period, person_day
from logbook.domain.within import counted_within, places_near
from tests.domain.series_of import reading, series_of

# The ends of the world's clocks, UTC+14 and UTC-11, and a zone whose clocks change on 29 March.
_ZONES = ("Pacific/Kiritimati", "Pacific/Pago_Pago", "Europe/London", "UTC")

_MADE = st.tuples(
    st.datetimes(
        min_value=datetime(2026, 3, 20),
        max_value=datetime(2026, 4, 10),
    ).map(lambda wall: wall.replace(second=0, microsecond=0)),
    st.sampled_from(_ZONES),
    st.booleans(),
)


@given(
    made=st.lists(_MADE, max_size=30),
    first=st.integers(20, 31),
    days=st.integers(1, 10),
    hour=st.integers(0, 8),
)
def test_exactly_the_readings_of_the_persons_days_are_found(
    made: list[tuple[datetime, str, bool]], first: int, days: int, hour: int
) -> None:
    starts_at = time(hour)
    period = Period.ending(date(2026, 3, first), days)
    readings = [
        reading(wall.isoformat(" "), "120", zone=zone, crossed_out=out) for wall, zone, out in made
    ]
    wanted = {
        str(one.id)
        for one in readings
        if one.counts and person_day(one.at.wall, starts_at) in period
    }
    series = series_of(readings)
    found = [series.ids[index] for index in counted_within(series, period, starts_at)]
    assert set(found) == wanted
    assert len(found) == len(wanted)


def test_only_the_neighbouring_days_of_a_long_log_are_looked_at() -> None:
    series = series_of(
        reading(f"20{year}-{month:02}-15 07:00", "120")
        for year in range(10, 26)
        for month in range(1, 13)
    )
    near = places_near(series, *Period(date(2020, 6, 15), date(2020, 6, 15)).wall_minutes())
    assert [series.wall_minutes[index] // 1440 for index in near] == [
        (date(2020, 6, 15) - date(1970, 1, 1)).days
    ]
    assert not places_near(series, *Period(date(2030, 1, 1), date(2030, 1, 2)).wall_minutes())
