"""Which meter a typed reading names, so that strips can be counted for each meter."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from uuid import UUID

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Unit
from logbook.domain.kit.meters import Meter
from logbook.ui.draft import Draft
from logbook.ui.draft_file import DraftFile
from logbook.ui.parts.big_button import BigButton
from tests.ui.writing_window import Writer, writing_window

WIDE = (1920, 1080)  # all of "More" in sight

BEDSIDE = Meter.usual(UUID(int=1), "Bedside", Unit.MG_DL, date(2026, 1, 1))
HANDBAG = Meter.usual(UUID(int=2), "Handbag", Unit.MG_DL, date(2026, 2, 1))
OLD = replace(HANDBAG, id=UUID(int=3), name="Old", in_use_until=date(2026, 3, 1))
LATER = replace(HANDBAG, id=UUID(int=6), name="Later", in_use_from=date(2026, 6, 1))
CLINIC = replace(HANDBAG, id=UUID(int=4), name="Clinic", is_own=False)
MMOL = Meter.usual(UUID(int=5), "Other unit", Unit.MMOL_L, date(2026, 3, 1))


def with_meters(*meters: Meter) -> Callable[[Book], None]:
    def add(book: Book) -> None:
        if meters:
            book.add(*meters)

    return add


def save(person: Writer, *presses: str) -> UUID | None:
    """The meter of the reading that is saved now."""
    if person.page.step is person.page.result_step:
        person.press("Write down another")
    before = {one.id for one in person.readings}
    person.press(*"128", *presses, "Save 128 mg/dL")
    (new,) = [one for one in person.readings if one.id not in before]
    return new.meter_id


@pytest.mark.parametrize(
    ("meters", "expected"),
    [
        ((), None),
        ((BEDSIDE,), BEDSIDE.id),
        ((OLD, BEDSIDE), BEDSIDE.id),
        ((LATER,), None),
        ((BEDSIDE, CLINIC), BEDSIDE.id),
        ((BEDSIDE, MMOL), BEDSIDE.id),
    ],
    ids=["none", "one", "one is out of use", "not yet in use", "the clinic's", "in another unit"],
)
def test_a_typed_reading_names_the_own_meter_in_use(
    qtbot: QtBot, tmp_path: Path, meters: tuple[Meter, ...], expected: UUID | None
) -> None:
    with writing_window(tmp_path, prepare=with_meters(*meters)) as person:
        assert save(person) == expected


def test_the_meter_is_asked_for_only_where_there_are_several(qtbot: QtBot, tmp_path: Path) -> None:
    for number, meters in enumerate(((BEDSIDE,), (BEDSIDE, HANDBAG))):
        folder = tmp_path / str(number)
        folder.mkdir()
        with writing_window(folder, prepare=with_meters(*meters)) as person:
            person.press("More …")
            seen = {one.text() for one in person.window.findChildren(BigButton) if one.isVisible()}
            assert ({"Bedside", "Handbag"} <= seen) is (len(meters) > 1)


def test_the_chosen_meter_stays_the_one_in_use_until_another_is_chosen(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=with_meters(BEDSIDE, HANDBAG), size=WIDE) as person:
        assert save(person) == HANDBAG.id
        assert save(person, "More …", "Bedside", "Back to the number") == BEDSIDE.id
        person.pass_time(minutes=1)
        assert save(person) == BEDSIDE.id


def test_the_chosen_meter_is_in_the_draft_that_is_kept(tmp_path: Path) -> None:
    file = DraftFile(tmp_path, tmp_path / "my.logbook")
    draft = Draft(text="128", meter_id=BEDSIDE.id)
    file.keep(draft)
    file.keep_now()
    found = file.found()
    assert found is not None
    assert found.meter_id == BEDSIDE.id


def test_a_draft_without_a_meter_is_still_read(tmp_path: Path) -> None:
    """As a program before this one kept it."""
    file = DraftFile(tmp_path, tmp_path / "my.logbook")
    file.keep(Draft(text="128"))
    file.keep_now()
    plain = json.loads(file.path.read_text(encoding="utf-8"))
    del plain["meter_id"]
    file.path.write_text(json.dumps(plain), encoding="utf-8")
    found = file.found()
    assert found is not None
    assert (found.text, found.meter_id) == ("128", None)
