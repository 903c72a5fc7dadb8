"""Bringing in another copy of the log: the laws on real files, and what is refused."""

from __future__ import annotations

import hashlib
import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.book import Action, Book
from logbook.domain.actions import Record
from logbook.domain.bringing_in import NOTHING, BroughtIn
from logbook.domain.errors import CannotRead, DamagedLog, LogbookError, NewerLog, NoSuchLog, NotALog
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.readings import Doubt, Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.visits import Contact
from logbook.store.records import KINDS
from tests.store import revision_1
from tests.store.records import Clock, make_log, make_reading, new_id
from tests.store.strategies import KEPT, log_settings, record_lists

HERE = datetime(2026, 4, 1, tzinfo=UTC)
THERE = HERE + timedelta(days=1)


def records_in(path: Path) -> dict[tuple[str, str], str]:
    """Every row of every kind of record, as the file holds it."""
    found = {}
    with closing(sqlite3.connect(f"{path.as_uri()}?mode=ro", uri=True)) as connection:
        for kind in KINDS.values():
            for row in connection.execute(f"SELECT * FROM {kind.table.name}"):
                found[kind.name, row[0]] = repr(row[1:-1])
    return found


def sha256(path: Path) -> str:
    return hashlib.sha256(path.read_bytes()).hexdigest()


def copied(path: Path, name: str) -> Path:
    folder = path.parent / name
    folder.mkdir()
    return Path(shutil.copy(path, folder / path.name))


def bring(path: Path, other: Path, at: datetime = THERE + timedelta(days=1)) -> BroughtIn:
    with Book.open(path, Clock(at)) as book:
        _, brought = book.bring_in(other)
        return brought


@pytest.fixture
def two(tmp_path: Path) -> tuple[Path, Path]:
    """A log with one reading and one person to phone, and a copy of it elsewhere."""
    one = make_log(tmp_path / "a.logbook", make_reading(1), CONTACT)
    return one, copied(one, "elsewhere")


CONTACT = Contact(new_id(900), "daughter", "Anna", "1")


# --- single cases --------------------------------------------------------------------------------


def test_what_was_written_there_is_here_and_the_other_file_is_as_it_was(
    two: tuple[Path, Path],
) -> None:
    here, there = two
    with Book.open(here, Clock(HERE)) as book:
        book.add(make_reading(2))
    with Book.open(there, Clock(THERE)) as book:
        book.add(make_reading(3), replace(CONTACT, id=new_id(901)))
        book.replace(replace(CONTACT, phone="2"))
    before, files = sha256(there), set(there.parent.iterdir())
    with Book.open(here, Clock(THERE)) as book:
        assert book.look_at_copy(there) == BroughtIn(1, 1, 1, 0, 0)
        changed, brought = book.bring_in(there)
        assert brought == BroughtIn(1, 1, 1, 0, 0)
        assert {reading.id for reading in book.readings()} == {new_id(n) for n in (1, 2, 3)}
        assert {one.phone for one in book.contacts()} == {"1", "2"}
        assert changed.done.action is Action.MERGE
        assert changed.done.name == there.name
        assert changed.kinds == {Reading, Contact}
        assert book.check().is_sound
    assert sha256(there) == before
    assert set(there.parent.iterdir()) == files
    copies = [one.name for one in here.with_name("a.logbook-copies").iterdir()]
    assert sum("-import" in name for name in copies) == 1


def test_it_is_one_action_that_can_be_taken_back_and_done_again(two: tuple[Path, Path]) -> None:
    here, there = two
    with Book.open(there, Clock(THERE)) as book:
        book.add(make_reading(3))
    before = records_in(here)
    assert bring(here, there) == BroughtIn(1, 0, 0, 0, 0)
    after = records_in(here)
    with Book.open(here, Clock(THERE)) as book:
        assert book.undoable is not None
        assert book.undoable.action is Action.MERGE
        book.undo()
        assert records_in(here) == before
        book.put_back()
        assert records_in(here) == after
        book.undo()
        assert book.bring_in(there)[1] == BroughtIn(1, 0, 0, 0, 0), "taken back is not known"
        assert records_in(here) == after
        assert book.check().is_sound


