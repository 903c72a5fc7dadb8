"""Whether readings from a file used strips of the vial in use: asked once for the file.

A file does not say from which vial a strip came, and often the readings were counted already. So
they take no strip until the person says so; then they name the vial's meter, and count like any
other reading of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strips import Vial
from logbook.domain.kit.vial_life import was_in_use
from logbook.domain.readings import Reading


@dataclass(frozen=True, slots=True)
class StripQuestion:
    """The vial to ask about, and how many readings were made since it is in use."""

    vial: Vial
    count: int


def strip_question(readings: Iterable[Reading], kit: KitData) -> StripQuestion | None:
    """What to ask about these readings; None when no strip in use can have been used.

    Of several vials in use it is the one with the most readings in its time.
    """
    made = [one for one in readings if one.meter_id is None and not one.is_foreign]
    questions = [
        StripQuestion(vial, sum(_is_in_time(one, vial) for one in made))
        for vial in kit.vials
        if vial.is_in_use and vial.meter_id is not None
    ]
    best = max(questions, key=lambda one: one.count, default=None)
    return None if best is None or best.count == 0 else best


def with_strips_of(vial: Vial, readings: Sequence[Reading]) -> list[Reading]:
    """The readings, those in the vial's time as made with its meter."""
    return [
        replace(one, meter_id=vial.meter_id)
        if one.meter_id is None and not one.is_foreign and _is_in_time(one, vial)
        else one
        for one in readings
    ]


def _is_in_time(reading: Reading, vial: Vial) -> bool:
    return was_in_use(vial, reading.at.instant)
