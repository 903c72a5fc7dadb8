"""What copies and going back weigh on a log of 40 years: seconds, and how long a save waits.

`--readings` sets the size (73,000 unless told: five a day for 40 years). Nothing is judged but the
ten seconds within which one is to be back.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path

from logbook.book import Book, find_way_back, rebuild_log, restore_log
from logbook.domain.settings import LogSettings
from tests.store.records import Clock, make_reading

AT = datetime(2070, 5, 1, 8, 30, tzinfo=UTC)
_SAVES = 200
_WITHIN_SECONDS = 10.0


def timed(name: str, work: Callable[[], object]) -> float:
    """Do it and print how long it took."""
    begun = time.perf_counter()
    work()
    took = time.perf_counter() - begun
    print(f"  {name}: {took:.2f} s")
    return took


def save_times(book: Book, first: int, *, until: Callable[[], bool]) -> list[float]:
    """How long each of some saves took, in milliseconds."""
    times = []
    for number in range(first, first + _SAVES):
        begun = time.perf_counter()
        book.add(make_reading(number))
        times.append((time.perf_counter() - begun) * 1_000)
        if until():
            break
    return times


def told(name: str, times: list[float]) -> None:
    """Print the middle, the 95th percentile and the longest."""
    ordered = sorted(times)
    middle, late = ordered[len(ordered) // 2], ordered[int(len(ordered) * 0.95)]
    print(
        f"  {name}: {len(times)} saves, median {middle:.1f} ms, "
        f"95th percentile {late:.1f} ms, longest {ordered[-1]:.1f} ms"
    )


def main(arguments: Sequence[str]) -> int:
    """Measure; 1 when going back took longer than ten seconds."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--readings", type=int, default=73_000)
    count = parser.parse_args(arguments).readings
    with tempfile.TemporaryDirectory(prefix="logbook-endurance-") as folder:
        path = Path(folder) / "a.logbook"
        with Book.create(path, LogSettings(), Clock(AT)) as book:
            book.take_in([make_reading(number) for number in range(1, count + 1)], "many")
        print(f"{count} readings, {path.stat().st_size / 1e6:.1f} MB")
        clock = Clock(AT)
        with Book.open(path, clock) as book:
            copies: list[Path] = []
            timed("a checked copy", lambda: copies.append(book.make_copy()))
            told("without a copy", save_times(book, 200_000, until=lambda: False))
            keeper = book._store._keeper
            clock.at = AT.replace(month=6)
            times: list[float] = []
            begun = time.perf_counter()
            book.add(make_reading(300_000))
            times = save_times(book, 300_001, until=lambda: not keeper._is_busy())
            print(f"  a copy in use was being made for {time.perf_counter() - begun:.2f} s")
            told("while a copy is made", times)
            assert keeper.trouble is None, keeper.trouble
        timed("finding the way back", lambda: find_way_back(path, AT))
        took = timed(
            "going back (a copy before it included)", lambda: restore_log(path, copies[0], AT)
        )
        journal = path.with_name("a.logbook-changes.txt")
        again = path.with_name("again.logbook")
        timed("making it again from the journal", lambda: rebuild_log(journal, again))
    return 0 if took <= _WITHIN_SECONDS else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
