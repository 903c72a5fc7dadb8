"""FHIR files read: what this program wrote, HL7's own examples, and whatever else may come."""

from __future__ import annotations

import json
import os
import random
from copy import deepcopy
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from hypothesis import given, settings

from logbook.domain.errors import CannotRead, LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading, Source
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.whole_log import WholeLog
from logbook.exchange.diary_file import FileRead
from logbook.exchange.fhir_bundle import fhir_bundle
from logbook.exchange.fhir_file import is_json_file, read_fhir
from logbook.exchange.fhir_parts import fhir_text
from logbook.exchange.refusals import Reason
from logbook.exchange.sentences import import_problem_text
from tests.exchange.whole_logs import NOW, reading_lists, whole_logs

HOME = "America/New_York"


@pytest.fixture(scope="module")
def examples() -> Path:
    folder = os.environ.get("LOGBOOK_OPEN_DATA")
    if not folder:
        pytest.skip("LOGBOOK_OPEN_DATA does not say where HL7's examples are")
    return Path(folder) / "fhir-examples"


def read(path: Path, content: object, zone: str = HOME) -> FileRead:
    path.write_text(content if isinstance(content, str) else json.dumps(content), encoding="utf-8")
    return read_fhir(path, zone, NOW)


def glucose_observation(**changed: object) -> dict[str, Any]:
    """An Observation as others write it; None takes an element out."""
    whole: dict[str, Any] = {
        "resourceType": "Observation",
        "status": "final",
        "code": {"coding": [{"system": "http://loinc.org", "code": "41653-7"}]},
        "effectiveDateTime": "2025-01-08T19:07:48-05:00",
        "valueQuantity": {"value": 99, "system": "http://unitsofmeasure.org", "code": "mg/dL"},
    }
    return {k: v for k, v in (whole | changed).items() if v is not None}


# --- what was written comes back ------------------------------------------------------------------


def _moment(at: Moment) -> Moment:
    if at.offset % timedelta(minutes=1):  # the oldest zones; FHIR has no such offset
        return replace(Moment.at(at.instant, HOME), zone_assumed=True)
    if not at.zone_assumed:
        return at
    if not at.offset:
        return replace(Moment.at(at.instant, HOME), zone_assumed=True)
    return replace(at, zone=HOME)


def as_fhir_tells_it(reading: Reading) -> Reading:
    """What of a reading FHIR has a place for; the rest is told in notes or not at all."""
    crossed_out = reading.crossed_out
    if crossed_out is not None:
        crossed_out = replace(crossed_out, reason=fhir_text(crossed_out.reason))
    return replace(
        reading,
        at=_moment(reading.at),
        crossed_out=crossed_out,
        note=fhir_text(reading.note),
        initials=fhir_text(reading.initials),
        earlier=tuple(
            replace(one, at=_moment(one.at), reason=fhir_text(one.reason))
            for one in reading.earlier
        ),
    )


@settings(max_examples=100, deadline=None)
@given(reading_lists)
def test_readings_come_back_as_they_were(
    tmp_path_factory: pytest.TempPathFactory, readings: tuple[Reading, ...]
) -> None:
    path = tmp_path_factory.mktemp("fhir") / "log.json"
    path.write_bytes(fhir_bundle(WholeLog(LogSettings(), readings), NOW))
    found = read_fhir(path, HOME, NOW)
    assert found.refused == ()
    assert list(found.readings) == [as_fhir_tells_it(one) for one in readings]


@settings(max_examples=25, deadline=None)
@given(whole_logs)
def test_of_a_whole_log_only_readings_are_taken_in(
    tmp_path_factory: pytest.TempPathFactory, log: WholeLog
) -> None:
    path = tmp_path_factory.mktemp("fhir") / "log.json"
    path.write_bytes(fhir_bundle(log, NOW))
    found = read_fhir(path, HOME, NOW)
    kit = log.kit
    others = (*log.happenings, *kit.control_tests, *kit.lab_comparisons, *log.a1cs, *kit.meters)
    assert sum(found.skipped.values()) == len(others) + 1  # and the person
    early = [one for one in log.readings if one.at.wall.year < 1970]
    assert len(found.readings) + len(found.refused) == len(log.readings)
    assert len(found.refused) <= len(early) + 1


# --- HL7's examples -------------------------------------------------------------------------------


def test_the_example_of_the_r4_specification(examples: Path) -> None:
    """Source: HL7 FHIR R4, Observation example f001 (LOINC 15074-8; unit text "mmol/l")."""
    found = read_fhir(examples / "fhir-R4-observation-example-f001-glucose.json", HOME, NOW)
    (reading,) = found.readings
    assert reading.glucose == Glucose.number(63, Unit.MMOL_L)
    assert reading.at.wall == datetime(2013, 4, 2, 9, 30, 10)
    assert reading.at.instant == datetime(2013, 4, 2, 8, 30, 10, tzinfo=UTC)
    assert reading.slot is Slot.OTHER
    assert reading.source is Source.IMPORTED


