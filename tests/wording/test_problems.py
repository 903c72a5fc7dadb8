"""What went wrong, in words: every error and every reason, plainly and with its subject."""

from __future__ import annotations

import ast
import re
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

import logbook
from logbook.domain import errors
from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.wording.problems import problem_text, unexpected_text
from tests.wording.plain_words import faults, sentences

ERRORS = [
    kind
    for kind in vars(errors).values()
    if isinstance(kind, type) and issubclass(kind, LogbookError)
]
# These have no subject that a person would know: an id, or nothing at all.
WITHOUT_SUBJECT = {errors.NothingToUndo, errors.NoSuchRecord}


def documented_reasons() -> list[tuple[type[LogbookError], str]]:
    """The reasons that the docstrings of the errors name, after "Fact `why`:"."""
    found: list[tuple[type[LogbookError], str]] = []
    for kind in ERRORS:
        listed = re.search(r"Facts? `why`: ([\w, ]+)", kind.__doc__ or "")
        found += [(kind, why) for why in re.findall(r"\w+", listed[1])] if listed else []
    return found


def raised_reasons() -> list[tuple[type[LogbookError], str]]:
    """The reasons given literally where an error is made, anywhere in the program."""
    found = set()
    for path in Path(logbook.__file__).parent.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            kind = getattr(errors, node.func.id, None)
            for keyword in node.keywords:
                if (
                    kind in ERRORS
                    and keyword.arg == "why"
                    and isinstance(keyword.value, ast.Constant)
                ):
                    found.add((node.func.id, str(keyword.value.value)))
    return [(getattr(errors, name), why) for name, why in sorted(found)]


REASONS = sorted({(kind.__name__, why) for kind, why in documented_reasons() + raised_reasons()})


def check(text: str, subject: str) -> None:
    assert list(faults(text)) == []
    assert 1 <= len(sentences(text)) <= 2, text
    assert text[-1] in ".?"
    assert "{" not in text
    if subject:
        assert subject in text


def test_the_lists_below_are_not_empty() -> None:
    assert len(ERRORS) >= 20
    assert (errors.NotALog, "directory") in documented_reasons()
    assert (errors.BadMoment, "date_impossible") in raised_reasons()


@pytest.mark.parametrize("kind", ERRORS)
def test_every_error_has_sentences_of_its_own(kind: type[LogbookError]) -> None:
    text = problem_text(kind("SUBJECT", key="columns.date"))
    check(text, "" if kind in WITHOUT_SUBJECT else "SUBJECT")
    if kind is not LogbookError:
        assert text != problem_text(LogbookError("SUBJECT"))


@pytest.mark.parametrize(("name", "why"), REASONS)
def test_every_reason_has_a_plain_answer(name: str, why: str) -> None:
    kind = getattr(errors, name)
    text = problem_text(kind("SUBJECT", why=why, key="columns.date"))
    check(text, "" if kind in WITHOUT_SUBJECT else "SUBJECT")
    assert why not in text or "_" not in why


@pytest.mark.parametrize("kind", ERRORS)
def test_a_reason_nobody_thought_of_gets_the_words_of_its_error(kind: type[LogbookError]) -> None:
    unknown = problem_text(kind("SUBJECT", why="struck_by_lightning"))
    assert unknown == problem_text(kind("SUBJECT"))


@pytest.mark.parametrize("kind", ERRORS)
def test_an_error_without_a_subject_still_reads_well(kind: type[LogbookError]) -> None:
    text = problem_text(kind())
    check(text, "")
    assert "“”" not in text


def test_a_child_of_an_error_gets_its_parents_words() -> None:
    class LostCopy(errors.CannotRead):
        """An error that nobody has written sentences for."""

    expected = problem_text(errors.CannotRead("/a/b", why="missing"))
    assert problem_text(LostCopy("/a/b", why="missing")) == expected


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("abc", Unit.MG_DL, ["“abc”", "for example 128"]),
        ("abc", Unit.MMOL_L, ["“abc”", "for example 7.1"]),
        ("128.5", Unit.MG_DL, ["“128.5”", "mg/dL", "for example 128"]),
        ("7.15", Unit.MMOL_L, ["“7.15”", "mmol/L", "for example 7.1"]),
        ("9", Unit.MG_DL, ["“9”", "10 to 1000 mg/dL"]),
        ("128", Unit.MMOL_L, ["“128”", "0.6 to 55.0 mmol/L"]),
    ],
)
def test_a_number_that_is_none_names_its_unit(text: str, unit: Unit, says: list[str]) -> None:
    with pytest.raises(LogbookError) as caught:
        Glucose.parse(text, unit)
    words = problem_text(caught.value)
    check(words, text)
    for part in says:
        assert part in words


@given(st.text(max_size=400), st.sampled_from(ERRORS), st.text(max_size=80))
def test_whatever_was_typed_the_answer_is_one_readable_line(
    subject: str, kind: type[LogbookError], key: str
) -> None:
    text = problem_text(kind(subject, key=key, why=key))
    assert text.isprintable()
    assert len(text) < 500


def test_a_long_path_keeps_its_beginning_and_its_end() -> None:
    path = "/home/person/" + "folder/" * 40 + "name.logbook"
    text = problem_text(errors.NoSuchLog(path))
    assert "/home/person/" in text
    assert "name.logbook" in text
    assert "…" in text


def test_braces_in_a_name_are_left_alone() -> None:
    assert "a/{subject}{0}" in problem_text(errors.NoSuchLog("a/{subject}{0}"))


def test_when_the_program_itself_is_at_fault() -> None:
    check(unexpected_text("/home/person/notes"), "/home/person/notes")
