"""The page after Save for each state: what would I do now? In both units, with and without targets.

The sentences are held against the steps as published or agreed (see `tests/domain` for the table);
here it is held that the window shows the row that the domain chose, and nothing against it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.glucose import Unit
from logbook.domain.readings import Feeling
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact
from logbook.ui.parts.big_button import BigButton
from tests.ui.writing_window import NOON, Writer, writing_window

LIMITS = {Unit.MG_DL: ((80, 130), (150, 250)), Unit.MMOL_L: ((44, 72), (83, 139))}


def agree(book: Book) -> None:
    """Targets before meals and at bedtime, and whom to phone; all invented."""
    unit = book.settings.unit
    kinds = (TargetKind.BEFORE_MEALS, TargetKind.BEDTIME)
    for kind, (lower, upper) in zip(kinds, LIMITS[unit], strict=True):
        limits = Limits(unit, Limit(Operator.AT_LEAST, lower), Limit(Operator.AT_MOST, upper))
        since = date(2026, 1, 1)
        book.add(Target(uuid4(), kind, (limits,), since, SetBy.PROVIDER, "Dr. Quill (invented)"))
    book.add(Contact(uuid4(), "provider", "Dr. Quill", "555 0199"))


def takes(*abouts: About) -> Callable[[Book], None]:
    """What was told to be so, long ago."""

    def tell(book: Book) -> None:
        agree(book)
        for about in abouts:
            book.add(Tick(uuid4(), about, Told.YES, date(2026, 1, 1), NOON))

    return tell


def typed(number: str) -> list[str]:
    return ["Point" if key == "." else key for key in number]


def save(person: Writer, number: str, tile: str = "Before lunch") -> None:
    unit = person.book.settings.unit.value
    person.press(*typed(number), tile, f"Save {number} {unit}")


STATES = [
    ("128", "Before lunch", "In target", "In your target of 80 to 130 mg/dL.", "Nothing to do now"),
    ("142", "Before lunch", "Above target", "A little above your target", "Nothing to do now."),
    ("186", "Before lunch", "Above target", "Above your target of", "Nothing to do now."),
    (
        "260",
        "Before lunch",
        "Above target",
        "Above your target of",
        "Does this number surprise you",
    ),
    ("318", "Before lunch", "Very high", "", "318 mg/dL is high. Wash and dry your hands"),
    ("79", "Before lunch", "Below target, not low", "Not low, but below your target", "Follow the"),
    (
        "118",
        "Bedtime",
        "Below target, not low",
        "below your bedtime target of 150 to 250",
        "Follow",
    ),
    ("128", "After lunch", "", "No target is agreed for this time of day.", "Nothing to do now."),
]
IN_MMOL = [
    ("6.1", "Before lunch", "In target", "In your target of 4.4 to 7.2 mmol/L.", "Nothing to do"),
    ("7.9", "Before lunch", "Above target", "A little above your target", "Nothing to do now."),
    ("17.2", "Before lunch", "Very high", "", "17.2 mmol/L is high. Wash and dry your hands"),
    ("4.1", "Before lunch", "Below target, not low", "Not low, but below", "Follow the plan"),
    ("6.1", "Bedtime", "Below target, not low", "below your bedtime target of 8.3", "Follow your"),
    ("6.1", "After lunch", "", "No target is agreed for this time of day.", "Nothing to do now."),
]


@pytest.mark.parametrize(
    ("unit", "number", "tile", "word", "where", "to_do"),
    [(Unit.MG_DL, *row) for row in STATES] + [(Unit.MMOL_L, *row) for row in IN_MMOL],
)
def test_each_state_tells_its_word_where_it_stands_and_one_step(
    qtbot: QtBot,
    tmp_path: Path,
    unit: Unit,
    number: str,
    tile: str,
    word: str,
    where: str,
    to_do: str,
) -> None:
    with writing_window(tmp_path, unit=unit, prepare=agree) as person:
        save(person, number, tile)
        shown = person.page.result_step
        assert person.page.step is shown
        assert shown.number.text() == f"{number} {unit.value}"
        assert shown.state.text() == word
        assert where in shown.against.text()
        assert to_do in shown.to_do.text()
        assert "medicine" not in person.words()  # not before it was tested again


@pytest.mark.parametrize("number", ["318", "128", "80"])
def test_without_targets_only_very_high_and_low_are_named(
    qtbot: QtBot, tmp_path: Path, number: str
) -> None:
    with writing_window(tmp_path) as person:
        save(person, number)
        state = person.page.result_step.state
        assert state.text() == ("Very high" if number == "318" else "")


def test_only_the_second_high_brings_the_caution_and_the_own_plan_stands_above_it(
    qtbot: QtBot, tmp_path: Path
) -> None:
    def plan(book: Book) -> None:
        book.save_settings(replace(book.settings, high_plan="Walk for 10 minutes."))

    with writing_window(tmp_path, prepare=plan) as person:
        save(person, "318")
        assert "Do not take extra medicine" not in person.words()
        assert "Walk for 10 minutes." not in person.words()
        person.press("I tested again", *"324", "Save 324 mg/dL")
        words = person.words()
        assert words.index("Your plan: Walk for 10 minutes.") < words.index("It is high again.")
        assert "Do not take extra medicine unless your written plan says so." in words
        assert "Drink water, unless you were told to drink less." in words


def test_a_check_after_feeling_unwell_is_no_second_high(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        save(person, "240")
        person.press("I feel unwell", "I tested again", *"262", "Save 262 mg/dL")
        assert "It is high again" not in person.words()
        assert "Does this number surprise you?" in person.words()


def test_hi_is_tested_again_before_anyone_is_called_and_then_the_number_is_there(
    qtbot: QtBot, tmp_path: Path
) -> None:
    with writing_window(tmp_path, prepare=agree) as person:
        person.press("Meter shows HI", "Yes, save HI")
        assert "test again with a new strip" in person.words()
        assert "Call" not in person.words()
        person.press("I tested again", "Meter shows HI", "Yes, save HI")
        words = person.words()
        assert words.count("Call your provider now, day or night.") == 1
        assert "Call 911 if drowsy, confused, vomiting, breathing fast" in words
        assert "Dr. Quill: 555 0199" in words
        person.press("I called")
        assert "Dr. Quill: 555 0199" not in person.words()


# --- unwell with a good number --------------------------------------------------------------------


@pytest.mark.parametrize(("unit", "number"), [(Unit.MG_DL, "108"), (Unit.MMOL_L, "6.1")])
def test_one_press_tells_that_i_feel_unwell_and_what_to_do_then(
    qtbot: QtBot, tmp_path: Path, unit: Unit, number: str
) -> None:
    with writing_window(tmp_path, unit=unit, prepare=agree) as person:
        save(person, number)
        assert "This number is not low." not in person.words()
        person.press("I feel unwell")
        words = person.words()
        assert "This number is not low. Something else can make you feel unwell." in words
        assert "Test again on another finger." in words
        assert "Chest pain, a drooping face, a weak arm or slurred speech: call 911 now." in words
        assert "Do not trust the number" in words
        assert person.readings[-1].feelings == (Feeling.UNWELL,)
        assert person.button("I tested again").isVisible()
        seen = [one.text() for one in person.window.findChildren(BigButton) if one.isVisible()]
        assert "I feel unwell" not in seen


@pytest.mark.parametrize("feeling", ["Shaky", "Sweaty", "Dizzy", "Confused", "Weak"])
def test_a_feeling_told_before_save_says_the_same(
    qtbot: QtBot, tmp_path: Path, feeling: str
) -> None:
    with writing_window(tmp_path, prepare=agree) as person:
        person.press(*"108", "More …", feeling, "Back to the number", "Save 108 mg/dL")
        assert "This number is not low." in person.words()


def test_feeling_well_or_hungry_says_nothing_of_it(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=agree) as person:
        person.press(*"108", "More …", "Well", "Hungry", "Back to the number", "Save 108 mg/dL")
        assert "This number is not low." not in person.words()


@pytest.mark.parametrize(
    ("about", "told"),
    [
        (About.BETA_BLOCKER, "With a beta blocker, sweating may be the only sign of a low."),
        (About.SGLT2_INHIBITOR, "acid can build up in the blood at a good number too"),
    ],
)
def test_medicines_add_their_line_only_where_they_are_taken(
    qtbot: QtBot, tmp_path: Path, about: About, told: str
) -> None:
    for number, prepare in enumerate((takes(about), agree)):
        folder = tmp_path / str(number)
        folder.mkdir()
        with writing_window(folder, prepare=prepare) as person:
            save(person, "108")
            person.press("I feel unwell")
            assert (told in person.words()) is (prepare is not agree)


def test_undo_takes_the_feeling_back_and_keeps_the_number(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        save(person, "108")
        person.press("I feel unwell", "Undo: change of 108 mg/dL at 12:04 PM")
        assert "This number is not low." not in person.words()
        assert "Nothing to do now." in person.words()
        (reading,) = person.readings
        assert (reading.glucose.text, reading.feelings) == ("108", ())


@pytest.mark.parametrize("percent", [100, 150, 200])
@pytest.mark.parametrize(
    "presses",
    [
        (*"128", "Before lunch", "Save 128 mg/dL"),
        (*"318", "Before lunch", "Save 318 mg/dL"),
        (*"318", "Before lunch", "Save 318 mg/dL", "I tested again", *"320", "Save 320 mg/dL"),
        ("Meter shows HI", "Yes, save HI"),
        (*"108", "Before lunch", "Save 108 mg/dL", "I feel unwell"),
    ],
    ids=["in target", "very high", "high again", "HI", "unwell"],
)
def test_what_to_do_is_in_sight_at_once(
    qtbot: QtBot, tmp_path: Path, percent: int, presses: tuple[str, ...]
) -> None:
    with writing_window(tmp_path, prepare=agree, size=(1280, 720)) as person:
        person.press(*presses)
        while person.window.desk.look.theme.percent < percent:
            person.press("A+")
        shown, area = person.page.result_step, person.page.scrolled.area
        room = area.viewport().rect()
        to_do = shown.to_do
        top_left = to_do.mapTo(area.viewport(), to_do.rect().topLeft())
        bottom = to_do.mapTo(area.viewport(), to_do.rect().bottomLeft())
        assert room.contains(top_left)
        assert bottom.y() <= room.bottom()
