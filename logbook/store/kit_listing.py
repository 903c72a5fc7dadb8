"""All records of the kit, gathered and put in order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from typing import Any

from sqlalchemy import Engine

from logbook.domain.happenings import Happening
from logbook.domain.kit.control import ControlBottle
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strips import StripUse, Vial
from logbook.store import records
from logbook.store.pages import Query
from logbook.store.readings import read_readings
from logbook.store.strip_uses import find_strip_uses

AllOfKind = Callable[[records.RecordKind], list[Any]]

# So many days of strips are told however new the vials in use are: enough to see the usual pace.
_LEAST_DAYS = timedelta(days=28)
# A damaged reading may lie anywhere in time, so the newest that is sound is looked for among these.
_LOOKED_AT = 8
_MOMENT_AFTER = timedelta(microseconds=1)
_NEVER = datetime.max.replace(tzinfo=UTC)


def read_kit(engine: Engine, all_of_kind: AllOfKind, since: datetime | None = None) -> KitData:
    """The kit, of the records that `all_of_kind` gives.

    `strip_uses` go back to `since` where that is earlier than what they always tell.
    """

    def all_of(kind: records.RecordKind, order: Callable[[Any], Any]) -> tuple[Any, ...]:
        return tuple(sorted(all_of_kind(kind), key=order))

    kit = KitData(
        meters=all_of(records.METER, lambda one: (one.in_use_from, one.name, one.id)),
        vials=all_of(records.VIAL, _order_of_vial),
        strip_counts=all_of(records.STRIP_COUNT, _by_moment),
        bottles=all_of(records.CONTROL_BOTTLE, _order_of_bottle),
        control_tests=all_of(records.CONTROL_TEST, _by_moment),
        meter_events=all_of(records.METER_EVENT, _by_moment),
        lab_comparisons=all_of(records.LAB_COMPARISON, _by_moment),
        lancet_changes=all_of(records.LANCET_CHANGE, _by_moment),
        puncture_notes=all_of(records.PUNCTURE_NOTE, lambda one: (one.at, one.id)),
        sharps_containers=all_of(
            records.SHARPS_CONTAINER, lambda one: (one.started_on, one.written_at, one.id)
        ),
        low_supplies=all_of(records.LOW_SUPPLY, _by_writing),
        supplies=all_of(records.SUPPLY, _by_writing),
    )
    return replace(kit, strip_uses=tuple(_uses(engine, all_of_kind, kit, since)))


def read_strip_uses(
    engine: Engine, all_of_kind: AllOfKind, since: datetime, until: datetime
) -> list[StripUse]:
    """The strips used from `since` on and before `until`, in order of time."""
    return find_strip_uses(
        engine,
        all_of_kind(records.HAPPENING),
        all_of_kind(records.CONTROL_TEST),
        since,
        until,
    )


def _uses(
    engine: Engine, all_of_kind: AllOfKind, kit: KitData, since: datetime | None
) -> list[StripUse]:
    happenings: list[Happening] = all_of_kind(records.HAPPENING)
    newest = read_readings(engine, Query(newest_first=True, limit=_LOOKED_AT))
    instants = [one.at.instant for one in newest if not one.is_damaged]
    instants += [one.at.instant for one in happenings]
    instants += [one.at.instant for one in kit.control_tests]
    if not instants:
        return []
    last = max(instants)
    opened = [vial.opened_at for vial in kit.vials if vial.is_in_use and vial.opened_at is not None]
    wanted = [last - _LEAST_DAYS, *opened, *([] if since is None else [since])]
    return find_strip_uses(engine, happenings, kit.control_tests, min(wanted), last + _MOMENT_AFTER)


# --- orders --------------------------------------------------------------------------------------


def _by_moment(one: Any) -> tuple[datetime, Any]:
    return one.at.instant, one.id


def _by_writing(one: Any) -> tuple[datetime, Any]:
    return one.written_at, one.id


def _order_of_vial(vial: Vial) -> tuple[Any, ...]:
    """By opening; those not opened last, as they were written."""
    return vial.opened_at or _NEVER, vial.written_at, vial.id


def _order_of_bottle(bottle: ControlBottle) -> tuple[Any, ...]:
    return bottle.opened_on or date.max, bottle.written_at, bottle.id
