"""Which strips were used, and when: told from the log, never stored twice.

A reading took one, also when it was crossed out later; so did a strip that failed and a control
test. A reading from a meter that is not the person's own took none of theirs.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from uuid import UUID

from sqlalchemy import Engine, Text, type_coerce

from logbook.domain.happenings import Happening, What
from logbook.domain.kit.control import ControlTest
from logbook.domain.kit.strips import StripUse, StripUseKind
from logbook.domain.moments import MINUTES_A_DAY
from logbook.domain.readings import Source
from logbook.store.pages import Query, Rows, read_pages, readings
from logbook.store.readings import plausible_instant
from logbook.store.records import READING
from logbook.store.statements import row_text_of
from logbook.store.types import microseconds
from logbook.store.verify import is_sound

_MICROSECONDS_A_MINUTE = 60_000_000


def find_strip_uses(
    engine: Engine,
    happenings: Iterable[Happening],
    control_tests: Iterable[ControlTest],
    since: datetime,
    until: datetime,
) -> list[StripUse]:
    """The strips used from `since` on and before `until`, in order of time."""
    uses = _uses_of_readings(engine, since, until)
    uses += [
        StripUse(one.at.instant, one.meter_id, StripUseKind.FAILED)
        for one in happenings
        if one.what is What.STRIP_FAILED and one.counts and since <= one.at.instant < until
    ]
    uses += [
        StripUse(one.at.instant, one.meter_id, StripUseKind.CONTROL_TEST)
        for one in control_tests
        if one.counts and since <= one.at.instant < until
    ]
    return sorted(uses, key=lambda use: use.at)


def _uses_of_readings(engine: Engine, since: datetime, until: datetime) -> list[StripUse]:
    # The index goes by wall minutes, which are never a whole day away from the instant.
    first, end = (microseconds(one) // _MICROSECONDS_A_MINUTE for one in (since, until))
    query = Query((first - MINUTES_A_DAY, end + MINUTES_A_DAY + 1))
    c = readings.c
    columns = (
        row_text_of(READING),
        c.digest,
        type_coerce(c.meter_id, Text),
        type_coerce(c.source, Text),
        c.is_foreign,
    )
    meters: dict[str | None, UUID | None] = {None: None}

    def keep(page: Rows) -> list[StripUse]:
        found = []
        for instant, _wall_minute, _rowid, row_text, digest, meter, source, is_foreign in page:
            if is_foreign or not is_sound(row_text, digest):
                continue
            at = plausible_instant(instant)
            if since <= at < until:
                if meter not in meters:
                    meters[meter] = UUID(meter)
                found.append(StripUse(at, meters[meter], was_typed=source == Source.TYPED.value))
        return found

    return [use for page in read_pages(engine, query, columns, keep) for use in page]
