"""What an Observation of a fingerstick tells beside value and time: meal, place, feelings, notes.

The program's own codes come back as what they were. Of others' codes, those that name a time of day
are understood; a text that names none is kept in the note.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, NamedTuple, TypeVar

from logbook.domain.errors import LogbookError
from logbook.domain.readings import Difference, Doubt, Feeling, Source
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Purpose, Slot
from logbook.exchange.fhir_codes import (
    EVENT_TIMING,
    MEAL_CONTEXT,
    OWN,
    PROGRAM,
    SAMPLE_LOCATION,
    SLOT_OF_EVENT,
    TIMING_EVENT,
)
from logbook.exchange.refusals import LineRefused, Reason

Code = tuple[str, str]
E = TypeVar("E", bound=StrEnum)

_LONGEST_AFTER = 999  # minutes, as in a table


@dataclass(frozen=True, slots=True)
class Circumstances:
    """What was told; everything that was not is as it is in a reading without it."""

    slot: Slot
    minutes_after: int | None
    site: Site | None
    site_use: SiteUse
    source: Source | None
    purpose: Purpose
    doubt: Doubt | None
    feelings: tuple[Feeling, ...]
    differences: tuple[Difference, ...]
    could_not_wash: bool
    is_foreign: bool
    note: str
    initials: str


def circumstances_of(resource: dict[str, Any]) -> Circumstances:
    """Everything told beside value and time. Raises `LineRefused` for an own code that is none."""
    components = components_of(resource)
    codes = [code for one in components for code in one.value_codes]
    own = [code for system, code in codes if system == OWN]
    slots = {SLOT_OF_EVENT[code] for code in (*codes, *_when(resource)) if code in SLOT_OF_EVENT}
    site = _site(resource)
    unsaid = SiteUse.NOT_NOTED if site is None else SiteUse.USED
    return Circumstances(
        # Two that differ tell nothing.
        slot=slots.pop() if len(slots) == 1 else Slot.OTHER,
        minutes_after=_minutes_after(resource, components),
        site=site,
        site_use=next(iter(_members(own, "site-use", SiteUse)), unsaid),
        source=next(iter(_members(own, "source", Source)), None),
        purpose=next(iter(_members(own, "purpose", Purpose)), Purpose.PLANNED),
        doubt=next(iter(_members(own, "doubt", Doubt)), None),
        feelings=_members(own, "feeling", Feeling),
        differences=_members(own, "difference", Difference),
        could_not_wash=_is_yes(components, "could-not-wash"),
        is_foreign=_is_yes(components, "meter-of-others"),
        note=_note(resource, components),
        initials=own_text(components, "initials"),
    )


class Component(NamedTuple):
    """A component of an Observation, with its codes and those of its value."""

    told: dict[str, Any]
    codes: tuple[Code, ...]
    value_codes: tuple[Code, ...]

    def is_called(self, code: str) -> bool:
        """Whether it has this code of the program's own."""
        return (OWN, code) in self.codes


def components_of(resource: dict[str, Any]) -> tuple[Component, ...]:
    """The components of an Observation, in their order."""
    return tuple(
        Component(one, codes_of(one.get("code")), codes_of(one.get("valueCodeableConcept")))
        for one in dicts(resource.get("component"))
    )


def own_text(components: Sequence[Component], code: str) -> str:
    """The text of a component of the program's own; empty where there is none."""
    texts = (one.told.get("valueString", "") for one in components if one.is_called(code))
    return str(next(texts, ""))


def dicts(value: Any) -> list[dict[str, Any]]:
    """The objects in a list of JSON; none where there is no list."""
    return [one for one in value if isinstance(one, dict)] if isinstance(value, list) else []


def codes_of(concept: Any) -> tuple[Code, ...]:
    """System and code of every coding of a concept, in their order."""
    codings = concept.get("coding") if isinstance(concept, dict) else None
    if not isinstance(codings, list):
        return ()
    # Asked some thirty times of each of a hundred thousand Observations.
    return tuple(
        [(str(one.get("system")), str(one.get("code"))) for one in codings if isinstance(one, dict)]
    )


def _members(own: list[str], kind: str, members: type[E]) -> tuple[E, ...]:
    names = [code.removeprefix(f"{kind}-") for code in own if code.startswith(f"{kind}-")]
    try:
        return tuple(dict.fromkeys(members(name) for name in names))
    except ValueError as error:
        raise LineRefused(Reason.CODE_UNKNOWN) from error


def _is_yes(components: Sequence[Component], code: str) -> bool:
    return any(one.is_called(code) and one.told.get("valueBoolean") is True for one in components)


# --- meals ----------------------------------------------------------------------------------------


def _repeat(resource: dict[str, Any]) -> dict[str, Any]:
    timing = resource.get("effectiveTiming")
    repeat = timing.get("repeat") if isinstance(timing, dict) else None
    return repeat if isinstance(repeat, dict) else {}


def _when(resource: dict[str, Any]) -> list[Code]:
    """The events of a Timing; they stand there without the name of their code system."""
    when = _repeat(resource).get("when")
    names = when if isinstance(when, list) else []
    return [(system, str(name)) for name in names for system in (TIMING_EVENT, EVENT_TIMING)]


def _minutes_after(resource: dict[str, Any], components: Sequence[Component]) -> int | None:
    told = _repeat(resource).get("offset")
    for one in components:
        quantity = one.told.get("valueQuantity")
        if one.is_called("minutes-after") and isinstance(quantity, dict):
            told = quantity.get("value") if quantity.get("code") == "min" else -1
    if told is None:
        return None
    if isinstance(told, bool) or not isinstance(told, int) or not 0 <= told <= _LONGEST_AFTER:
        raise LineRefused(Reason.MINUTES_NOT_A_NUMBER)
    return told


# --- place and notes ------------------------------------------------------------------------------


def _site(resource: dict[str, Any]) -> Site | None:
    for system, code in codes_of(resource.get("bodySite")):
        if system == OWN and code.startswith("site-"):
            try:
                return Site.from_code(code.removeprefix("site-"))
            except LogbookError as error:
                raise LineRefused(Reason.SITE_UNKNOWN) from error
    return None


def _note(resource: dict[str, Any], components: Sequence[Component]) -> str:
    """The notes, and what is told of meal and place without naming which."""
    told = [
        str(note.get("text", ""))
        for note in dicts(resource.get("note"))
        if note.get("authorString") != PROGRAM
    ]
    told += [_words(one.told) for one in components if _is_unnamed_meal(one) or _is_location(one)]
    if _site(resource) is None:
        told.append(_words({"valueCodeableConcept": resource.get("bodySite")}))
    return "\n".join(filter(None, told))


def _is_unnamed_meal(component: Component) -> bool:
    is_meal = MEAL_CONTEXT in component.codes
    return is_meal and not any(code in SLOT_OF_EVENT for code in component.value_codes)


def _is_location(component: Component) -> bool:
    code = component.told.get("code")
    codings = dicts(code.get("coding")) if isinstance(code, dict) else []
    return any(str(one.get("display", "")).startswith(SAMPLE_LOCATION) for one in codings)


def _words(told: dict[str, Any]) -> str:
    """A value as a text: that of a person, or else the name of a code."""
    if isinstance(told.get("valueString"), str):
        return str(told["valueString"])
    concept = told.get("valueCodeableConcept")
    if not isinstance(concept, dict):
        return ""
    if isinstance(concept.get("text"), str):
        return str(concept["text"])
    names = (one.get("display") for one in dicts(concept.get("coding")))
    return next((name for name in names if isinstance(name, str)), "")
