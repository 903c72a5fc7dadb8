"""Each test begins and ends in American English; other languages are made for a test alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo

import logbook.wording
from logbook.wording import set_language
from logbook.wording.manner import Manner, set_manner

MakeCatalogue = Callable[[str, dict[str | tuple[str, str], str | tuple[str, ...]]], Path]


@pytest.fixture(autouse=True)
def _american_english() -> Iterator[None]:
    set_language("en_US")
    yield
    set_language("en_US")
    set_manner(Manner())


@pytest.fixture
def make_catalogue(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> MakeCatalogue:
    """Compile a catalogue of a language, and let the program find it instead of its own."""

    def make(
        language: str, translations: dict[str | tuple[str, str], str | tuple[str, ...]]
    ) -> Path:
        catalog = Catalog(locale=language, fuzzy=False)
        for source, translation in translations.items():
            catalog.add(source, translation)
        compiled = tmp_path / language / "LC_MESSAGES" / "logbook.mo"
        compiled.parent.mkdir(parents=True)
        with compiled.open("wb") as file:
            write_mo(file, catalog)
        monkeypatch.setattr(logbook.wording, "resource_path", lambda *_: tmp_path)
        return compiled

    return make