def test_nothing_new_writes_nothing_and_makes_no_copy(two: tuple[Path, Path]) -> None:
    here, there = two
    with Book.open(here, Clock(HERE)) as book:
        undoable = book.undoable
        changed, brought = book.bring_in(there)
        assert (brought, changed.kinds, changed.done.count) == (NOTHING, frozenset(), 0)
        assert book.undoable == undoable
    assert not list(here.with_name("a.logbook-copies").glob("*-import*"))


def corrected(path: Path, steps: int, at: datetime, reason: str) -> None:
    value = Glucose.number(steps, Unit.MG_DL, str(steps))
    with Book.open(path, Clock(at)) as book:
        reading = book.reading(new_id(1))
        book.correct(reading.id, value, reading.at, Slot.NIGHT, reason)


def test_corrected_on_both_sides_keeps_both_histories_and_shows_both(
    two: tuple[Path, Path],
) -> None:
    here, there = two
    corrected(here, 111, HERE, "typed wrong")
    corrected(there, 222, THERE, "display read again")
    assert bring(here, there) == BroughtIn(0, 0, 0, 0, 1)
    assert bring(there, here) == NOTHING or records_in(here) == records_in(there)
    with Book.open(here, Clock(THERE)) as book:
        reading = book.reading(new_id(1))
        assert reading.glucose.written == "222", "the later one holds"
        assert {one.reason for one in reading.earlier} >= {"typed wrong", "display read again"}
        assert "111" in {one.glucose.written for one in reading.earlier}
        (beside,) = book.disagreements()
        assert isinstance(beside.kept, Reading)
        assert isinstance(beside.other, Reading)
        assert [one.glucose.written for one in (beside.kept, beside.other)] == ["222", "111"]

        book.settle(beside.disagreement.id, take_other=True)
        assert book.disagreements() == []
        reading = book.reading(new_id(1))
        assert reading.glucose.written == "111"
        assert "222" in {one.glucose.written for one in reading.earlier}
        book.undo()
        assert len(book.disagreements()) == 1
        assert book.reading(new_id(1)).glucose.written == "222"
        book.settle(beside.disagreement.id, take_other=False)
        assert book.disagreements() == []
        assert book.reading(new_id(1)).glucose.written == "222"
        assert book.check().is_sound


def test_a_choice_made_here_holds_there_too(two: tuple[Path, Path]) -> None:
    here, there = two
    for path, phone, at in ((here, "here", HERE), (there, "there", THERE)):
        with Book.open(path, Clock(at)) as book:
            book.replace(replace(CONTACT, phone=phone))
    bring(here, there)
    bring(there, copied(here, "way back"))
    assert records_in(here) == records_in(there)
    with Book.open(here, Clock(THERE)) as book:
        (beside,) = book.disagreements()
        book.settle(beside.disagreement.id, take_other=True)
    for into, other in ((there, here), (here, there)):
        bring(into, other)
        with Book.open(into, Clock(THERE), read_only=True) as book:
            assert [one.phone for one in book.contacts()] == ["here"]
            assert book.disagreements() == []


def test_settings_changed_on_both_sides(two: tuple[Path, Path]) -> None:
    here, there = two
    for path, unit, name, at in (
        (here, Unit.MG_DL, "Here", HERE),
        (there, Unit.MMOL_L, "There", THERE),
    ):
        with Book.open(path, Clock(at)) as book:
            book.save_settings(replace(book.settings, unit=unit, low_plan=name))
    assert bring(here, there) == BroughtIn(0, 0, 1, 0, 1)
    with Book.open(here, Clock(THERE)) as book:
        assert book.settings.unit is Unit.MMOL_L, "changed there alone"
        (beside,) = book.disagreements()
        assert beside.setting == "low_plan"
        assert isinstance(beside.kept, LogSettings)
        assert isinstance(beside.other, LogSettings)
        assert (beside.kept.low_plan, beside.other.low_plan) == ("There", "Here")
        assert replace(beside.other, low_plan="There") == beside.kept
        book.settle(beside.disagreement.id, take_other=True)
        assert book.settings.low_plan == "Here"


# --- words that were erased ----------------------------------------------------------------------


