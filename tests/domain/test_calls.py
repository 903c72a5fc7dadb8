"""When to call the provider: every row of the published and the program's own list.

Long-term care: the ADA's position statement as printed in PMC7428662, table 4, read at the journal
(call at once: HI, vomiting or not eating; above 250 in 24 hours with a change; above 300 on two
days). The days and counts of lows are judgement without a source.
"""

from __future__ import annotations

import random
from dataclasses import replace
from datetime import UTC, date, datetime
from uuid import UUID

import pytest

from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.call_reasons import CallGroup, CallReason, Urgency
from logbook.domain.calls import Call, ListedCall, calls, calls_in_period
from logbook.domain.glucose import Unit
from logbook.domain.happenings import Happening, What
from logbook.domain.moments import Period
from logbook.domain.readings import Reading
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Purpose, Slot
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import About, Tick, TickBook, Told
from tests.domain.series_of import happening, moment, new_id, reading, series_of

_INSULIN = TickBook(
    [Tick(new_id(), About.INSULIN, Told.YES, date(2020, 1, 1), datetime(2020, 1, 1, tzinfo=UTC))]
)
_ILL = Spell(new_id(), SpellKind.ILL, date(2026, 3, 1))


def _calls(
    *records: Reading | Happening,
    now: str = "2026-03-05 12:00",
    answers: tuple[Answer, ...] = (),
    spells: tuple[Spell, ...] = (),
    changed: tuple[date, ...] = (),
    ticks: TickBook = _INSULIN,
    settings: LogSettings | None = None,
) -> tuple[Call, ...]:
    return calls(
        series_of([one for one in records if isinstance(one, Reading)]),
        [one for one in records if isinstance(one, Happening)],
        answers,
        settings or LogSettings(),
        ticks,
        spells,
        TargetBook(()),
        moment(now),
        medicines_changed=changed,
    )


def _reasons(*records: Reading | Happening, **others: object) -> list[str]:
    return [str(call.reason) for call in _calls(*records, **others)]  # type: ignore[arg-type]


def _listed(
    *records: Reading | Happening,
    period: Period,
    answers: tuple[Answer, ...] = (),
) -> tuple[ListedCall, ...]:
    return calls_in_period(
        series_of([one for one in records if isinstance(one, Reading)]),
        [one for one in records if isinstance(one, Happening)],
        answers,
        LogSettings(),
        _INSULIN,
        (),
        TargetBook(()),
        period,
    )


def _called(about: Call | Reading, said: Said = Said.YES, wall: str = "2026-03-05 12:01") -> Answer:
    record_id = about.id if isinstance(about, Reading) else about.about
    return Answer(new_id(), UUID(str(record_id)), Asked.CALLED, said, moment(wall).instant)


