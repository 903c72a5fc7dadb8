"""Every sentence of the program, collected from its source: how it reads, how it is compiled."""

from __future__ import annotations

import gettext
import re
from io import BytesIO
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog, Message
from babel.messages.pofile import read_po, write_po

from logbook.resources import resource_path
from logbook.wording.catalogue import (
    LOCALE,
    extract,
    files_of,
    placeholders_of,
    sentences_of,
    untrue_translations,
)
from tests.wording.plain_words import faults

PROVIDERS_PAPER = "logbook/report/"
OTHER_PROGRAMS_FILES = "logbook/exchange/"

# Words of the trade that an older adult need not know, and what is said instead. The provider's
# paper may use them; "site" is also a column of other programs' files.
GLOSSARY = {
    r"medians?": "middle value",
    r"quartiles?|percentiles?|inter-?quartile": "half of your readings lie between",
    r"slots?": "time of day",
    r"struck out": "crossed out",
    r"sites?": "finger and side",
    r"7-point|seven-point": "7 checks a day for 3 days",
    r"level [12]": "low, very low",
    r"discard date": "use until",
    r"verified cop(y|ies)": "checked copy",
    r"evenness": "how evenly your fingers share the work",
    r"hypoglyc\w*|hyperglyc\w*": "low, high",
    r"standard deviation|coefficient": "left to the provider's paper",
}


@pytest.fixture(scope="module")
def messages() -> list[Message]:
    return [message for message in extract() if message.id]


def places(message: Message) -> set[str]:
    return {str(location[0]) for location in message.locations}


def is_for_the_person(message: Message) -> bool:
    return not all(place.startswith(PROVIDERS_PAPER) for place in places(message))


class TestSentences:
    def test_are_found(self, messages: list[Message]) -> None:
        texts = {text for message in messages for text in sentences_of(message)}
        assert "Fasting (before breakfast)" in texts  # marked in a table
        assert "{n} days" in texts  # a plural
        assert len(texts) > 200

    def test_are_plain_and_short(self, messages: list[Message]) -> None:
        found = [
            f"{sorted(places(message))}: {fault}"
            for message in messages
            for text in sentences_of(message)
            for fault in faults(text)
        ]
        assert found == []

    def test_keep_to_the_glossary(self, messages: list[Message]) -> None:
        found = []
        for message in filter(is_for_the_person, messages):
            for text in sentences_of(message):
                words = re.sub(r"\{\w*\}", "", text)
                for term, instead in GLOSSARY.items():
                    hit = re.search(rf"\b({term})\b", words, re.IGNORECASE)
                    of_files = all(p.startswith(OTHER_PROGRAMS_FILES) for p in places(message))
                    if hit and not (of_files and hit[0].startswith("site")):
                        found.append(f"{sorted(places(message))}: {text!r}: say {instead}")
        assert found == []

    def test_never_say_fasting_without_before_breakfast(self, messages: list[Message]) -> None:
        found = [
            text
            for message in filter(is_for_the_person, messages)
            for text in sentences_of(message)
            if re.search(r"\bfasting\b(?! month)", text, re.IGNORECASE)
            and "(before breakfast)" not in text
            and not all(place.startswith("logbook/demo/") for place in places(message))
        ]
        assert found == []

    def test_are_filled_by_name(self, messages: list[Message]) -> None:
        # A translator can't put "{}" or "%s" into another order.
        for message in messages:
            for text in sentences_of(message):
                assert "" not in placeholders_of(text), text
                assert "%s" not in text

    @pytest.mark.parametrize(
        "text",
        [
            "Please try again.",
            "Invalid date.",
            "An error occurred.",
            "Saved!",
            "",
            "Two  spaces.",
            "word " * 20 + "word.",
        ],
    )
    def test_control_the_check_sees_what_it_is_for(self, text: str) -> None:
        assert list(faults(text))

    def test_control_a_good_sentence_passes(self) -> None:
        assert list(faults("Nothing was saved. Look at the display once more.")) == []


class TestFiles:
    def test_of_english_lie_where_a_wheel_takes_them_from(self) -> None:
        # Whether they are up to date is for a release: python -m logbook.wording.catalogue --check
        assert resource_path("locale") == LOCALE
        with (LOCALE / "en" / "LC_MESSAGES" / "logbook.mo").open("rb") as file:
            compiled = gettext.GNUTranslations(file)
        assert compiled.info()["language"] == "en"
        assert (LOCALE / "logbook.pot").is_file()

    def test_are_the_same_each_time_and_hold_no_date(self, package: Path, locale: Path) -> None:
        files = files_of(package, locale)
        assert files == files_of(package, locale)
        assert not any(b"Date:" in content for content in files.values())
        assert len(files) == 3

    def test_of_a_translation_survive_a_change_of_the_source(
        self, package: Path, locale: Path
    ) -> None:
        files = files_of(package, locale)
        compiled = gettext.GNUTranslations(BytesIO(files[locale / "de/LC_MESSAGES/logbook.mo"]))
        assert compiled.gettext("Bedtime") == "Schlafenszeit"
        assert compiled.gettext("A new sentence.") == "A new sentence."
        with BytesIO(files[locale / "de/LC_MESSAGES/logbook.po"]) as file:
            catalog = read_po(file, locale="de")
        assert "A new sentence." in catalog
        assert catalog["Bedtime"].string == "Schlafenszeit"

    def test_never_hold_a_translation_filled_with_other_names(
        self, package: Path, locale: Path
    ) -> None:
        files = files_of(package, locale)
        compiled = gettext.GNUTranslations(BytesIO(files[locale / "de/LC_MESSAGES/logbook.mo"]))
        assert compiled.gettext("Rested since {day}") == "Rested since {day}"

    def test_untrue_translations_are_named(self) -> None:
        catalog = Catalog(locale="de")
        catalog.add("Rested since {day}", "Erholt seit {tag}")
        catalog.add("At {time}", "Um {time}")
        catalog.add(("{n} day", "{n} days"), ("Ein Tag", "{n} Tage"))
        assert list(untrue_translations(catalog)) == ["Rested since {day}"]


@pytest.fixture
def package(tmp_path: Path) -> Path:
    """A small source of its own."""
    folder = tmp_path / "small"
    folder.mkdir()
    (folder / "words.py").write_text(
        "from logbook.wording import _, mark\n"
        '_TEXTS = [mark("Bedtime")]\n'
        'def text(): return _("Rested since {day}"), _("A new sentence.")\n',
        encoding="utf-8",
    )
    return folder


@pytest.fixture
def locale(tmp_path: Path) -> Path:
    """A folder with one translation, older than the source."""
    folder = tmp_path / "locale"
    po = folder / "de" / "LC_MESSAGES" / "logbook.po"
    po.parent.mkdir(parents=True)
    catalog = Catalog(locale="de", fuzzy=False)
    catalog.add("Bedtime", "Schlafenszeit")
    catalog.add("Rested since {day}", "Erholt seit {tag}")
    with po.open("wb") as file:
        write_po(file, catalog)
    return folder
