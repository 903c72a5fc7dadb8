"""How long the store takes, as ratios and times in one run: `pytest -m benchmark -s`.

What was reached, and on which machine, is in docs/benchmarks.md.
"""

from __future__ import annotations

import json
import random
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from statistics import median
from time import perf_counter
from uuid import UUID

import pytest

from logbook.book import Book
from logbook.commands.reading_log import figures_of_log
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.moments import Moment, Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.sites import Site, SiteUse
from logbook.domain.slots import Slot
from logbook.store.engine import Access, connect
from tests.store.records import Clock

pytestmark = [pytest.mark.benchmark, pytest.mark.slow]

# Ten readings a day for twenty years.
TWENTY_YEARS = 73_000
_BEGIN = datetime(2006, 1, 1, tzinfo=UTC)
_SITE = Site.from_code("left.ring.thumb_side")


def make_readings(count: int, seed: int = 1) -> list[Reading]:
    """Readings like a person's: every tenth with a note, ten a day."""
    chance = random.Random(seed)
    made = []
    for number in range(count):
        at = Moment.at(_BEGIN + timedelta(minutes=144 * number), "America/New_York")
        value = chance.randint(50, 300)
        made.append(
            Reading(
                UUID(int=chance.getrandbits(128), version=4),
                Glucose.number(value, Unit.MG_DL, str(value)),
                at,
                at.instant + timedelta(minutes=1),
                chance.choice(list(Slot)),
                site=_SITE,
                site_use=SiteUse.USED,
                note="" if number % 10 else "walked a bit more than usual",
            )
        )
    return made


def seconds(work: Callable[[], object], times: int) -> list[float]:
    """How long `work` took, each time."""
    taken = []
    for _ in range(times):
        begun = perf_counter()
        work()
        taken.append(perf_counter() - begun)
    return taken


def test_a_save_takes_at_most_four_bare_commits(tmp_path: Path) -> None:
    """Turn by turn with a bare sqlite3 commit of the same row, with the same pragmas."""
    made = make_readings(600)
    bare = tmp_path / "bare.db"
    with closing(sqlite3.connect(bare)) as connection:
        connection.execute("CREATE TABLE readings (id TEXT PRIMARY KEY, body TEXT) STRICT")
    ours, theirs = [], []
    with (
        Book.create(tmp_path / "a.logbook", LogSettings(), Clock()) as book,
        closing(connect(bare, Access.WRITE)) as connection,
    ):
        for reading in made:
            body = json.dumps(
                {"note": reading.note, "written": reading.glucose.written, "x": "x" * 300}
            )
            begun = perf_counter()
            connection.execute("BEGIN IMMEDIATE")
            connection.execute("INSERT INTO readings VALUES (?, ?)", [str(reading.id), body])
            connection.execute("COMMIT")
            theirs.append(perf_counter() - begun)
            begun = perf_counter()
            book.add(reading)
            ours.append(perf_counter() - begun)
    ratio = median(ours) / median(theirs)
    print(
        f"\nsave: {median(ours) * 1000:.2f} ms, bare commit {median(theirs) * 1000:.2f} ms"
        f" (medians of {len(made)}), ratio {ratio:.2f}; 99 in 100 within"
        f" {sorted(ours)[int(len(ours) * 0.99)] * 1000:.1f} ms"
    )
    assert ratio <= 4


@pytest.fixture(scope="module")
def twenty_years(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("twenty") / "a.logbook"
    with Book.create(path, LogSettings(home_zone="America/New_York"), Clock()) as book:
        made = make_readings(TWENTY_YEARS)
        begun = perf_counter()
        book.take_in(made[:10_000], "first.csv")
        print(f"\nimport of 10,000 through the Book: {perf_counter() - begun:.2f} s")
        for first in range(10_000, TWENTY_YEARS, 21_000):
            book.take_in(made[first : first + 21_000], "more.csv")
    return path


def test_twenty_years_in_columns(twenty_years: Path) -> None:
    with Book.open(twenty_years, Clock(), read_only=True) as book:
        assert len(book.series()) == TWENTY_YEARS
        whole = seconds(book.series, 5)
        period = Period(date(2000, 1, 1), date(2040, 1, 1))
        of_period = seconds(lambda: book.series(period), 5)
    with closing(connect(twenty_years, Access.READ)) as connection:
        statement = (
            "SELECT id, instant, wall_minute, written_at, steps, unit, slot, purpose,"
            " minutes_after, recheck_of, crossed_out_at FROM readings ORDER BY instant"
        )
        bare = seconds(lambda: connection.execute(statement).fetchall(), 5)
    print(
        f"\nseries of {TWENTY_YEARS:,}, verified: {min(whole):.2f} s;"
        f" by period {min(of_period):.2f} s;"
        f" bare sqlite3, eleven columns, not verified: {min(bare):.2f} s"
    )
    assert min(whole) <= 0.5


def test_figures_of_twenty_years(twenty_years: Path) -> None:
    with Book.open(twenty_years, Clock(), read_only=True) as book:
        day = date(2026, 1, 1)
        now = Moment.from_wall(datetime(2026, 1, 1, 12), "UTC")
        taken = seconds(lambda: figures_of_log(book, date(2006, 1, 1), day, now), 3)
    print(f"\nfigures of {TWENTY_YEARS:,}, series included: {min(taken):.2f} s")


def test_opening_closing_and_checking_twenty_years(twenty_years: Path) -> None:
    opened = min(seconds(lambda: Book.open(twenty_years, Clock(), read_only=True).close(), 5))
    book = Book.open(twenty_years, Clock())
    book.add(*make_readings(1, seed=2))
    closed = min(seconds(book.close, 1))
    size = twenty_years.stat().st_size / 2**20
    print(
        f"\nopen {opened * 1000:.1f} ms;"
        f" close with its checked copy of {size:.0f} MiB {closed:.2f} s"
    )
    assert opened <= 0.1
