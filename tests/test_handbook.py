"""The handbook says what the program has: every page, subject, command, option and button named.

The labels are taken from the program itself. What the person sees in the window stands in bold, and
the other way round every bold text must be one that the program still says. Every suite here has a
control: a label, link or sentence made up or made wrong, which must be reported.
"""

from __future__ import annotations

import argparse
import re
from collections.abc import Iterable
from datetime import date
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import cast
from uuid import uuid4

import pytest
from pytestqt.qtbot import QtBot

from logbook.app import page_types
from logbook.book import Book
from logbook.commands.arguments import _parser
from logbook.domain.happenings import StripFailure, What
from logbook.domain.picture_periods import Span
from logbook.domain.states import State
from logbook.domain.targets import TargetBook
from logbook.domain.visits import Appointment, Medicine
from logbook.ui.pages.help import Help
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.pages.look_back_spans import SpanTiles
from logbook.ui.pages.my_plan import HomeView
from logbook.ui.pages_page import PagesPage
from logbook.ui.theme import Look
from logbook.wording.catalogue import extract, sentences_of
from logbook.wording.terms import state_text, strip_failure_text, what_text
from tests.ui.plan_window import open_window
from tests.wording.plain_words import faults

ROOT = Path(__file__).resolve().parent.parent
HANDBOOK = ROOT / "docs" / "handbook"
FOR_HELPERS = ("commands.md", "layouts.md")
PERSONS_PAGES = sorted(p for p in HANDBOOK.glob("*.md") if p.name not in FOR_HELPERS)
LINKED_FROM = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")])

_BOLD = re.compile(r"\*\*(.+?)\*\*")
_LINK = re.compile(r"\[[^\]]*\]\(([^)\s]+)\)")
_HEADING = re.compile(r"^#+ +(.+)$", re.MULTILINE)
MADE_UP = "Water the plants"


def text_of(path: Path) -> str:
    """A page with one line for each paragraph, item and row, however it is wrapped."""
    text = path.read_text(encoding="utf-8")
    return re.sub(r"(?<=[^\n|]) *\n(?!\n|\||#+ |- |\d+\. ) *", " ", text)


@cache
def bold_in_handbook() -> frozenset[str]:
    """Everything in bold on the pages for the person."""
    return frozenset(
        " ".join(found.split()) for page in PERSONS_PAGES for found in _BOLD.findall(text_of(page))
    )


def missing(labels: Iterable[str]) -> list[str]:
    """The labels that stand nowhere in bold."""
    return [label for label in labels if " ".join(label.split()) not in bold_in_handbook()]


def test_a_made_up_label_is_reported_missing() -> None:
    assert missing([MADE_UP]) == [MADE_UP]


# --- what the window has --------------------------------------------------------------------------


def test_every_page_is_named() -> None:
    labels = [kind.label() for kind in (*page_types(), Help, PagesPage)]
    assert len(labels) >= 7
    assert not missing(labels)


def test_every_subject_of_my_plan_is_named(qtbot: QtBot, tmp_path: Path) -> None:
    with open_window(qtbot, tmp_path) as opened:
        opened.press("My plan")
        view = opened.view
        assert isinstance(view, HomeView)
        labels = [button.accessibleName() for button in view.buttons.values()]
    assert len(labels) >= 13
    assert not missing(labels)


def test_every_period_of_look_back_is_named(qtbot: QtBot) -> None:
    before = date(2026, 1, 1)
    log = SimpleNamespace(
        appointments=lambda: [Appointment(uuid4(), before)],
        targets=lambda: TargetBook(()),
        medicines=lambda: [Medicine(uuid4(), "a tablet", before)],
    )
    tiles = SpanTiles(Look("light", 100))
    qtbot.addWidget(tiles)
    tiles.offer(cast("Book", log), date(2026, 3, 31), Looking())
    labels = [tile.text() for tile in tiles.tiles.values()]
    assert len(labels) == len(Span) + 1  # and "any dates"
    assert not missing(labels)


def test_everything_that_can_happen_is_named() -> None:
    assert not missing([*map(what_text, What), *map(strip_failure_text, StripFailure)])


def test_every_state_of_a_reading_is_named() -> None:
    assert not missing(map(state_text, State))


# --- what the handbook says is there --------------------------------------------------------------


@cache
def said_by_the_program() -> tuple[re.Pattern[str], ...]:
    """Every sentence of the program; whatever fills a placeholder may stand in its place."""
    sentences = {text for message in extract() if message.id for text in sentences_of(message)}
    return tuple(
        re.compile(".+".join(re.escape(part) for part in re.split(r"\{\w*\}", sentence)))
        for sentence in sentences
        if re.search(r"\w", re.sub(r"\{\w*\}", "", sentence))
    )


def never_said(texts: Iterable[str]) -> list[str]:
    """The texts that are no sentence of the program."""
    return [
        text
        for text in texts
        if not any(pattern.fullmatch(text) for pattern in said_by_the_program())
    ]


