"""Names of the things that dated facts are about, so that a line can be read by itself."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from logbook.domain.kit.kit_data import KitData
from logbook.domain.plan.reminders import DatedFact, ReminderKind
from logbook.wording import _


def named_facts(facts: Iterable[DatedFact], kit: KitData) -> tuple[DatedFact, ...]:
    """The facts with "test strips, bedside" in place of the bare name of the meter."""
    bottles = {str(bottle.id) for bottle in kit.bottles}
    return tuple(_named(fact, bottles) for fact in facts)


def _named(fact: DatedFact, bottles: set[str]) -> DatedFact:
    match fact.kind:
        case ReminderKind.DISCARD_DATE if fact.about_id in bottles:
            return replace(fact, about=_("control solution"))
        case ReminderKind.DISCARD_DATE | ReminderKind.STOCK:
            if not fact.about:
                return replace(fact, about=_("test strips"))
            return replace(fact, about=_("test strips, {meter}").format(meter=fact.about))
        case _:
            return fact