@pytest.mark.parametrize("is_changed_there", [False, True])
@pytest.mark.parametrize("is_changed_here", [False, True])
def test_erased_words_do_not_come_back_with_another_copy(
    tmp_path: Path, is_changed_there: bool, is_changed_here: bool
) -> None:
    here = make_log(tmp_path / "a.logbook", make_reading(1, note="Something private"))
    there = copied(here, "elsewhere")
    with Book.open(here, Clock(HERE)) as book:
        book.erase_words(book.reading(new_id(1)))
        if is_changed_here:
            book.cross_out(new_id(1), "twice")
    with Book.open(there, Clock(THERE)) as book:
        book.add(make_reading(2))
        if is_changed_there:
            book.doubt(new_id(1), Doubt.STRIP)
    brought = bring(here, there)
    assert brought.readings == 1
    assert brought.changed == int(is_changed_there and not is_changed_here)
    with Book.open(here, Clock(THERE)) as book:
        assert book.reading(new_id(1)).note == ""
        assert book.check().is_sound
        assert len(book.disagreements()) == int(is_changed_there and is_changed_here)
    everything = [here, *here.parent.glob("a.logbook-changes.txt")]
    assert not any(b"Something private" in one.read_bytes() for one in everything)
    assert bring(here, there) == NOTHING


def test_what_was_written_since_an_erasing_comes_to_the_copy_with_the_words(
    tmp_path: Path,
) -> None:
    here = make_log(tmp_path / "a.logbook", make_reading(1, note="Something private"))
    there = copied(here, "elsewhere")
    with Book.open(here, Clock(HERE)) as book:
        book.erase_words(book.reading(new_id(1)))
        book.doubt(new_id(1), Doubt.STRIP)
    assert bring(there, here) == BroughtIn(0, 0, 1, 0, 0)
    with Book.open(there, Clock(THERE)) as book:
        assert book.reading(new_id(1)).doubt is Doubt.STRIP
        assert book.check().is_sound
    assert bring(there, here) == NOTHING


# --- the laws on real logs -----------------------------------------------------------------------

_one_of_each = st.one_of(*record_lists.values())
_deeds = st.one_of(
    _one_of_each,
    st.tuples(st.just("again"), st.integers(0, 9), _one_of_each),
    log_settings,
    st.just("undo"),
)