class TestLows:
    @pytest.mark.parametrize("shown", ["53", "LO"])
    def test_very_low_calls_today(self, shown: str) -> None:
        low = reading("2026-03-05 10:00", shown, Slot.BEFORE_LUNCH)
        (call,) = _calls(low)
        assert (call.reason, call.urgency, call.group) == (
            CallReason.VERY_LOW,
            Urgency.TODAY,
            CallGroup.LOWS,
        )
        assert (call.about, call.evidence, call.count) == (str(low.id), (str(low.id),), 1)
        assert call.at == datetime(2026, 3, 5, 10, 0, tzinfo=UTC)

    def test_very_low_in_the_other_unit(self) -> None:
        unit = Unit.MMOL_L
        assert _reasons(reading("2026-03-05 10:00", "2.9", unit=unit)) == ["very_low"]
        assert _reasons(reading("2026-03-05 10:00", "3.0", unit=unit)) == []

    def test_one_ordinary_low_by_day_is_no_call(self) -> None:
        assert _reasons(reading("2026-03-05 10:00", "54", Slot.BEFORE_LUNCH)) == []

    @pytest.mark.parametrize("what", [What.NEEDED_HELP, What.AMBULANCE])
    def test_help_calls_today_with_or_without_a_number(self, what: What) -> None:
        low = reading("2026-03-05 10:00", "62", Slot.BEFORE_LUNCH)
        assert _reasons(happening("2026-03-05 10:00", what)) == ["helped"]
        helped = happening("2026-03-05 10:10", what, about=low)
        (call,) = _calls(low, helped)
        assert (call.reason, call.about) == (CallReason.HELPED, str(helped.id))
        assert call.evidence == (str(low.id), str(helped.id))

    def test_felt_low_and_a_fall_are_no_call_by_themselves(self) -> None:
        assert _reasons(happening("2026-03-05 10:00", What.FELT_LOW_TREATED)) == []
        assert _reasons(happening("2026-03-05 10:00", What.FALL)) == []

    def test_still_low_after_three_treatments(self) -> None:
        lows = [reading(f"2026-03-05 10:{minute:02}", "64") for minute in (0, 15, 30, 45)]
        assert _reasons(*lows[:3]) == []
        assert _reasons(*lows) == ["still_low_after_three"]
        back = reading("2026-03-05 10:20", "72")
        assert _reasons(*lows, back) == []

    def test_the_gravest_of_one_low_is_said_once(self) -> None:
        lows = [reading(f"2026-03-05 03:{minute:02}", "50") for minute in (0, 15, 30, 45)]
        assert _reasons(*lows) == ["still_low_after_three"]

    def test_two_separate_lows_in_seven_days(self) -> None:
        first = reading("2026-03-01 10:00", "62", Slot.BEFORE_LUNCH)
        within = reading("2026-03-07 10:00", "62", Slot.BEFORE_LUNCH)
        (call,) = _calls(first, within, now="2026-03-07 12:00")
        assert (call.reason, call.urgency) == (CallReason.LOWS_REPEATED, Urgency.THIS_WEEK)
        assert (call.evidence, call.count) == ((str(first.id), str(within.id)), 2)
        outside = reading("2026-03-08 10:00", "62", Slot.BEFORE_LUNCH)
        assert _reasons(first, outside, now="2026-03-08 12:00") == []

    def test_two_signs_of_one_low_are_not_two_lows(self) -> None:
        first = reading("2026-03-05 10:00", "62", Slot.BEFORE_LUNCH)
        second = reading("2026-03-05 11:59", "62", Slot.BEFORE_LUNCH)
        assert _reasons(first, second) == []

    def test_lows_without_a_number_count(self) -> None:
        felt = [happening(f"2026-03-0{day} 10:00", What.FELT_LOW_TREATED) for day in (3, 4)]
        assert _reasons(*felt) == ["lows_repeated"]

    def test_a_low_at_night(self) -> None:
        (call,) = _calls(reading("2026-03-05 03:00", "62", Slot.NIGHT))
        assert (call.reason, call.urgency) == (CallReason.LOW_AT_NIGHT, Urgency.THIS_WEEK)

    def test_what_does_not_count_calls_nobody(self) -> None:
        assert (
            _reasons(
                reading("2026-03-05 10:00", "40", crossed_out=True),
                reading("2026-03-05 10:00", "40", doubted=True),
                reading("2026-03-05 10:00", "40", foreign=True),
                reading("2026-03-05 10:00", "40", damaged=True),
            )
            == []
        )


class TestNearLows:
    def _fasting(self, *days: int, shown: str = "75") -> list[Reading]:
        return [reading(f"2026-03-{day:02} 07:00", shown, Slot.FASTING) for day in days]

    def test_three_in_seven_days(self) -> None:
        near = self._fasting(1, 4, 7)
        (call,) = _calls(*near, now="2026-03-07 12:00")
        assert (call.reason, call.urgency, call.count) == (
            CallReason.NEAR_LOWS,
            Urgency.THIS_WEEK,
            3,
        )
        assert call.evidence == tuple(str(one.id) for one in near)
        assert _reasons(*near[:2], now="2026-03-07 12:00") == []
        assert _reasons(*self._fasting(1, 4, 8), now="2026-03-08 12:00") == []

    def test_how_many_in_how_many_days_can_be_set(self) -> None:
        near = self._fasting(1, 8)
        settings = LogSettings(near_low_count=2, near_low_days=8)
        assert _reasons(*near, now="2026-03-08 12:00", settings=settings) == ["near_lows"]

    def test_they_are_counted_anew_after_a_call(self) -> None:
        near = self._fasting(1, 2, 3, 4, 5)
        answers = (_called(near[2], wall="2026-03-03 12:00"),)
        assert _reasons(*near, answers=answers) == []
        sixth = self._fasting(6)
        found = _calls(*near, *sixth, answers=answers, now="2026-03-06 12:00")
        assert [call.count for call in found] == [3]