def test_the_glucose_of_the_device_guide(examples: Path) -> None:
    """Source: HL7 Personal Health Device guide, CC0 (code 160368, 99 mg/dL)."""
    found = read_fhir(examples / "hl7-phd-glucose-observation.json", "Europe/Berlin", NOW)
    (reading,) = found.readings
    assert reading.glucose == Glucose.number(99, Unit.MG_DL)
    assert reading.at.wall == datetime(2025, 1, 8, 19, 7, 48)


def test_the_compound_of_the_device_guide(examples: Path) -> None:
    """The same guide: the value in a component; meal and place told without naming which."""
    found = read_fhir(examples / "hl7-phd-compound-observation-glucose.json", HOME, NOW)
    (reading,) = found.readings
    assert reading.glucose == Glucose.number(63, Unit.MMOL_L)
    assert reading.slot is Slot.OTHER
    assert reading.note == "After lunch/dinner\nSomewhere on the body."


@pytest.mark.parametrize(
    "name",
    [
        "hl7-phd-coin-example-timefault.json",
        "hl7-phd-meal-context-observation.json",
        "hl7-phd-numeric-observation-not-a-number.json",
    ],
)
def test_what_is_no_glucose_in_the_device_guide_is_left_out(examples: Path, name: str) -> None:
    found = read_fhir(examples / name, HOME, NOW)
    assert (found.readings, found.refused) == ((), ())
    assert found.skipped == {"not a fingerstick": 1}


# --- what others write ----------------------------------------------------------------------------

MEAL = {"code": {"coding": [{"system": "urn:iso:std:iso:11073:10101", "code": "8417864"}]}}
TIMING = "http://terminology.hl7.org/CodeSystem/v3-TimingEvent"


def with_meal(system: str, code: str) -> dict[str, Any]:
    value = {"coding": [{"system": system, "code": code, "display": "as told"}]}
    return {"component": [MEAL | {"valueCodeableConcept": value}]}


@pytest.mark.parametrize(
    ("changed", "slot", "note"),
    [
        (with_meal(TIMING, "PCD"), Slot.AFTER_LUNCH, ""),
        (with_meal(TIMING, "AC"), Slot.OTHER, "as told"),
        (with_meal("urn:iso:std:iso:11073:10101", "8417876"), Slot.FASTING, ""),
        (with_meal("urn:iso:std:iso:11073:10101", "8417868"), Slot.OTHER, "as told"),
        (
            {"code": {"coding": [{"system": "http://loinc.org", "code": "41604-0"}]}},
            Slot.FASTING,
            "",
        ),
        ({"note": [{"text": "after gardening"}]}, Slot.OTHER, "after gardening"),
    ],
)
def test_meals_are_known_by_codes_and_never_guessed(
    tmp_path: Path, changed: dict[str, Any], slot: Slot, note: str
) -> None:
    (reading,) = read(tmp_path / "f.json", glucose_observation(**changed)).readings
    assert (reading.slot, reading.note) == (slot, note)


def test_a_timing_tells_the_meal_and_the_minutes(tmp_path: Path) -> None:
    timing = {"event": ["2025-01-08T19:07:48-05:00"], "repeat": {"when": ["PCV"], "offset": 120}}
    told = glucose_observation(effectiveDateTime=None, effectiveTiming=timing)
    (reading,) = read(tmp_path / "f.json", told).readings
    assert (reading.slot, reading.minutes_after) == (Slot.AFTER_DINNER, 120)


@pytest.mark.parametrize(
    ("text", "wall"),
    [
        ("2025-01-08T19:07:48-05:00", "2025-01-08T19:07:48"),
        ("2025-01-08T19:07:48+01:00", "2025-01-08T19:07:48"),
        # UTC is what programs make of any time: the clock at home decides.
        ("2025-01-09T00:07:48Z", "2025-01-08T19:07:48"),
        ("2025-01-09T00:07:48+00:00", "2025-01-08T19:07:48"),
    ],
)
def test_the_clock_on_the_wall(tmp_path: Path, text: str, wall: str) -> None:
    (reading,) = read(tmp_path / "f.json", glucose_observation(effectiveDateTime=text)).readings
    assert reading.at.wall == datetime.fromisoformat(wall)
    assert reading.at.zone_assumed


def quantity(**parts: object) -> dict[str, Any]:
    return {"valueQuantity": {"value": 99, "code": "mg/dL"} | parts}