@given(data=st.data())
@settings(max_examples=12, suppress_health_check=list(HealthCheck))
def test_laws(data: st.DataObject, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("laws")
    one = make_log(folder / "a.logbook", *KEPT, *data.draw(st.lists(_one_of_each, max_size=3)))
    other = copied(one, "elsewhere")
    for path, at in ((one, HERE), (other, THERE)):
        with Book.open(path, Clock(at)) as book:
            for deed in data.draw(st.lists(_deeds, max_size=5)):
                _do(book, deed)
    was = {path: records_in(path) for path in (one, other)}
    into_one, into_other = copied(one, "into one"), copied(other, "into other")
    bring(into_one, other)
    bring(into_other, one)

    both = records_in(into_one)
    assert both == records_in(into_other), "either order gives the same"
    assert bring(into_one, other) == NOTHING, "twice is once"
    assert bring(into_one, into_other) == NOTHING
    with Book.open(into_one, Clock(THERE)) as book:
        assert book.check().is_sound
    for path in (one, other):
        assert records_in(path) == was[path]
    lost = [key for path in was for key in was[path] if key not in both]
    taken_back = set(was[one]) ^ set(was[other])
    assert all(key in taken_back for key in lost)


def _do(book: Book, deed: object) -> None:
    if deed == "undo":
        if book.undoable is not None:
            book.undo()
    elif isinstance(deed, LogSettings):
        book.save_settings(deed)
    elif isinstance(deed, tuple):
        # Another version of a record that both copies may have.
        _, number, record = deed
        _keep(book, replace(record, id=new_id(5000 + number)))
    else:
        _keep(book, deed)  # type: ignore[arg-type]


def _keep(book: Book, record: Record) -> None:
    if not isinstance(record, Reading):
        book.keep(record)
    elif not book.has_records([record.id]):
        book.add(record)
    else:
        book.correct(record.id, record.glucose, record.at, record.slot, record.note)


# --- what is refused -----------------------------------------------------------------------------


def _altered(path: Path, *statements: str) -> Path:
    with closing(sqlite3.connect(path)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()
    return path


def _flipped(path: Path) -> Path:
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)
    return path


def _text(path: Path) -> Path:
    path.write_text("breakfast 128\n" * 50, encoding="utf-8")
    return path


def _cut(path: Path) -> Path:
    path.write_bytes(path.read_bytes()[:5000])
    return path


REFUSED: dict[str, tuple[type[LogbookError], str, Callable[[Path], Path]]] = {
    "damaged": (
        DamagedLog,
        "another_copy",
        lambda path: _altered(path, "UPDATE readings SET steps = steps + 1"),
    ),
    "cut off": (DamagedLog, "another_copy", _cut),
    "newer": (
        NewerLog,
        "another_copy",
        lambda path: _altered(path, "PRAGMA user_version = 99"),
    ),
    "no log": (NotALog, "not_a_database", _text),
    "another log": (
        NotALog,
        "other_log",
        lambda path: make_log(path.with_name("b.logbook"), make_reading(4)),
    ),
    "not there": (NoSuchLog, "", lambda path: path.with_name("c.logbook")),
    "a folder": (NotALog, "directory", lambda path: path.parent),
}


@pytest.mark.parametrize("which", REFUSED)
def test_refused(which: str, two: tuple[Path, Path]) -> None:
    here, there = two
    error, why, make = REFUSED[which]
    other = make(there)
    before = records_in(here)
    with Book.open(here, Clock(HERE)) as book:
        for refused in (book.bring_in, book.look_at_copy):
            with pytest.raises(error) as told:
                refused(other)
            assert told.value.facts.get("why", "") == why
        assert book.check().is_sound
    assert records_in(here) == before


def test_a_flipped_bit_anywhere_is_refused_or_harms_nothing(two: tuple[Path, Path]) -> None:
    here, there = two
    with Book.open(there, Clock(THERE)) as book:
        book.add(make_reading(3))
    whole = there.read_bytes()
    refused = 0
    with Book.open(here, Clock(HERE)) as book:
        for place in range(0, len(whole), len(whole) // 40):
            content = bytearray(whole)
            content[place] ^= 0x41
            there.write_bytes(content)
            try:
                # In pages that hold nothing a changed byte says nothing.
                assert book.look_at_copy(there) == BroughtIn(1, 0, 0, 0, 0)
            except LogbookError:
                refused += 1
        assert book.check().is_sound
    assert refused >= 5


def test_the_log_itself_is_refused_and_stays_locked(two: tuple[Path, Path]) -> None:
    here, _ = two
    linked = here.with_name("linked.logbook")
    linked.hardlink_to(here)
    with Book.open(here, Clock(HERE)) as book:
        for path in (here, linked):
            with pytest.raises(CannotRead) as told:
                book.bring_in(path)
            assert told.value.facts["why"] == "same_file"
        book.add(make_reading(2))


def test_a_copy_of_version_1_is_brought_in_and_stays_of_version_1(tmp_path: Path) -> None:
    old = tmp_path / "old.logbook"
    shutil.copy(revision_1.FILE, old)
    new = Path(shutil.copy(revision_1.FILE, tmp_path / "new.logbook"))
    with Book.open(new, Clock(HERE)) as book:
        before = len(book.readings())
        book.undo()
        book.add(make_reading(70))
        assert book.look_at_copy(old) == NOTHING, "what it says was taken back here"
        assert len(book.readings()) in (before, before + 1)
    assert sha256(old) == sha256(revision_1.FILE)
    other = Path(shutil.copy(revision_1.FILE, tmp_path / "other.logbook"))
    assert bring(other, new).readings == 1


def test_a_copy_that_a_kill_left_half_written_stays_as_it_is(two: tuple[Path, Path]) -> None:
    here, there = two
    with Book.open(there, Clock(THERE)) as book:
        book.add(make_reading(3))
    rollback = there.with_name(there.name + "-journal")
    with closing(sqlite3.connect(there, isolation_level=None)) as writer:
        writer.execute("PRAGMA cache_size = 1")
        writer.execute("PRAGMA cache_spill = 1")
        writer.execute("BEGIN IMMEDIATE")
        writer.execute("UPDATE readings SET note = hex(zeroblob(200000))")
        killed = there.parent / "killed"
        killed.mkdir()
        for one in (there, rollback):
            shutil.copy(one, killed / one.name)
        writer.execute("ROLLBACK")
    left = killed / there.name
    before = {one.name: sha256(one) for one in killed.iterdir()}
    assert len(before) == 2
    assert before[there.name] != sha256(there), "it must be half written"
    assert bring(here, left) == BroughtIn(1, 0, 0, 0, 0)
    assert {one.name: sha256(one) for one in killed.iterdir()} == before
