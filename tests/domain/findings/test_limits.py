"""The limits of findings: usual ones in both units, a log's own, and days the person named."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

import pytest

from logbook.domain.findings.limits import (
    IN_STEPS,
    LIMITS,
    limit_of,
    own_limits,
    usual_limit,
    with_usual_limits,
)
from logbook.domain.findings.named_days import (
    GroupFault,
    NamedDays,
    fault_of,
    named_days,
    with_named_days,
    without_named_days,
)
from logbook.domain.glucose import Unit, converted_steps
from logbook.domain.settings import LogSettings

DIALYSIS = NamedDays("dialysis", frozenset({0, 2, 4}))


def with_limit(settings: LogSettings, name: str, value: int) -> LogSettings:
    given: dict[str, Any] = {name: value}
    return replace(settings, **given)


def test_every_limit_is_a_setting_and_every_setting_of_findings_a_limit() -> None:
    names = [field.name for field in fields(LogSettings)]
    between = names[names.index("finding_days") : names.index("weekend")]
    assert list(LIMITS) == between


@pytest.mark.parametrize("name", IN_STEPS)
def test_a_usual_limit_says_the_same_in_both_units(name: str) -> None:
    mg_dl, mmol_l = (usual_limit(unit, name) for unit in Unit)
    assert converted_steps(mg_dl, Unit.MG_DL, Unit.MMOL_L) == mmol_l


@pytest.mark.parametrize("unit", list(Unit))
def test_a_log_has_the_usual_limits_until_it_has_its_own(unit: Unit) -> None:
    settings = LogSettings(unit=unit)
    assert own_limits(settings) == ()
    for name in LIMITS:
        own = with_limit(settings, name, limit_of(settings, name) + 1)
        assert own_limits(own) == (name,)
        assert with_usual_limits(own) == settings
        same = with_limit(settings, name, usual_limit(unit, name))
        assert own_limits(same) == ()


def test_nought_is_a_limit_of_ones_own() -> None:
    assert limit_of(LogSettings(high_margin=0), "high_margin") == 0


def test_days_are_named_renamed_and_forgotten() -> None:
    settings = with_named_days(LogSettings(), DIALYSIS)
    assert settings.day_groups == (("dialysis", "024"),)
    assert named_days(settings) == (DIALYSIS,)
    church = NamedDays("church", frozenset({6}))
    both = with_named_days(settings, church)
    renamed = with_named_days(both, NamedDays(" clinic ", DIALYSIS.weekdays), instead_of="dialysis")
    assert [one.name for one in named_days(renamed)] == ["clinic", "church"]
    assert named_days(without_named_days(renamed, "clinic")) == (church,)


@pytest.mark.parametrize(
    ("name", "days", "fault"),
    [
        (" ", {0}, GroupFault.NO_NAME),
        ("x" * 31, {0}, GroupFault.LONG_NAME),
        ("Dialysis", {0}, GroupFault.NAME_TAKEN),
        ("WEEKEND", {0}, GroupFault.NAME_TAKEN),
        ("work", (), GroupFault.NO_DAY),
        ("work", range(7), GroupFault.ALL_DAYS),
        ("work", range(5), None),
    ],
)
def test_what_can_not_be_kept(name: str, days: set[int], fault: GroupFault | None) -> None:
    settings = with_named_days(LogSettings(), DIALYSIS)
    assert fault_of(NamedDays(name, frozenset(days)), settings) is fault


def test_a_group_may_keep_its_own_name() -> None:
    settings = with_named_days(LogSettings(), DIALYSIS)
    assert fault_of(DIALYSIS, settings, instead_of="dialysis") is None
