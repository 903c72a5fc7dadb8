"""Two versions in words: every field of every record has a name, and every value can be said."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime
from typing import Any, get_args
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.domain.actions import Record
from logbook.domain.disagreements import Disagreement
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.meters import Meter
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.moments import Moment
from logbook.domain.readings import CrossedOut
from logbook.domain.settings import LogSettings
from logbook.domain.visits import Contact
from logbook.wording.side_by_side import LABELS, NOT_SHOWN, differing, said_value_text
from tests.store.records import make_reading
from tests.store.strategies import log_settings, record_lists

NOW = Moment.at(datetime(2026, 3, 31, 12, tzinfo=UTC), "UTC")
_ID, DAY = UUID(int=9, version=4), date(2026, 3, 1)
KINDS = [kind for kind in get_args(Record) if kind is not Disagreement]


@pytest.mark.parametrize("kind", KINDS)
def test_every_field_has_a_name(kind: type) -> None:
    names = {field.name for field in fields(kind)} - NOT_SHOWN
    assert names <= LABELS.keys(), names - LABELS.keys()


def test_no_name_is_left_over() -> None:
    names = {field.name for kind in KINDS for field in fields(kind)}
    assert names >= LABELS.keys()


@pytest.mark.parametrize("kind", KINDS)
@given(data=st.data())
@settings(max_examples=15)
def test_every_value_is_said_in_words(kind: type, data: st.DataObject) -> None:
    record: Any = data.draw(record_lists[kind])
    for field in fields(record):
        if field.name not in NOT_SHOWN:
            said = said_value_text(getattr(record, field.name), NOW)
            assert said
            assert "<" not in said or "<" in repr(getattr(record, field.name))


@given(log_settings)
@settings(max_examples=30)
def test_every_setting_is_said_in_words(found: LogSettings) -> None:
    for field in fields(found):
        assert said_value_text(getattr(found, field.name), NOW)


def test_only_what_differs_is_told() -> None:
    one = Contact(UUID(int=1, version=4), "daughter", "Anna", "1")
    (told,) = differing(one, replace(one, phone="2"), NOW)
    assert (told.label, told.kept, told.other) == ("Phone", "1", "2")
    reading = make_reading(1)
    other = replace(make_reading(1, 111), note="after a walk")
    crossed = replace(other, crossed_out=CrossedOut(NOW.instant, "typed twice"))
    told_of = {one.label: (one.kept, one.other) for one in differing(reading, crossed, NOW)}
    assert told_of == {
        "Meter showed": ("67 mg/dL", "111 mg/dL"),
        "Note": ("nothing", "after a walk"),
        "Crossed out": ("no", "today at 12:00 PM: typed twice"),
    }


def test_one_setting_is_told() -> None:
    one, two = LogSettings(low_plan="a", person_name="x"), LogSettings(low_plan="b")
    (told,) = differing(one, two, NOW, "low_plan")
    assert (told.label, told.kept, told.other) == ("", "a", "b")


@pytest.mark.parametrize(
    ("record", "change", "expected"),
    [
        (
            Meter.usual(_ID, "bedside", Unit.MMOL_L, DAY),
            {"lowest": 6},
            ("Lowest it shows", "1.1 mmol/L", "0.6 mmol/L"),
        ),
        (
            LabA1C(_ID, DAY, 72, A1CUnit.PERCENT, NOW.instant),
            {"steps": 68},
            ("Number", "7.2%", "6.8%"),
        ),
        (
            ControlTest(
                _ID,
                NOW,
                NOW.instant,
                None,
                None,
                None,
                "",
                Glucose.number(118, Unit.MG_DL),
                215,
            ),
            {"temperature_tenths": 190},
            ("Temperature", "21.5 °C", "19.0 °C"),
        ),
    ],
)
def test_a_number_is_said_with_its_unit(
    record: Any, change: dict[str, Any], expected: tuple[str, str, str]
) -> None:
    """What is kept in steps or tenths is never shown as the bare count of them."""
    (told,) = differing(record, replace(record, **change), NOW)
    assert (told.label, told.kept, told.other) == expected


def test_a_limit_of_the_log_is_said_in_its_unit() -> None:
    one = LogSettings(unit=Unit.MMOL_L, very_high_above=139)
    (told,) = differing(one, replace(one, very_high_above=150), NOW, "very_high_above")
    assert (told.kept, told.other) == ("13.9 mmol/L", "15.0 mmol/L")
