"""Which copies are kept: three years of days, with faults in one tenth of the copies.

The numbers (all of today and yesterday, 12 days, 10 weeks, 9 months) are common practice, no
source. What must hold is worked out here from every copy that was ever made, by the calendar alone.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import UTC, date, datetime, timedelta

import pytest

from logbook.store.copy_scheme import (
    KnownCopy,
    Leaving,
    Occasion,
    last_leaving,
    leaving,
    lines_of,
    newest_first,
)

BEGIN = datetime(2024, 1, 1, 7, 0, tzinfo=UTC)
Scheme = Callable[[Iterable[KnownCopy], datetime, Callable[[datetime], date]], list[Leaving]]


def day_of(at: datetime) -> date:
    return at.date()


def copy_at(at: datetime, changes: int, **others: object) -> KnownCopy:
    plain = replace(KnownCopy("", at, "close", changes), **others)  # type: ignore[arg-type]
    return replace(plain, name=f"{at.isoformat()}-{changes}-{plain.occasion}")


@dataclass
class Years:
    """A folder of copies over years: what was made, and what is there."""

    scheme: Scheme
    chance: random.Random
    made: list[KnownCopy] = field(default_factory=list)
    there: dict[str, KnownCopy] = field(default_factory=dict)
    faults: list[str] = field(default_factory=list)

    def go_on(self, first: datetime, days: int) -> None:
        changes = self.made[-1].changes if self.made else 0
        for number in range(days):
            for hour in sorted(self.chance.sample(range(16), self.chance.randint(0, 4))):
                at = first + timedelta(days=number, hours=hour)
                changes += self.chance.randint(1, 5)
                self._make(at, changes)
                self._thin(at)
            self._look(first + timedelta(days=number, hours=16))

    def _make(self, at: datetime, changes: int) -> None:
        copy = copy_at(at, changes)
        if self.chance.random() < 0.1:
            match self.chance.choice(["failed", "bad", "empty", "smaller"]):
                case "failed":
                    return
                case "bad":
                    copy = replace(copy, is_good=False)
                case "empty":
                    copy = replace(copy, is_good=False, changes=0)
                case _:
                    # Sound by itself, but of an older state of the log.
                    copy = replace(copy, changes=self.chance.randint(0, changes - 1))
        self.there[copy.name] = copy
        if copy.is_good and copy.changes == changes:
            self.made.append(copy)

    def _thin(self, now: datetime) -> None:
        good_before = [copy for copy in self.there.values() if copy.is_good]
        for one in self.scheme(list(self.there.values()), now, day_of):
            del self.there[one.copy.name]
        newest = max(good_before, key=lambda copy: (copy.made_at, copy.changes), default=None)
        if newest is not None and newest.name not in self.there:
            self.faults.append(f"{now}: the newest good copy is gone")

    def _look(self, now: datetime) -> None:
        """Every day, week and month of the calendar in which a copy was made has one."""
        today = now.date()
        good = [copy for copy in self.there.values() if copy.is_good]
        names = {copy.name for copy in good}
        fullest: dict[tuple[str, object], KnownCopy] = {}
        for copy in self.made[-600:]:
            day = copy.made_at.date()
            ago = (today - day).days
            if ago <= 1 and copy.name not in names:
                self.faults.append(f"{today}: a copy of {day} is gone")
            if ago <= 13:
                fullest["day", day] = copy
            if ago <= 13 + 7 * 9:
                fullest["week", day.isocalendar()[:2]] = copy
            if (today - day.replace(day=1)).days <= 270:
                # A month's last week may have its copy in the next, so its first will do.
                fullest.setdefault(("month", (day.year, day.month)), copy)
        for (kind, period), wanted in fullest.items():
            in_period: list[KnownCopy] = [
                copy
                for copy in good
                if {
                    "day": copy.made_at.date(),
                    "week": copy.made_at.date().isocalendar()[:2],
                    "month": (copy.made_at.year, copy.made_at.month),
                }[kind]
                == period
            ]
            if not any(copy.changes >= wanted.changes for copy in in_period):
                self.faults.append(f"{today}: nothing good of {kind} {period}")


def naive(
    copies: Iterable[KnownCopy], now: datetime, _day_of: Callable[[datetime], date]
) -> list[Leaving]:
    """The control: keep the forty newest, whatever they are."""
    ordered = sorted(copies, key=lambda copy: copy.made_at, reverse=True)
    assert now.tzinfo is UTC
    return [Leaving(copy, ordered[0]) for copy in ordered[40:]]


def blind(
    copies: Iterable[KnownCopy], now: datetime, day_of: Callable[[datetime], date]
) -> list[Leaving]:
    """The control: the same scheme, but a bad or smaller copy counts like any other."""
    by_name = {copy.name: copy for copy in copies}
    seen = [replace(copy, is_good=True, changes=0) for copy in by_name.values()]
    return [
        Leaving(by_name[one.copy.name], by_name[one.stands_in.name])
        for one in leaving(seen, now, day_of)
    ]


def three_years(scheme: Scheme, seed: int) -> Years:
    years = Years(scheme, random.Random(seed))
    years.go_on(BEGIN, 3 * 365)
    return years


@pytest.mark.parametrize("seed", range(3))
def test_three_years_with_faults_leave_a_good_copy_of_every_day_of_the_scheme(seed: int) -> None:
    years = three_years(leaving, seed)
    assert years.faults == []
    assert len(years.made) > 1_500
    good = [copy for copy in years.there.values() if copy.is_good]
    assert sum(copy.changes == 0 or not copy.is_good for copy in years.there.values()) > 50
    assert len(good) < 250


@pytest.mark.parametrize("scheme", [naive, blind], ids=["the forty newest", "blind to faults"])
def test_control_a_scheme_that_is_too_simple_is_caught(scheme: Scheme) -> None:
    assert three_years(scheme, 0).faults


def test_without_faults_some_tens_of_copies_remain() -> None:
    there: dict[str, KnownCopy] = {}
    for number in range(3 * 365 * 4):
        at = BEGIN + timedelta(hours=6 * number)
        copy = copy_at(at, number)
        there[copy.name] = copy
        for one in leaving(there.values(), at, day_of):
            del there[one.copy.name]
    days = sorted({copy.made_at.date() for copy in there.values()})
    of_two_days = [copy for copy in there.values() if copy.made_at.date() >= days[-2]]
    assert len(of_two_days) == 5
    assert len(there) == 5 + 12 + 10 + 9
    assert 280 < (days[-1] - days[0]).days < 380


@pytest.mark.parametrize("jump", [timedelta(days=-365), timedelta(days=5 * 365)])
def test_a_clock_set_wrong_pushes_no_good_day_out(jump: timedelta) -> None:
    years = Years(leaving, random.Random(5))
    years.go_on(BEGIN, 200)
    right = BEGIN + timedelta(days=200)
    before = {copy.made_at.date() for copy in years.there.values() if copy.is_good}
    wrong = right + jump
    for hours in range(48):
        at = wrong + timedelta(hours=hours)
        copy = copy_at(at, years.made[-1].changes + hours)
        years.there[copy.name] = copy
        years._thin(at)
    # All that the jump may take is the second and third copy of one day, and what the two days
    # push one place further down the ladder.
    after = {copy.made_at.date() for copy in years.there.values() if copy.is_good}
    assert len(before - after) <= 3
    assert max(before) in after
    years.faults.clear()
    years.go_on(right + timedelta(days=2), 30)
    assert not [fault for fault in years.faults if "newest" in fault]


def test_a_copy_with_fewer_changes_never_pushes_out_a_fuller_one() -> None:
    at = BEGIN + timedelta(days=100)
    full = [copy_at(at + timedelta(days=n), 1_000 + n) for n in range(20)]
    restored = [copy_at(at + timedelta(days=20, hours=n), 500 + n) for n in range(100)]
    now = restored[-1].made_at
    alone = {one.copy.name for one in leaving(full, now, day_of)}
    together = {one.copy.name for one in leaving([*full, *restored], now, day_of)}
    assert {copy.name for copy in full} & together == alone
    assert [len(line) for line in lines_of([*full, *restored])] == [20, 100]


def test_what_was_made_before_something_risky_stays_thirty_days_and_the_newest_three() -> None:
    copies = [
        copy_at(BEGIN + timedelta(minutes=n), n, occasion=occasion.value)
        for occasion in Occasion
        for n in range(6)
    ]

    def left(days: int) -> dict[str, int]:
        now = BEGIN + timedelta(days=days)
        gone = {one.copy for one in leaving(copies, now, day_of)}
        return {
            occasion.value: sum(c.occasion == occasion and c not in gone for c in copies)
            for occasion in Occasion
        }

    early, late = left(29), left(31)
    for occasion in (Occasion.IMPORT, Occasion.MIGRATION, Occasion.RESTORE, Occasion.ASKED):
        assert early[occasion] == 6
        assert late[occasion] == 3
    assert early[Occasion.CLOSE] + early[Occasion.USE] <= 1


def test_each_that_goes_has_a_newer_and_no_smaller_one_that_stays() -> None:
    chance = random.Random(11)
    copies = [
        copy_at(BEGIN + timedelta(hours=hour), hour - chance.choice([0, 0, 0, 100, 5_000]))
        for hour in chance.sample(range(20_000), 400)
    ]
    copies = list({copy.name: copy for copy in copies}.values())
    gone = leaving(copies, BEGIN + timedelta(hours=20_000), day_of)
    going = {one.copy.name for one in gone}
    assert len(gone) > 50
    for one in gone:
        assert one.stands_in.name not in going
        assert one.stands_in.made_at >= one.copy.made_at
        assert one.stands_in.changes >= one.copy.changes


def test_one_goes_back_to_the_newest_that_is_not_from_the_future() -> None:
    copies = [copy_at(BEGIN + timedelta(days=n), n) for n in (0, 5, 900)]
    ordered = newest_first(copies, BEGIN + timedelta(days=10))
    assert [copy.changes for copy in ordered] == [5, 0, 900]


def test_the_day_on_which_the_last_of_some_copies_goes() -> None:
    """Every day a copy: after 12 days, 10 weeks and 9 months the oldest month's goes."""
    now = datetime(2026, 3, 31, 20, tzinfo=UTC)
    one = KnownCopy("one", now, Occasion.CLOSE.value, 1)
    last = last_leaving([one], now, lambda at: at.date())
    assert last is not None
    assert timedelta(days=2) <= last - now.date() <= timedelta(days=400)
    kept = {"one"}
    copies = [one]
    day = now
    while "one" in kept:
        day += timedelta(days=1)
        copies.append(KnownCopy(f"{day}", day, Occasion.CLOSE.value, len(copies) + 1))
        gone = {each.copy.name for each in leaving(copies, day, lambda at: at.date())}
        copies = [copy for copy in copies if copy.name not in gone]
        kept = {copy.name for copy in copies}
    assert day.date() == last
    asked = KnownCopy("asked", now, Occasion.ASKED.value, 1)
    assert last_leaving([asked], now, lambda at: at.date()) is None
    assert last_leaving([], now, lambda at: at.date()) == now.date()
