"""Temperatures as they are typed; 68 °F are 20 °C and 77 °F are 25 °C by the definition of both."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.domain.kit.dates import PrintedDate
from logbook.wording.temperatures import read_temperature, temperature_unit
from logbook.wording.typed_printed_dates import read_printed_date, typed_printed_text


@pytest.mark.parametrize(
    ("text", "country", "tenths"),
    [
        ("68", "US", 200),
        ("77 °F", "US", 250),
        ("32", "US", 0),
        ("21,5", "DE", 215),
        ("20 °C", "CA", 200),
        ("-5", "SE", -50),
    ],
)
def test_is_kept_in_tenths_of_a_degree_celsius(text: str, country: str, tenths: int) -> None:
    assert read_temperature(text, country) == tenths


@pytest.mark.parametrize("text", ["", "warm", "nan", "inf", "900", "2 1"])
def test_what_is_no_temperature_of_a_room_is_none(text: str) -> None:
    assert read_temperature(text, "DE") is None


def test_the_unit_follows_the_country() -> None:
    assert (temperature_unit("US"), temperature_unit("GB"), temperature_unit("")) == (
        "°F",
        "°C",
        "°C",
    )


@pytest.mark.parametrize("code", ["2027-03", "2027-12", "2027-03-15", "2028-02-29"])
def test_a_printed_date_is_shown_as_it_can_be_typed(code: str) -> None:
    printed = PrintedDate.from_code(code)
    assert read_printed_date(typed_printed_text(printed), date(2026, 3, 31)) == printed


def test_no_printed_date_is_nothing() -> None:
    assert typed_printed_text(None) == ""