class TestHighs:
    def _highs(self, *times: str, shown: str = "250") -> list[Reading]:
        return [reading(f"2026-03-{time}", shown) for time in times]

    @pytest.mark.parametrize(("shown", "unit"), [("250", Unit.MG_DL), ("13.9", Unit.MMOL_L)])
    def test_twice_in_24_hours_while_ill(self, shown: str, unit: Unit) -> None:
        highs = [
            reading("2026-03-04 12:00", shown, unit=unit),
            reading("2026-03-05 12:00", shown, unit=unit),
        ]
        (call,) = _calls(*highs, spells=(_ILL,))
        assert (call.reason, call.urgency, call.count) == (
            CallReason.HIGH_WHILE_ILL,
            Urgency.TODAY,
            2,
        )
        assert _reasons(*highs) == []

    def test_249_is_under_and_24_hours_are_the_most(self) -> None:
        under = [*self._highs("04 12:00"), *self._highs("05 11:00", shown="249")]
        assert _reasons(*under, spells=(_ILL,)) == []
        assert _reasons(*self._highs("04 11:00", "05 11:01"), spells=(_ILL,)) == []

    def test_once_more_at_once_is_the_same_check(self) -> None:
        assert _reasons(*self._highs("05 10:00", "05 10:05"), spells=(_ILL,)) == []

    def test_after_a_change_of_medicine(self) -> None:
        highs = self._highs("05 06:00", "05 11:00")
        assert _reasons(*highs, changed=(date(2026, 2, 27),)) == ["high_while_ill"]
        assert _reasons(*highs, changed=(date(2026, 2, 26),)) == []
        assert _reasons(*highs, changed=(date(2026, 3, 6),)) == []
        for kind in (SpellKind.STEROID, SpellKind.NEW_MEDICINE):
            spell = replace(_ILL, kind=kind)
            assert _reasons(*highs, spells=(spell,)) == ["high_while_ill"]
        travel = replace(_ILL, kind=SpellKind.TRAVEL)
        assert _reasons(*highs, spells=(travel,)) == []

    def test_hi_counts_as_250_or_more(self) -> None:
        highs = [*self._highs("05 06:00"), *self._highs("05 11:00", shown="HI")]
        assert "high_while_ill" in _reasons(*highs, spells=(_ILL,))

    @pytest.mark.parametrize(
        ("shown", "unit", "is_call"),
        [
            ("301", Unit.MG_DL, True),
            ("300", Unit.MG_DL, False),
            ("16.8", Unit.MMOL_L, True),
            ("16.7", Unit.MMOL_L, False),
        ],
    )
    def test_above_300_on_two_days_running(self, shown: str, unit: Unit, is_call: bool) -> None:
        highs = [
            reading("2026-03-04 08:00", shown, unit=unit),
            reading("2026-03-05 11:00", shown, unit=unit),
        ]
        assert _reasons(*highs) == (["high_two_days"] if is_call else [])

    def test_two_on_one_day_and_a_day_between_are_not_two_days_running(self) -> None:
        assert _reasons(*self._highs("05 06:00", "05 11:00", shown="310")) == []
        assert _reasons(*self._highs("03 08:00", "05 11:00", shown="310")) == []

    def test_the_persons_day_decides(self) -> None:
        # Half past one belongs to the evening before.
        assert _reasons(*self._highs("04 20:00", "05 01:30", shown="310")) == []

    def test_hi_calls_now(self) -> None:
        (call,) = _calls(reading("2026-03-05 10:00", "HI"))
        assert (call.reason, call.urgency) == (CallReason.METER_SHOWED_HI, Urgency.NOW)

    def test_hi_that_is_not_believed_calls_nobody(self) -> None:
        first = reading("2026-03-05 10:00", "HI", doubted=True)
        again = reading("2026-03-05 10:03", "140", purpose=Purpose.REPEAT)
        assert _reasons(first, again) == []


class TestIll:
    def test_not_eating_or_drinking_calls_now(self) -> None:
        (call,) = _calls(happening("2026-03-05 10:00", What.CANNOT_EAT_OR_DRINK))
        assert (call.reason, call.urgency, call.group) == (
            CallReason.CANNOT_EAT_OR_DRINK,
            Urgency.NOW,
            CallGroup.ILL,
        )


