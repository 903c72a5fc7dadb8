"""Things for a low: whether they are there, and until when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.domain.kit.vial_life import LifeState, life_state
from logbook.domain.ticks import About, TickBook

# Glucagon may need a prescription, so it is said earlier than for strips. Judgement without source.
WARNED_DAYS = 30


@dataclass(frozen=True, slots=True)
class LowSupplyState:
    """One thing for a low and how its printed date stands."""

    supply: LowSupply
    state: LifeState


def low_supply_states(kit: KitData, today: date) -> tuple[LowSupplyState, ...]:
    """The things for a low that are kept, each with how its printed date stands on `today`."""
    return tuple(
        LowSupplyState(supply, life_state(_last_day(supply), today, WARNED_DAYS))
        for supply in kit.low_supplies
        if supply.ended_on is None
    )


def lacks_glucagon(kit: KitData, ticks: TickBook, today: date) -> bool:
    """Whether someone on insulin has no glucagon in date: something to ask the provider.

    ADA Standards of Care 2024, section 6: glucagon for all who take insulin (in a copy).
    """
    if not ticks.holds(About.INSULIN, today):
        return False
    return not any(
        one.supply.kind is ForLows.GLUCAGON
        and one.supply.is_there
        and one.state is not LifeState.OUT_OF_DATE
        for one in low_supply_states(kit, today)
    )


def _last_day(supply: LowSupply) -> date | None:
    return None if supply.expires is None or not supply.is_there else supply.expires.last_day