@pytest.mark.parametrize(
    ("changed", "value"),
    [
        (quantity(value=99.0), "99"),
        (quantity(value=6.30, code="mmol/L", unit="mmol/l"), "6.3"),
        (quantity(code=None, unit="mmol/l", value=6.3), "6.3"),
        (quantity(value=20, comparator="<"), "LO"),
        (quantity(value=600, comparator=">"), "HI"),
    ],
)
def test_values_as_others_write_them(tmp_path: Path, changed: dict[str, Any], value: str) -> None:
    changed["valueQuantity"] = {k: v for k, v in changed["valueQuantity"].items() if v is not None}
    (reading,) = read(tmp_path / "f.json", glucose_observation(**changed)).readings
    assert reading.glucose.text == value


REFUSED = [
    (quantity(value=0), Reason.GLUCOSE_ZERO),
    (quantity(value=-5), Reason.VALUE_IMPOSSIBLE),
    (quantity(value=5000), Reason.VALUE_IMPOSSIBLE),
    (quantity(value=126.5), Reason.DECIMALS_NOT_SHOWN),
    (quantity(value="99"), Reason.VALUE_NOT_A_NUMBER),
    (quantity(value=True), Reason.VALUE_NOT_A_NUMBER),
    (quantity(comparator="<="), Reason.VALUE_NOT_A_NUMBER),
    (quantity(code="g/L"), Reason.UNIT_UNKNOWN),
    (quantity(system="http://example.org/units"), Reason.UNIT_UNKNOWN),
    ({"valueQuantity": None}, Reason.VALUE_ABSENT),
    ({"effectiveDateTime": None}, Reason.DATE_MISSING_OR_MALFORMED),
    ({"effectiveDateTime": "yesterday"}, Reason.DATE_MISSING_OR_MALFORMED),
    ({"effectiveDateTime": "2025-02-30T10:00:00Z"}, Reason.DATE_MISSING_OR_MALFORMED),
    ({"effectiveDateTime": "2025-01-08"}, Reason.TIME_MALFORMED),
    ({"effectiveDateTime": "1950-01-08T10:00:00Z"}, Reason.DATE_TOO_EARLY),
    ({"effectiveDateTime": "2150-01-08T10:00:00Z"}, Reason.DATE_IN_FUTURE),
    ({"note": [{"text": "bell \u0007"}]}, Reason.CONTROL_CHARACTERS),
    ({"resourceType": None}, Reason.NOT_A_RESOURCE),
]


@pytest.mark.parametrize(("changed", "reason"), REFUSED)
def test_what_can_not_be_a_reading_is_refused(
    tmp_path: Path, changed: dict[str, Any], reason: Reason
) -> None:
    bundle = {"resourceType": "Bundle", "entry": [{"resource": glucose_observation(**changed)}]}
    found = read(tmp_path / "f.json", bundle)
    assert found.readings == ()
    assert [(one.number, one.reason) for one in found.refused] == [(1, reason)]


@pytest.mark.parametrize("status", ["entered-in-error", "preliminary", "cancelled", None, 7])
def test_what_is_not_meant_to_be_used_is_left_out(tmp_path: Path, status: object) -> None:
    found = read(tmp_path / "f.json", glucose_observation(status=status))
    assert (found.readings, found.refused) == ((), ())
    assert sum(found.skipped.values()) == 1


def test_equal_entries_are_repeats_with_ids_of_their_own(tmp_path: Path) -> None:
    identifier = [
        {"system": "urn:ietf:rfc:3986", "value": f"urn:uuid:{'1' * 8}-1111-4111-8111-{'1' * 12}"}
    ]
    same = {"resource": glucose_observation(identifier=identifier)}
    found = read(tmp_path / "f.json", {"resourceType": "Bundle", "entry": [same, same]})
    assert len({one.id for one in found.readings}) == 2


# --- files that are none --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("content", "why"),
    [
        ('{"resourceType": "Bundle", "entry": [', "not_json"),
        ('{"resourceType": "Bundle", "entry": [NaN]}', "not_json"),
        ("{" * 200_000, "not_json"),
        ('{"resourceType": "Bundle", "entry": [' + "[" * 200_000, "not_json"),
        ('{"anything": "else"}', "not_fhir"),
        ('{"resourceType": "Bundle", "entry": {}}', "not_fhir"),
        ('{"resourceType": "Bundle"}', "no_observations"),
        ('{"resourceType": "Patient"}', "no_observations"),
    ],
)
def test_what_is_no_fhir_is_told_in_words(tmp_path: Path, content: str, why: str) -> None:
    with pytest.raises(CannotRead) as caught:
        read(tmp_path / "f.json", content)
    assert caught.value.facts["why"] == why
    assert "f.json" in import_problem_text(caught.value)
    assert "Nothing was taken in" in import_problem_text(caught.value)


