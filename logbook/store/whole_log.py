"""Gathering everything that a log holds (`logbook.domain.whole_log`)."""

from __future__ import annotations

from logbook.domain.whole_log import WholeLog
from logbook.store.listing import Listing


def gather_whole_log(listing: Listing) -> WholeLog:
    """All records, each kind in the order in which the Book tells it."""
    return WholeLog(
        settings=listing.settings(),
        readings=tuple(listing.readings()),
        happenings=tuple(listing.happenings()),
        answers=tuple(listing.answers()),
        spells=tuple(listing.spells()),
        targets=listing.targets().all,
        ticks=listing.ticks().all,
        medicines=tuple(listing.medicines()),
        medicine_notes=tuple(listing.medicine_notes()),
        plans=tuple(listing.plans()),
        pauses=tuple(listing.pauses()),
        put_asides=tuple(listing.put_asides()),
        meal_starts=tuple(listing.meal_starts()),
        appointments=tuple(listing.appointments()),
        questions=tuple(listing.questions(open_only=False)),
        contacts=tuple(listing.contacts()),
        a1cs=tuple(listing.a1cs()),
        meter_averages=tuple(listing.meter_averages()),
        kit=listing.kit(),
    )
