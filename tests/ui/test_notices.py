"""What waits for an answer: calls to the provider and a day of illness, until they are answered."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from pathlib import Path
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.book import Book
from logbook.domain.answers import Asked, Said
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.moments import Moment
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.ticks import About, Tick, Told
from logbook.domain.visits import Contact
from logbook.ui.parts.big_button import BigButton
from tests.ui.writing_window import NOON, ZONE, Writer, writing_window

TODAY = date(2026, 3, 31)


def reading(number: int, unit: Unit, **ago: float) -> Reading:
    at = Moment.at(NOON - timedelta(**ago), ZONE)
    return Reading(uuid4(), Glucose.number(number, unit), at, at.instant, Slot.BEFORE_LUNCH)


def lows(book: Book) -> None:
    """A very low and, 3 days later, a low, both over; invented."""
    unit = book.settings.unit
    very_low, low, good = (50, 66, 120) if unit is Unit.MG_DL else (28, 37, 67)
    book.add(
        Contact(uuid4(), "provider", "Dr. Quill", "555 0199"),
        reading(very_low, unit, days=4),
        reading(good, unit, days=3, hours=23),
        reading(low, unit, days=1),
        reading(good, unit, hours=23),
    )


def ill_since(first: date, *others: About) -> Callable[[Book], None]:
    def tell(book: Book) -> None:
        for about in others:
            book.add(Tick(uuid4(), about, Told.YES, TODAY, NOON))
        book.add(Spell(uuid4(), SpellKind.ILL, first))

    return tell


def waiting(person: Writer) -> str:
    """What the button beside the list of pages says; empty when it is not there."""
    for pages in person.window.lists.both:
        if pages.isVisible() and pages.waiting.isVisible():
            return pages.waiting.text()
    return ""


def shown(person: Writer) -> list[str]:
    step = person.page.notices.step
    return [one.text() for one in step.findChildren(BigButton) if one.isVisible()]


def open_waiting(person: Writer) -> None:
    person.click(next(one.waiting for one in person.window.lists.both if one.isVisible()))
    assert person.page.step is person.page.notices.step


# --- calls ----------------------------------------------------------------------------------------


def test_nothing_waits_in_a_quiet_log(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        assert waiting(person) == ""


@pytest.mark.parametrize("unit", list(Unit))
def test_the_gravest_is_named_with_how_many_more(qtbot: QtBot, tmp_path: Path, unit: Unit) -> None:
    with writing_window(tmp_path, unit=unit, prepare=lows) as person:
        assert waiting(person).startswith("Call your provider today. And ")
        open_waiting(person)
        words = person.words()
        assert "Call your provider today. A low that was very low (4 days ago)." in words
        assert "Call your provider this week. 2 lows, less than 7 days apart (yesterday)." in words
        assert words.count("Dr. Quill: 555 0199") == 1


@pytest.mark.parametrize(("press", "said"), [("I called", Said.YES), ("Not now", Said.LATER)])
def test_an_answer_takes_it_off_and_is_kept(
    qtbot: QtBot, tmp_path: Path, press: str, said: Said
) -> None:
    with writing_window(tmp_path, prepare=lows) as person:
        open_waiting(person)
        before = len(shown(person))
        step = person.page.notices.step
        buttons = [one for one in step.findChildren(BigButton) if one.text() == press]
        person.click(buttons[0])
        assert len(shown(person)) < before
        kept = [one for one in person.book.answers() if one.asked is Asked.CALLED]
        assert [one.said for one in kept] == [said]
        assert "very low" not in person.words()
        person.press(f"Undo: answer: {'Yes' if said is Said.YES else press}")
        assert waiting(person).startswith("Call your provider today.")
        assert len(shown(person)) == before


def test_what_was_not_answered_is_there_after_a_restart(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=lows) as person:
        before = waiting(person)
    with writing_window(tmp_path) as person:
        assert waiting(person) == before != ""


def test_a_new_call_is_told_with_what_made_it(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        assert waiting(person) == ""
        person.press("Something happened", "Vomiting, or cannot eat or drink")
        assert person.page.step is person.page.result_step
        assert "Call your provider now, day or night. Eating, drinking" in person.words()
        assert waiting(person) == "Call your provider now, day or night."
        person.press("I called")
        assert waiting(person) == ""
        assert "day or night" not in person.words()


def test_the_keys_keep_their_place_when_something_waits(qtbot: QtBot, tmp_path: Path) -> None:
    places = []
    for number, prepare in enumerate((None, lows)):
        folder = tmp_path / str(number)
        folder.mkdir()
        with writing_window(folder, prepare=prepare) as person:
            keypad = person.page.form.keypad
            places.append(keypad.mapTo(person.window, keypad.rect().topLeft()).y())
            bottom = keypad.mapTo(person.window, keypad.rect().bottomLeft()).y()
            assert bottom <= person.window.bar.y()
    assert places[0] == places[1]


# --- a day of illness -----------------------------------------------------------------------------


def test_i_am_ill_today_opens_a_stretch_and_tells_the_own_plan_first(
    qtbot: QtBot, tmp_path: Path
) -> None:
    own = LogSettings(home_zone=ZONE, country="US", sick_day_plan="Sips every 15 minutes.")
    with writing_window(tmp_path, settings=own) as person:
        person.press("Something happened", "I am ill today")
        (spell,) = person.book.spells()
        assert (spell.kind, spell.first, spell.last) == (SpellKind.ILL, TODAY, None)
        words = person.words()
        assert words.index("Your plan: Sips every 15 minutes.") < words.index("Keep drinking")
        assert "Call now, whatever the number says." in words
        assert waiting(person).startswith("Ill: check")


def test_the_line_tells_since_when_and_the_next_extra_check(qtbot: QtBot, tmp_path: Path) -> None:
    def prepare(book: Book) -> None:
        book.add(reading(140, Unit.MG_DL, hours=1))
        ill_since(TODAY)(book)

    with writing_window(tmp_path, prepare=prepare) as person:
        assert waiting(person) == "Ill: check about 3:04 PM"
        open_waiting(person)
        assert "Ill since today. Next extra check about 3:04 PM." in person.words()
        person.pass_time(hours=3, minutes=1)
        assert waiting(person) == "Ill: check now"


def test_still_ill_is_asked_and_no_ends_it_with_yesterday(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=ill_since(date(2026, 3, 29))) as person:
        assert waiting(person) == "Are you still ill?"
        open_waiting(person)
        assert "Ill since Sunday, March 29." in person.words()
        person.press("No, I am well again")
        (spell,) = person.book.spells()
        assert spell.last == TODAY - timedelta(days=1)
        assert waiting(person) == ""
        assert person.page.step is person.page.form


def test_yes_is_kept_and_asked_again_in_the_evening(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=ill_since(date(2026, 3, 29))) as person:
        open_waiting(person)
        person.press("Yes, still ill")
        assert waiting(person).startswith("Ill: check")
        person.pass_time(hours=7)
        assert waiting(person) == "Are you still ill?"
        assert [one.last for one in person.book.spells()] == [None]


def test_well_again_on_the_first_day_is_no_illness_any_more(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path, prepare=ill_since(TODAY)) as person:
        open_waiting(person)
        person.press("I am well again")
        (spell,) = person.book.spells()
        assert (spell.first, spell.last) == (TODAY, TODAY)
        assert waiting(person) == ""


@pytest.mark.parametrize("others", [(), (About.SGLT2_INHIBITOR,)])
def test_ketoacidosis_is_named_only_with_an_sglt2_inhibitor(
    qtbot: QtBot, tmp_path: Path, others: tuple[About, ...]
) -> None:
    with writing_window(tmp_path, prepare=ill_since(TODAY, *others)) as person:
        open_waiting(person)
        assert ("acid can build up in the blood" in person.words()) is bool(others)


def test_cannot_eat_or_drink_says_to_call_now(qtbot: QtBot, tmp_path: Path) -> None:
    with writing_window(tmp_path) as person:
        at = Moment.at(NOON, ZONE)
        happened = Happening(uuid4(), What.CANNOT_EAT_OR_DRINK, at, at.instant)
        person.window.desk.write(person.book.add, happened)
        assert waiting(person) == "Call your provider now, day or night."
