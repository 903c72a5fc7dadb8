"""Marking fingers and hands as sore or left out, in the log's settings.

What such a mark means for the next finger is in `rotation`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date

from logbook.domain.settings import LogSettings
from logbook.domain.sites import SIDES, Hand, Site

Entries = tuple[tuple[str, str], ...]


def with_sore(settings: LogSettings, site: Site, since: date) -> LogSettings:
    """The settings with `site` (a finger, or one side of it) sore since a day."""
    kept = _without(settings.sore, _codes_in(site))
    return replace(settings, sore=(*kept, (site.code, since.isoformat())))


def with_sore_still(settings: LogSettings, code: str, today: date) -> LogSettings:
    """The settings with what `code` names sore still: the day since when it is sore stays.

    The first entry of a code keeps that day, a second one the day on which it was asked about last.
    """
    first = next((entry for entry in settings.sore if entry[0] == code), (code, today.isoformat()))
    others = _without(settings.sore, [code])
    return replace(settings, sore=(*others, first, (code, today.isoformat())))


def without_sore(settings: LogSettings, site: Site) -> LogSettings:
    """The settings with `site` not sore, and neither the finger it belongs to."""
    return replace(settings, sore=_without(settings.sore, _codes_about(site)))


def with_left_out(settings: LogSettings, site: Site, reason: str) -> LogSettings:
    """The settings with `site` left out for a reason."""
    kept = _without(settings.left_out, _codes_in(site))
    return replace(settings, left_out=(*kept, (site.code, reason)))


def without_left_out(settings: LogSettings, site: Site) -> LogSettings:
    """The settings with `site` used again, and with it the finger it belongs to.

    A hand that is left out stays so: see `with_hand_used`.
    """
    return replace(settings, left_out=_without(settings.left_out, _codes_about(site)))


def with_hand_left_out(settings: LogSettings, hand: Hand, reason: str) -> LogSettings:
    """The settings with a whole hand left out for a reason."""
    kept = _without(settings.left_out, [hand.value])
    return replace(settings, left_out=(*kept, (hand.value, reason)))


def with_hand_used(settings: LogSettings, hand: Hand) -> LogSettings:
    """The settings with a hand used again; fingers left out by themselves stay left out."""
    return replace(settings, left_out=_without(settings.left_out, [hand.value]))


def why_hand_is_left_out(settings: LogSettings, hand: Hand) -> str | None:
    """The reason for which a whole hand is left out; None when it is not."""
    return next((reason for code, reason in settings.left_out if code == hand.value), None)


def _codes_in(site: Site) -> list[str]:
    """The site itself and, of a whole finger, its sides."""
    if site.side is not None or not site.place.is_finger:
        return [site.code]
    return [site.code, *(Site(site.hand, site.place, side).code for side in SIDES)]


def _codes_about(site: Site) -> list[str]:
    """The same, and the whole finger a side belongs to."""
    return [*_codes_in(site), Site(site.hand, site.place).code]


def _without(entries: Entries, codes: Iterable[str]) -> Entries:
    gone = set(codes)
    return tuple(entry for entry in entries if entry[0] not in gone)
