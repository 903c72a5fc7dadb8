"""One language at a time: catalogues found, missing or damaged, and what follows from each."""

from __future__ import annotations

import gettext
import os
import subprocess
import sys
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from logbook.domain.slots import Slot
from logbook.resources import resource_path
from logbook.wording import _, ngettext, pgettext, set_language
from logbook.wording.dates import day_text
from logbook.wording.manner import manner
from logbook.wording.numbers import days_text, number_text
from logbook.wording.terms import slot_text

DAY = date(2026, 3, 31)
# Made up for the test, and no German that anybody should read.
GERMAN = {
    "After lunch": "Nach Mittag",
    ("{n} day", "{n} days"): ("{n} Tag", "{n} Tage"),
}


class TestCatalogue:
    def test_of_english_is_found_where_the_program_looks(self) -> None:
        assert (resource_path("locale") / "en" / "LC_MESSAGES" / "logbook.mo").is_file()
        assert set_language("en_GB") == "en"
        assert slot_text(Slot.AFTER_LUNCH) == "After lunch"

    def test_of_another_language_is_used_for_sentences_and_for_dates(
        self, make_catalogue: Callable[..., Path]
    ) -> None:
        make_catalogue("de", GERMAN)
        assert set_language("de_AT") == "de"
        assert slot_text(Slot.AFTER_LUNCH) == "Nach Mittag"
        assert (days_text(1), days_text(2)) == ("1 Tag", "2 Tage")
        assert day_text(DAY) == "31. März 2026"
        assert manner().locale == "de_AT"

    def test_may_lack_sentences_which_are_then_english(
        self, make_catalogue: Callable[..., Path]
    ) -> None:
        make_catalogue("de", GERMAN)
        set_language("de")
        assert slot_text(Slot.BEDTIME) == "Bedtime"

    def test_can_be_left_again(self, make_catalogue: Callable[..., Path]) -> None:
        make_catalogue("de", GERMAN)
        set_language("de")
        set_language("en")
        assert slot_text(Slot.AFTER_LUNCH) == "After lunch"

    def test_that_is_missing_leaves_everything_english_in_the_countrys_manner(self) -> None:
        assert set_language("de_DE") == "en"
        assert slot_text(Slot.AFTER_LUNCH) == "After lunch"
        assert day_text(DAY) == "31 March 2026"  # no German month in an English sentence
        assert number_text(7.1, 1) == "7,1"

    @pytest.mark.parametrize("damage", [b"", b"\0" * 40, b"not a catalogue"])
    def test_that_is_damaged_counts_as_missing(
        self, make_catalogue: Callable[..., Path], damage: bytes
    ) -> None:
        make_catalogue("de", GERMAN).write_bytes(damage)
        assert set_language("de") == "en"
        assert slot_text(Slot.AFTER_LUNCH) == "After lunch"

    def test_cut_off_anywhere_never_stops_the_program(
        self, make_catalogue: Callable[..., Path], monkeypatch: pytest.MonkeyPatch
    ) -> None:
        compiled = make_catalogue("de", GERMAN)
        whole = compiled.read_bytes()
        became = set()
        for length in range(len(whole) + 1):
            monkeypatch.setattr(gettext, "_translations", {})  # it keeps what it read, by path
            compiled.write_bytes(whole[:length])
            became.add(set_language("de"))
            assert slot_text(Slot.AFTER_LUNCH) in ("After lunch", "Nach Mittag")
        assert became == {"de", "en"}


@pytest.mark.parametrize(
    "tag", ["", "xx", "C", "POSIX", "en_XX", "e", "../..", "en_US.UTF-8", "de@euro", "a" * 300, "_"]
)
def test_any_tag_ends_in_a_language(tag: str) -> None:
    assert set_language(tag) == "en"
    assert day_text(DAY)


def test_the_empty_text_is_not_the_catalogues_header(make_catalogue: Callable[..., Path]) -> None:
    make_catalogue("de", GERMAN)
    set_language("de")
    assert _("") == ""


def test_plurals_and_contexts_without_a_catalogue() -> None:
    assert ngettext("{n} day", "{n} days", 1) == "{n} day"
    assert ngettext("{n} day", "{n} days", 0) == "{n} days"
    assert pgettext("a finger", "Left") == "Left"


def test_nothing_is_translated_when_modules_are_imported() -> None:
    # Every module of the package, in a process of its own, with a gettext that would tell.
    code = """
import gettext, importlib, pkgutil
def tell(*_): raise SystemExit("translated at import")
for name in ("gettext", "ngettext", "pgettext"):
    setattr(gettext.NullTranslations, name, tell)
import logbook.wording
names = [m.name for m in pkgutil.iter_modules(logbook.wording.__path__, "logbook.wording.")]
for name in names:
    importlib.import_module(name)
print(len(names))
"""
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.stderr == ""
    assert int(done.stdout) >= 10


@pytest.mark.parametrize("variable", ["LANG", "LC_ALL", "LANGUAGE", "LC_TIME"])
def test_the_environment_decides_nothing(variable: str) -> None:
    code = """
from datetime import date
from logbook.wording.dates import day_text
from logbook.wording.numbers import number_text
print(day_text(date(2026, 3, 31)), number_text(1234.5, 1))
"""
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        env=os.environ | {variable: "de_DE.UTF-8"},
    )
    assert done.stdout == "March 31, 2026 1,234.5\n"