def test_what_stands_in_bold_is_what_the_program_says() -> None:
    assert not never_said(bold_in_handbook())


def test_a_made_up_label_is_reported_as_never_said() -> None:
    assert never_said([MADE_UP, "Undo: 128"]) == [MADE_UP]


# --- commands -------------------------------------------------------------------------------------


def commands() -> dict[str, argparse.ArgumentParser]:
    """Each command with its parser."""
    (choices,) = (
        action.choices
        for action in _parser()._actions
        if isinstance(action, argparse._SubParsersAction)
    )
    return dict(choices)


@cache
def sections() -> dict[str, str]:
    """The page of the commands, section by section."""
    parts = re.split(
        r"^## (.+)$", (HANDBOOK / "commands.md").read_text("utf-8"), flags=re.MULTILINE
    )
    return {"": parts[0], **dict(zip(parts[1::2], parts[2::2], strict=True))}


def options_missing(command: str, options: Iterable[str]) -> list[str]:
    """The options that neither the command's section nor those for all commands name."""
    for_all = sections()[""] + sections()["For all of them"]
    told = for_all + sections().get(command, "")
    return [
        option
        for option in options
        if not re.search(rf"(?<![\w-]){re.escape(option)}(?![\w-])", told)
    ]


def long_options(parser: argparse.ArgumentParser) -> list[str]:
    return [
        option
        for action in parser._actions
        for option in action.option_strings
        if option.startswith("--")
    ]


@pytest.mark.parametrize("command", ["", *commands()])
def test_every_command_and_option_is_named(command: str) -> None:
    parser = commands()[command] if command else _parser()
    assert command in sections()
    assert len(long_options(parser)) >= 1
    assert not options_missing(command, long_options(parser))


def test_a_made_up_option_is_reported_missing() -> None:
    assert options_missing("report", ["--colour", "--gri", "--grid"]) == ["--colour", "--gri"]


# --- how it is written ----------------------------------------------------------------------------


def sentences_in(page: Path) -> list[str]:
    """The prose of a page: each paragraph, item and cell without its marks."""
    found = []
    for line in text_of(page).splitlines():
        cells = line.strip("|").split("|") if line.startswith("|") else [line]
        for cell in cells:
            plain = _LINK.sub(lambda link: link[0][1:].partition("]")[0], cell)
            plain = re.sub(r"^\s*(#+|-|\d+\.) +|[*`]", "", plain).strip()
            if re.search(r"\w", plain):
                found.append(plain)
    return found


@pytest.mark.parametrize("page", PERSONS_PAGES, ids=lambda page: page.stem)
def test_sentences_are_short_and_plain(page: Path) -> None:
    assert [fault for text in sentences_in(page) for fault in faults(text)] == []


def test_a_long_sentence_and_a_blunt_word_are_reported(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("- " + "word\n  " * 21 + "\n\nThis is an **error**.\n\nAll is well.\n")
    found = [fault for text in sentences_in(page) for fault in faults(text)]
    assert len(found) == 2
    assert found[0].startswith("over 20 words")
    assert "'error'" in found[1]


# --- links ----------------------------------------------------------------------------------------


def anchors_of(page: Path) -> set[str]:
    """The anchors that a page's headings get where such pages are shown."""
    headings = _HEADING.findall(page.read_text(encoding="utf-8"))
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in headings}


def dead_links(page: Path) -> list[str]:
    """The relative links that lead to no file, or to no heading in it."""
    dead = []
    for target in _LINK.findall(page.read_text(encoding="utf-8")):
        if re.match(r"[a-z]+:", target):
            continue
        name, _, anchor = target.partition("#")
        led_to = (page.parent / name).resolve() if name else page
        if not led_to.exists() or (anchor and anchor not in anchors_of(led_to)):
            dead.append(target)
    return dead


@pytest.mark.parametrize("page", LINKED_FROM, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_relative_link_leads_somewhere(page: Path) -> None:
    assert not dead_links(page)


def test_links_that_lead_nowhere_are_reported(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("# Here\n[a](none.md) [b](#here) [c](page.md#there) [d](https://example.org)")
    assert dead_links(page) == ["none.md", "page.md#there"]


def test_the_index_leads_to_every_page() -> None:
    linked = set(_LINK.findall((HANDBOOK / "README.md").read_text(encoding="utf-8")))
    assert {page.name for page in HANDBOOK.glob("*.md")} - {"README.md"} <= linked


# --- the map for those who work on it -------------------------------------------------------------


def paths_that_are_not_there(text: str) -> list[str]:
    """Paths in code marks below the folders of the project, that do not exist."""
    found = re.findall(r"`((?:logbook|resources|tests|docs|\.ci)/[\w./-]*)`", text)
    return [path for path in found if not (ROOT / path).exists()]


def test_every_path_in_the_map_exists() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert "`logbook/domain/`" in text
    assert not paths_that_are_not_there(text)


def test_a_path_that_is_not_there_is_reported() -> None:
    assert paths_that_are_not_there("`logbook/attic/` `logbook/ui/`") == ["logbook/attic/"]
