"""Which punctures can be told about."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from uuid import UUID

from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, StripFailure, What
from logbook.domain.kit.pricks import pricks_of, sites_of
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.sites import Hand, Place, Site, SiteUse
from logbook.domain.slots import Slot

RING = Site(Hand.LEFT, Place.RING)
START = datetime(2026, 3, 1, 7, tzinfo=UTC)


def reading(number: int, site: Site | None, use: SiteUse, *, is_foreign: bool = False) -> Reading:
    at = Moment.at(START + timedelta(days=number), "UTC")
    glucose = Glucose.number(120, Unit.MG_DL)
    return Reading(
        UUID(int=number),
        glucose,
        at,
        at.instant,
        Slot.FASTING,
        site=site,
        site_use=use,
        is_foreign=is_foreign,
    )


def failed(number: int, failure: StripFailure, site: Site | None = None) -> Happening:
    at = Moment.at(START + timedelta(days=number), "UTC")
    return Happening(UUID(int=number), What.STRIP_FAILED, at, at.instant, failure, site=site)


def test_readings_and_pricked_again_are_punctures_in_order_of_time() -> None:
    found = pricks_of(
        [reading(5, RING, SiteUse.USED), reading(1, RING, SiteUse.SUGGESTED)],
        [
            failed(3, StripFailure.PRICKED_AGAIN, RING),
            failed(4, StripFailure.SAME_DROP, RING),
            failed(6, StripFailure.ERROR_SHOWN),
        ],
    )
    assert [prick.about.int for prick in found] == [1, 3, 5]
    assert [prick.was_suggested for prick in found] == [True, False, False]


def test_a_finger_that_nobody_noted_is_none_and_of_no_site() -> None:
    found = pricks_of([reading(1, RING, SiteUse.NOT_NOTED), reading(2, RING, SiteUse.USED)])
    assert [prick.site for prick in found] == [None, RING]
    assert sites_of(found) == {UUID(int=2): RING}


def test_someone_elses_meter_pricked_nobody_here() -> None:
    assert pricks_of([reading(1, RING, SiteUse.USED, is_foreign=True)]) == []
