"""Opening a vial: the next one like the last, which ends the one before, and its code.

The functions give the records to write; nothing is written here. One vial is in use per meter.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from uuid import UUID

from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strips import Vial, WhyEnded
from logbook.domain.kit.vial_life import is_out_of_date, meter_of, stock_vials, vials_of
from logbook.domain.moments import Moment
from logbook.domain.settings import LogSettings


@dataclass(frozen=True, slots=True)
class Opening:
    """What opening a vial writes, in one action: those it ends, and the one that is opened.

    `opened` is to be added when `is_new`, else it replaces itself in stock.
    """

    ended: tuple[Vial, ...]
    opened: Vial
    is_new: bool

    @property
    def records(self) -> tuple[Vial, ...]:
        """All records to write, in order."""
        return (*self.ended, self.opened)


def like_last(
    vial: Vial,
    new_id: UUID,
    written_at: datetime,
    *,
    lot: str = "",
    expires: PrintedDate | None = None,
) -> Vial:
    """An unopened vial like `vial`: meter, packing, count, code and time after opening are kept.

    Ranges for control tests hold for one lot, so they are kept only for the very same lot; the
    printed date is never taken over.
    """
    is_same_lot = bool(lot.strip()) and same_text(lot, vial.lot)
    return Vial(
        new_id,
        vial.meter_id,
        vial.count,
        written_at,
        packing=vial.packing,
        lot=lot,
        code=vial.code,
        expires=expires,
        after_opening=vial.after_opening,
        ranges=vial.ranges if is_same_lot else (),
    )


def next_vial(meter_id: UUID | None, kit: KitData) -> Vial | None:
    """The unopened vial to open next: the one whose printed date comes first. None for no stock."""
    return next(iter(stock_vials(meter_id, kit)), None)


def last_vial(meter_id: UUID | None, kit: KitData) -> Vial | None:
    """The vial of a meter that was opened last, in use or not."""
    opened = [v for v in vials_of(meter_id, kit.vials, kit.meters) if v.opened_at is not None]
    return max(opened, key=lambda vial: vial.opened_at or vial.written_at, default=None)


def open_next(  # noqa: PLR0913  (one thing the person may tell each)
    meter_id: UUID | None,
    kit: KitData,
    now: Moment,
    settings: LogSettings,
    *,
    new_id: UUID,
    written_at: datetime,
    expires: PrintedDate | None,
    lot: str | None = None,
    code: str | None = None,
    why_ended: WhyEnded | None = None,
) -> Opening | None:
    """Open the next vial, same as the last: out of stock if there is one there, else like it.

    `lot` and `code` of None keep what is known; of a new vial the lot is not known. None when there
    is neither stock nor an earlier vial: then one has to be written down in full.
    """
    stocked = next_vial(meter_id, kit)
    last = last_vial(meter_id, kit)
    if stocked is not None:
        vial = replace(stocked, expires=expires or stocked.expires)
        if lot is not None and not same_text(lot, vial.lot):
            vial = replace(vial, lot=lot, ranges=())
    elif last is not None:
        vial = like_last(last, new_id, written_at, lot=lot or "", expires=expires)
    else:
        return None
    if code is not None:
        vial = replace(vial, code=code)
    return open_vial(vial, kit, now, settings, is_new=stocked is None, why_ended=why_ended)


def open_vial(
    vial: Vial,
    kit: KitData,
    now: Moment,
    settings: LogSettings,
    *,
    is_new: bool = True,
    why_ended: WhyEnded | None = None,
) -> Opening:
    """Open `vial` now; whatever was in use in its meter ends at the same instant."""
    meter_id = vial.meter_id or meter_of(vial, kit.meters)
    ended = tuple(
        replace(
            before,
            ended_at=now.instant,
            why_ended=why_ended or why_ended_now(before, now, settings),
        )
        for before in vials_of(meter_id, kit.vials, kit.meters)
        if before.is_in_use and before.id != vial.id
    )
    opened = replace(
        vial, opened_at=now.instant, opened_on=now.day(settings.day_starts_at), ended_at=None
    )
    return Opening(ended, opened, is_new)


def why_ended_now(vial: Vial, now: Moment, settings: LogSettings) -> WhyEnded:
    """Why a vial ends when the next is opened and nobody says: out of date, or else empty."""
    past = is_out_of_date(vial, now.day(settings.day_starts_at))
    return WhyEnded.OUT_OF_DATE if past else WhyEnded.EMPTY


# --- code -----------------------------------------------------------------------------------------


def does_code_differ(vial: Vial, shown: str) -> bool:
    """Whether the meter shows another code than these strips need; never for strips without one."""
    return bool(vial.code.strip()) and not same_text(vial.code, shown)


def needs_new_code(before: Vial | None, after: Vial) -> bool:
    """Whether the meter has to be set to another code for the vial that is opened."""
    return bool(after.code.strip()) and (before is None or does_code_differ(after, before.code))


def same_text(one: str, other: str) -> bool:
    """Whether two texts copied from a label are the same, whatever their case and outer spaces."""
    return one.strip().casefold() == other.strip().casefold()
