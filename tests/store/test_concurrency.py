"""Several at once: one writer, any number of readers, and nobody sees half a change."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.domain.settings import LogSettings
from logbook.store import pages
from logbook.store.columns import read_series
from logbook.store.pages import Query
from tests.store.records import Clock, make_log, make_reading

ROOT = Path(__file__).parents[2]
# Added five at a time, so whoever sees a number that is no multiple of five has seen half a change.
FIVE = 5


def add_five(book: Book, number: int) -> None:
    book.add(*(make_reading(FIVE * number + n + 1) for n in range(FIVE)))


def in_threads(*works: Callable[[], None]) -> None:
    """Run all at once and raise what any of them raised."""
    raised: list[BaseException] = []

    def guarded(work: Callable[[], None]) -> None:
        try:
            work()
        except BaseException as error:  # noqa: BLE001 (raised again below)
            raised.append(error)

    threads = [threading.Thread(target=guarded, args=(work,)) for work in works]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if raised:
        raise raised[0]


def test_readers_see_whole_changes_while_one_saves(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        done = threading.Event()
        seen: list[int] = []

        def save() -> None:
            for number in range(40):
                add_five(book, number)
            done.set()

        def read() -> None:
            while not done.is_set():
                seen.append(len(read_series(book._store.engine, Query(page_rows=7))))
                assert not any(reading.is_damaged for reading in book.readings(limit=20))

        in_threads(save, read, read)
        assert seen
        assert all(count % FIVE == 0 for count in seen)
        assert len(book.series()) == 200
        assert book.check().is_sound


def test_reading_starts_again_when_a_change_comes_between_two_pages(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        add_five(book, 0)
        read_page = pages._read_page
        calls = 0

        def and_then_save(*arguments: object) -> object:
            nonlocal calls
            calls += 1
            page = read_page(*arguments)  # type: ignore[arg-type]
            if calls == 2:
                # Another connection's save needs the reader to be out of its transaction first.
                saver = threading.Thread(target=add_five, args=(book, 1))
                saver.start()
                waiting.append(saver)
            return page

        waiting: list[threading.Thread] = []
        monkeypatch.setattr(pages, "_read_page", and_then_save)
        query = Query(page_rows=2)
        first = len(read_series(book._store.engine, query))
        waiting[0].join()
        assert first in (FIVE, 2 * FIVE)
        assert len(read_series(book._store.engine, query)) == 2 * FIVE


def test_two_threads_that_save_take_turns(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:

        def save(numbers: range) -> None:
            for number in numbers:
                add_five(book, number)

        in_threads(partial(save, range(20)), partial(save, range(20, 40)))
        assert len(book.readings()) == 200
        assert book.check().is_sound


def test_no_read_transaction_is_longer_than_a_page(tmp_path: Path) -> None:
    with Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book:
        book.take_in([make_reading(n) for n in range(1, 2 * pages.PAGE_ROWS + 2)], "many")
        sizes: list[int] = []
        read_page = pages._read_page

        def measured(*arguments: object) -> object:
            page = read_page(*arguments)  # type: ignore[arg-type]
            sizes.append(len(page))
            return page

        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(pages, "_read_page", measured)
            assert len(book.series()) == 2 * pages.PAGE_ROWS + 1
        assert sizes == [pages.PAGE_ROWS, pages.PAGE_ROWS, 1]


RACER = """
import sys
from datetime import datetime, UTC
from functools import partial
from pathlib import Path
from logbook.book import Book
from logbook.domain.errors import LogInUse
sys.stdin.readline()
try:
    with Book.open(Path(sys.argv[1]), lambda: datetime.now(UTC)):
        print("writer", flush=True)
        sys.stdin.readline()
except LogInUse:
    print("in use", flush=True)
"""


def test_of_many_that_start_at_once_one_is_the_writer(tmp_path: Path) -> None:
    path = make_log(tmp_path / "a.logbook", make_reading(1))
    racers = [
        subprocess.Popen(
            [sys.executable, "-c", RACER, str(path)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            text=True,
        )
        for _ in range(5)
    ]
    said = []
    try:
        for racer in racers:
            assert racer.stdin is not None
            racer.stdin.write("go\n")
            racer.stdin.flush()
        for racer in racers:
            assert racer.stdout is not None
            said.append(racer.stdout.readline().strip())
        assert sorted(said) == ["in use"] * 4 + ["writer"]
        with Book.open(path, Clock(), read_only=True) as book:
            assert book.readings() == [make_reading(1)]
        racers[said.index("writer")].kill()
        racers[said.index("writer")].wait()
        Book.open(path, Clock()).close()  # a dead writer's lock is nobody's
    finally:
        for racer in racers:
            racer.kill()
            racer.communicate()
