"""Every kind of record and every setting has a name of its own on Undo."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import UTC, date, datetime
from typing import Any, get_args
from uuid import UUID

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.book import Action, Done, Record
from logbook.domain.answers import Answer, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.meters import Meter
from logbook.domain.kit.strips import Packing, Vial
from logbook.domain.laboratory import A1CUnit, LabA1C
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings
from logbook.ui.plan_record_words import changed_settings_text
from logbook.ui.undo_words import undo_text
from tests.store.strategies import log_settings, record_lists

ID = UUID(int=1, version=4)
AT = datetime(2026, 3, 31, 12, 0, tzinfo=UTC)
NOW = Moment.at(AT, "UTC")
VIAL = Vial(ID, None, 50, AT, lot="12A")
OPENED = replace(VIAL, opened_at=AT, opened_on=date(2026, 3, 31))
TEST = ControlTest(ID, NOW, AT, None, None, None, "1", Glucose.number(110, Unit.MG_DL))
CROSSED_OUT = replace(TEST, crossed_out_at=AT)
A1C = LabA1C(ID, date(2026, 3, 2), 71, A1CUnit.PERCENT, AT)


def done(record: Record, earlier: Record | None = None) -> Done:
    action = Action.ADD if earlier is None else Action.REPLACE
    return Done(action, 1, AT, record, earlier, 1)


@given(st.data())
def test_no_kind_of_record_is_without_a_name(data: st.DataObject) -> None:
    assert set(record_lists) == set(get_args(Record))
    kind = data.draw(st.sampled_from(list(record_lists)), label="kind")
    record: Any = data.draw(record_lists[kind])
    words = undo_text(done(record), NOW)
    # That nobody answered was noted by the program; no person takes it back.
    is_made_here = isinstance(record, Answer) and record.said is Said.NOT_ANSWERED
    assert words.startswith("Undo: ") != is_made_here
    assert "the last entry" not in words


def test_control_a_record_without_a_name_is_seen() -> None:
    nameless = Done(Action.ADD, 1, AT, LogSettings(), None, 1)
    assert undo_text(nameless, NOW) == "Undo: the last entry"


@pytest.mark.parametrize(
    ("what", "words"),
    [
        (done(VIAL), "strip pot lot 12A"),
        (done(replace(VIAL, lot="")), "strip pot"),
        (done(replace(VIAL, packing=Packing.DRUM)), "strip drum lot 12A"),
        (done(OPENED), "opening of strip pot lot 12A"),
        (done(OPENED, VIAL), "opening of strip pot lot 12A"),
        (done(replace(OPENED, ended_at=AT), OPENED), "end of strip pot lot 12A"),
        (done(replace(VIAL, count=25), VIAL), "change of strip pot lot 12A"),
        (done(TEST), "control test at 12:00 PM"),
        (done(CROSSED_OUT, TEST), "crossing out control test at 12:00 PM"),
        (done(TEST, CROSSED_OUT), "bringing back control test at 12:00 PM"),
        (done(A1C), "A1C of Mar 2"),
        (done(replace(A1C, crossed_out_at=AT), A1C), "crossing out A1C of Mar 2"),
        (done(Meter.usual(ID, "bedside", Unit.MG_DL, date(2026, 3, 1))), "meter bedside"),
    ],
)
def test_what_was_done_is_named(what: Done, words: str) -> None:
    assert undo_text(what, NOW) == f"Undo: {words}"


@given(log_settings)
def test_every_setting_alone_has_a_name(other: LogSettings) -> None:
    for field in fields(LogSettings):
        changed = replace(LogSettings(), **{field.name: getattr(other, field.name)})
        if changed != LogSettings():
            assert changed_settings_text(LogSettings(), changed) != "settings", field.name


def test_settings_that_belong_together_have_one_name() -> None:
    both = LogSettings(finding_days=14, low_repeat_count=3)
    assert changed_settings_text(LogSettings(), both) == "the limits for findings"
    assert changed_settings_text(LogSettings(), replace(both, born="1947")) == "settings"
