"""How a puncture went: the depth set on the device, enough blood or not, pain or not.

Asked only after "hurt" or "not enough blood". What pain does to the rotation is in `rotation`.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from uuid import UUID

from logbook.domain.sites import Site

# So far back a depth is remembered: skin changes. Judgement without a source.
LATELY = timedelta(days=90)


@dataclass(frozen=True, slots=True)
class PunctureNote:
    """How the puncture for the reading or happening `about` went; None where nobody said.

    `depth_tenths` is the number on the device's depth dial in tenths (2.5 is 25).
    """

    id: UUID
    about: UUID
    at: datetime
    depth_tenths: int | None = None
    was_enough_blood: bool | None = None
    did_hurt: bool | None = None


def next_depth(
    site: Site, notes: Iterable[PunctureNote], sites: Mapping[UUID, Site], now: datetime
) -> int | None:
    """The depth to offer for a finger, in tenths: the shallowest that worked on it lately.

    `sites` tells where the readings and happenings were that the notes are about. A depth works
    when the last note on it does not say that there was not enough blood. Either side of a finger
    counts for it. None when no depth is on record, or when none worked.
    """
    worked: dict[int, bool] = {}
    for note in sorted(notes, key=lambda note: note.at):
        pricked = sites.get(note.about)
        if note.depth_tenths is None or pricked is None or not now - LATELY <= note.at <= now:
            continue
        if (pricked.hand, pricked.place) == (site.hand, site.place):
            worked[note.depth_tenths] = note.was_enough_blood is not False
    return min((depth for depth, did_work in worked.items() if did_work), default=None)