class TestAnswers:
    def test_called_and_not_now_take_it_off(self) -> None:
        low = reading("2026-03-05 10:00", "50", Slot.BEFORE_LUNCH)
        for said in (Said.YES, Said.LATER):
            assert _reasons(low, answers=(_called(low, said),)) == []
        for said in (Said.NO, Said.NOT_ANSWERED, Said.NOT_SURE):
            assert _reasons(low, answers=(_called(low, said),)) == ["very_low"]

    def test_an_answer_to_another_question_does_not(self) -> None:
        low = reading("2026-03-05 10:00", "50", Slot.BEFORE_LUNCH)
        other = replace(_called(low), asked=Asked.RECHECK_DUE)
        assert _reasons(low, answers=(other,)) == ["very_low"]

    def test_one_call_answers_every_reason_of_the_same_record(self) -> None:
        lows = [reading(f"2026-03-0{day} 10:00", "50", Slot.BEFORE_LUNCH) for day in (3, 5)]
        found = _calls(*lows)
        assert [call.reason for call in found] == [CallReason.VERY_LOW, CallReason.LOWS_REPEATED]
        assert len({call.about for call in found}) == 1
        assert _calls(*lows, answers=(_called(found[0]),)) == ()

    def test_something_new_opens_it_again(self) -> None:
        first = reading("2026-03-03 10:00", "50", Slot.BEFORE_LUNCH)
        again = reading("2026-03-05 10:00", "50", Slot.BEFORE_LUNCH)
        answers = (_called(first, wall="2026-03-03 11:00"),)
        found = _calls(first, again, answers=answers)
        assert [call.reason for call in found] == [CallReason.VERY_LOW, CallReason.LOWS_REPEATED]
        assert found[0].evidence == (str(again.id),)

    def test_help_after_the_call_opens_it_again(self) -> None:
        low = reading("2026-03-05 10:00", "50", Slot.BEFORE_LUNCH)
        helped = happening("2026-03-05 10:30", What.NEEDED_HELP, about=low)
        answers = (_called(low, wall="2026-03-05 10:20"),)
        assert _reasons(low, helped, answers=answers) == ["helped"]

    def test_it_lapses_from_the_list_after_fourteen_days(self) -> None:
        low = reading("2026-03-05 10:00", "50", Slot.BEFORE_LUNCH)
        assert _reasons(low, now="2026-03-19 23:00") == ["very_low"]
        assert _reasons(low, now="2026-03-20 04:00") == []

    def test_the_most_urgent_comes_first(self) -> None:
        found = _reasons(
            reading("2026-03-05 03:00", "62", Slot.NIGHT),
            reading("2026-03-04 10:00", "50", Slot.BEFORE_LUNCH),
            reading("2026-03-04 15:00", "HI"),
        )
        assert found == ["meter_showed_hi", "very_low", "lows_repeated", "low_at_night"]


class TestListed:
    _PERIOD = Period(date(2026, 3, 1), date(2026, 3, 10))

    def test_all_calls_of_the_period_with_what_was_said(self) -> None:
        called = reading("2026-03-01 10:00", "50", Slot.BEFORE_LUNCH)
        put_off = reading("2026-03-09 10:00", "50", Slot.BEFORE_LUNCH)
        shows = reading("2026-03-10 10:00", "HI")
        answers = (_called(called), _called(put_off, Said.LATER, "2026-03-09 11:00"))
        listed = _listed(called, put_off, shows, period=self._PERIOD, answers=answers)
        told = [(one.call.reason, one.said, one.was_called) for one in listed]
        assert told == [
            (CallReason.VERY_LOW, Said.YES, True),
            (CallReason.VERY_LOW, Said.LATER, False),
            (CallReason.METER_SHOWED_HI, None, False),
        ]

    def test_only_those_that_arose_in_the_period(self) -> None:
        before = reading("2026-02-28 10:00", "50", Slot.BEFORE_LUNCH)
        inside = reading("2026-03-02 10:00", "62", Slot.BEFORE_LUNCH)
        listed = _listed(before, inside, period=self._PERIOD)
        assert [one.call.reason for one in listed] == [CallReason.LOWS_REPEATED]
        assert listed[0].call.evidence == (str(before.id), str(inside.id))

    def test_the_last_word_holds(self) -> None:
        low = reading("2026-03-05 10:00", "50", Slot.BEFORE_LUNCH)
        answers = (
            _called(low, Said.YES, "2026-03-05 14:00"),
            _called(low, Said.LATER, "2026-03-05 11:00"),
        )
        (one,) = _listed(low, period=self._PERIOD, answers=answers)
        assert (one.said, one.answered_at) == (Said.YES, moment("2026-03-05 14:00").instant)


@pytest.mark.parametrize("seed", range(20))
def test_the_order_of_writing_does_not_matter(seed: int) -> None:
    mixed = random.Random(seed)
    records: list[Reading | Happening] = [
        reading(
            f"2026-03-{mixed.randint(1, 5):02} {mixed.randint(0, 23):02}:{mixed.randint(0, 59):02}",
            mixed.choice(["LO", "50", "62", "75", "95", "260", "310", "HI"]),
            mixed.choice([Slot.FASTING, Slot.NIGHT, Slot.OTHER]),
        )
        for _ in range(25)
    ]
    records.append(happening("2026-03-04 10:00", What.NEEDED_HELP))
    answers = tuple(_called(one) for one in mixed.sample(records, 4) if isinstance(one, Reading))
    expected = _calls(*records, answers=answers, spells=(_ILL,))
    assert len(expected) > 3
    for _ in range(3):
        mixed.shuffle(records)
        assert _calls(*records, answers=answers[::-1], spells=(_ILL,)) == expected
    # The control: one record fewer is seen.
    gone = [one for one in records if str(one.id) not in expected[0].evidence]
    assert _calls(*gone, answers=answers, spells=(_ILL,)) != expected