def test_bytes_that_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "f.json"
    path.write_bytes(b'{"resourceType": "Bundle\xff"}')
    with pytest.raises(CannotRead) as caught:
        read_fhir(path, HOME, NOW)
    assert caught.value.facts["why"] == "encoding"


# --- 1,000 broken files ---------------------------------------------------------------------------

_ODD: list[Any] = [None, True, 0, -1, 1e300, 10**400, "", "x", [], [None], {}, {"coding": 7}, [[]]]


def _places(value: Any) -> list[tuple[Any, Any]]:
    """Every place in a piece of JSON: what it stands in, and under which key."""
    pairs = (
        list(value.items())
        if isinstance(value, dict)
        else list(enumerate(value))
        if isinstance(value, list)
        else []
    )
    return [(value, key) for key, _inner in pairs] + [
        place for _key, inner in pairs for place in _places(inner)
    ]


def test_no_broken_file_stops_the_reader(tmp_path: Path) -> None:
    """Anything may stand anywhere: what comes is readings, reasons, or a named error."""
    random_source = random.Random(2026)
    reading = Reading(
        id=UUID(int=1, version=4),
        glucose=Glucose.number(128, Unit.MG_DL),
        at=Moment.at(datetime(2026, 3, 1, 7, tzinfo=UTC), HOME),
        written_at=datetime(2026, 3, 1, 7, tzinfo=UTC),
        slot=Slot.AFTER_LUNCH,
        minutes_after=120,
        note="a note",
    )
    whole = fhir_bundle(WholeLog(LogSettings(), (reading,)), NOW).decode()
    outcomes: set[object] = set()
    told = set()
    for _round in range(1000):
        broken = json.loads(whole)
        for _slip in range(random_source.randint(1, 3)):
            holder, key = random_source.choice(_places(broken))
            holder[key] = deepcopy(random_source.choice(_ODD))
        try:
            found = read(tmp_path / "f.json", broken)
            outcomes.add((bool(found.readings), bool(found.refused), bool(found.skipped)))
        except LogbookError as error:
            outcomes.add(error.facts.get("why"))
            told.add(import_problem_text(error))
    assert len(outcomes) >= 4, outcomes
    assert all(text.endswith(".") for text in told)


# --- large files ----------------------------------------------------------------------------------


def test_progress_is_told_and_may_stop_the_reading(tmp_path: Path) -> None:
    entries = [{"resource": glucose_observation()} for _count in range(2_000)]
    path = tmp_path / "f.json"
    path.write_text(json.dumps({"resourceType": "Bundle", "entry": entries}))
    heard: list[tuple[int, float | None]] = []
    read_fhir(path, HOME, NOW, lambda *far: heard.append(far))
    shares = [share for _count, share in heard if share is not None]
    assert len(shares) == len(heard) >= 3
    assert shares == sorted(shares)
    assert 0 < shares[0] < shares[-1] <= 1

    class Stop(Exception):
        pass

    def stop(_count: int, _share: float | None) -> None:
        raise Stop

    with pytest.raises(Stop):
        read_fhir(path, HOME, NOW, stop)


def test_the_kind_of_file_may_stand_at_its_end(tmp_path: Path) -> None:
    entries = [{"resource": glucose_observation()}]
    found = read(tmp_path / "f.json", {"entry": entries, "resourceType": "Bundle"})
    assert len(found.readings) == 1


# --- pages and lists ------------------------------------------------------------------------------


@pytest.mark.parametrize(("relation", "has_more"), [("next", True), ("self", False)])
def test_one_page_of_several_says_so(tmp_path: Path, relation: str, has_more: bool) -> None:
    """HL7 FHIR R4, http, "Paging": a searchset links to the page that follows as "next"."""
    bundle = json.loads(fhir_bundle(WholeLog(LogSettings()), NOW))
    bundle["link"] = [{"relation": relation, "url": "https://fhir.example/Observation?page=2"}]
    path = tmp_path / "page.json"
    path.write_text(json.dumps(bundle))
    assert read_fhir(path, HOME, NOW).has_more_pages is has_more


def test_a_list_of_json_is_told_as_no_fhir_file(tmp_path: Path) -> None:
    path = tmp_path / "list.json"
    path.write_text('[ {"resourceType": "Observation"} ]')
    assert is_json_file(path)
    with pytest.raises(CannotRead) as caught:
        read_fhir(path, HOME, NOW)
    assert caught.value.facts["why"] == "not_fhir"
