"""How many strips are left in a vial: opened = used + left + discarded + put right by count.

What was used is told by `strips.StripUse`; only strips of the vial's own meter, used while it was
in use, count. A reading from a file that names no meter takes none.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from uuid import UUID

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.meters import meter_used
from logbook.domain.kit.strips import StripUse, Vial, WhyEnded
from logbook.domain.kit.vial_life import VialShelf, was_in_use

# From a difference of so many strips on it is asked why. Judgement without a source.
GAP_ASKED_FROM = 5


@dataclass(frozen=True, slots=True)
class VialAccount:
    """Where the strips of one vial went.

    `count == used + left + discarded + put_right`, always. `put_right` is what counting mended:
    above zero when fewer strips were there than the log knew of, below zero when more. `beyond`
    are strips used after the last one should have been gone; each is part of `put_right` too.
    """

    count: int
    used: int
    left: int
    discarded: int
    put_right: int
    beyond: int = 0


class GapQuestion(StrEnum):
    """What is asked when a count differs much from what the log expected."""

    NOT_WRITTEN_DOWN = "not_written_down"
    FROM_ANOTHER_PACK = "from_another_pack"


@dataclass(frozen=True, slots=True)
class CountGap:
    """What the log expected to be left, and what was counted."""

    expected: int
    counted: int

    @property
    def missing(self) -> int:
        """How many fewer there are than expected; below zero for more."""
        return self.expected - self.counted

    @property
    def question(self) -> GapQuestion | None:
        """Readings not written down yet, or taken from another pack; None for a small gap."""
        if self.missing >= GAP_ASKED_FROM:
            return GapQuestion.NOT_WRITTEN_DOWN
        return GapQuestion.FROM_ANOTHER_PACK if -self.missing >= GAP_ASKED_FROM else None


def strips_taken(vial: Vial, kit: KitData) -> tuple[StripUse, ...]:
    """The strip uses that took a strip of `vial`.

    A use must lie in the time in which the vial was in use and be of its meter. A typed one
    without a meter is of the only own meter; one from a file or the meter's memory must name it.
    Where two vials of a meter overlap, the one opened later gives the strip.
    """
    shelf = VialShelf(kit.vials, kit.meters)
    return tuple(
        use
        for use in kit.strip_uses
        if was_in_use(vial, use.at) and (use.was_typed or use.meter_id is not None)
        if (found := shelf.find(use.meter_id, use.at)) is not None and found.id == vial.id
    )


def account_of(vial: Vial, kit: KitData) -> VialAccount:
    """The account of a vial, exact for the strip uses that `kit` holds."""
    left, used, put_right, beyond = vial.count, 0, 0, 0
    for _when, counted in _changes(vial, kit):
        if counted is not None:
            put_right += left - counted
            left = counted
            continue
        used += 1
        if left:
            left -= 1
        else:
            put_right -= 1
            beyond += 1
    discarded = 0
    if vial.ended_at is not None:
        if vial.why_ended is WhyEnded.EMPTY:
            put_right += left
        else:
            discarded = left
        left = 0
    return VialAccount(vial.count, used, left, discarded, put_right, beyond)


def count_gap(vial: Vial, counted: int, kit: KitData) -> CountGap:
    """What a count of now says beside what the log expected to be left."""
    return CountGap(account_of(vial, kit).left, counted)


def uses_of_meter(meter_id: UUID | None, kit: KitData) -> tuple[StripUse, ...]:
    """The strips used with one own meter, by the same rule for those that name none."""
    return tuple(
        use
        for use in kit.strip_uses
        if (use.was_typed or use.meter_id is not None)
        and meter_used(use.meter_id, use.at, kit.meters) == meter_id
    )


def _changes(vial: Vial, kit: KitData) -> list[tuple[datetime, int | None]]:
    """Uses (None) and counts (strips left) in order of time."""
    # At one instant the count comes last: whoever counts sees what is left after the drop.
    changes: list[tuple[datetime, bool, int | None]] = [
        (use.at, False, None) for use in strips_taken(vial, kit)
    ]
    changes += [
        (count.at.instant, True, count.left)
        for count in kit.strip_counts
        if count.counts and count.vial_id == vial.id
        if vial.ended_at is None or count.at.instant <= vial.ended_at
    ]
    changes.sort(key=lambda change: change[:2])
    return [(when, counted) for when, _is_count, counted in changes]


def is_account_complete(vial: Vial, kit: KitData, held_since: datetime) -> bool:
    """Whether `kit` holds all strip uses since the vial was opened.

    `held_since` is an instant from which it surely holds all; it always holds those since the
    first vial still in use was opened.
    """
    opened = [v.opened_at for v in kit.vials if v.is_in_use and v.opened_at is not None]
    since = min([held_since, *opened])
    return vial.opened_at is None or vial.opened_at >= since
