"""The invented person and what happened to her, told in days before today.

Marked as invented wherever it can be read: the person's name says so, and so does every report
made from it. No person, place, brand or telephone number in it is real: the numbers are of the kind
that is kept free for stories (555-01xx).
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from uuid import UUID, uuid5

from logbook.domain.glucose import Unit
from logbook.domain.kit.lancets import LancetHabit
from logbook.domain.kit.meters import Meter
from logbook.domain.moments import Moment
from logbook.domain.settings import HandsPricked, LogSettings
from logbook.domain.spells import Spell, SpellKind
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.domain.visits import Appointment, Contact, Medicine, Question
from logbook.wording import _

NAMESPACE = UUID("0d5b7f52-9d0e-4c39-8f3b-54b7b7d6f1a0")

FIRST_DAY = 150
LAST_VISIT = 88
NEXT_VISIT_IN = 3
AWAY = (82, 76)
STEROID = (47, 41)
COLD = (49, 44)


def record_id(name: str) -> UUID:
    """The id of a record of the story, the same every time."""
    return uuid5(NAMESPACE, name)


@dataclass(frozen=True, slots=True)
class Story:
    """The story as told on `today`, the person's day."""

    today: date
    zone: str

    def day(self, days_ago: int) -> date:
        """The day so many days before today."""
        return self.today - timedelta(days=days_ago)

    def moment(self, days_ago: int, hour: int, minute: int) -> Moment:
        """A clock time on the day so many days before today."""
        return Moment.from_wall(datetime.combine(self.day(days_ago), time(hour, minute)), self.zone)

    def settings(self) -> LogSettings:
        """Who she is and how she does it."""
        return LogSettings(
            unit=Unit.MG_DL,
            home_zone=self.zone,
            person_name=_("Invented demo log: Marigold Thimblewick"),
            born="1948",
            country="US",
            can_have_lows=True,
            hands_pricked=HandsPricked.BOTH,
            lancet_habit=LancetHabit.REUSE,
            low_plan=_("Sit down. Take my glucose tablets. Check again after 15 minutes."),
            high_plan=_("Wash my hands and test again. Phone the practice if it stays high."),
            sick_day_plan=_("Drink small sips. Check every 4 hours. Phone the practice early."),
        )

    def meters(self) -> tuple[Meter, Meter, Meter]:
        """The one by the bed, the one in the handbag, and the practice's own."""
        first = self.day(FIRST_DAY)
        bedside = Meter.usual(record_id("meter bedside"), _("bedside"), Unit.MG_DL, first)
        handbag = Meter.usual(record_id("meter handbag"), _("handbag"), Unit.MG_DL, first)
        practice = Meter(
            id=record_id("meter practice"),
            name=_("practice’s meter"),
            unit=Unit.MG_DL,
            lowest=20,
            highest=600,
            in_use_from=self.day(LAST_VISIT),
            in_use_until=self.day(LAST_VISIT),
            is_own=False,
        )
        return bedside, handbag, practice

    def targets(self, day: date, written_at: datetime) -> list[Target]:
        """The targets of the first day, or those agreed at the visit."""
        at_visit = day == self.day(LAST_VISIT)
        wanted = {
            TargetKind.FASTING: (90, 150, 50, 83) if at_visit else (80, 130, 44, 72),
            TargetKind.BEFORE_MEALS: (90, 150, 50, 83) if at_visit else (80, 130, 44, 72),
            TargetKind.AFTER_MEALS: (None, 180, None, 100),
            TargetKind.BEDTIME: (100, 180, 56, 100) if at_visit else (90, 150, 50, 83),
        }
        return [
            Target(
                id=record_id(f"target {kind} {at_visit}"),
                kind=kind,
                printed=_limits(*numbers),
                holds_from=day,
                set_by=SetBy.PROVIDER,
                set_by_name=_("Dr. Pennywhistle"),
                written_at=written_at,
            )
            for kind, numbers in wanted.items()
            if not (at_visit and kind is TargetKind.AFTER_MEALS)
        ]

    def spells(self) -> list[Spell]:
        """The stretches that were not ordinary."""
        return [
            Spell(
                record_id("spell away"),
                SpellKind.TRAVEL,
                self.day(AWAY[0]),
                self.day(AWAY[1]),
                _("at my sister’s"),
            ),
            Spell(
                record_id("spell cold"),
                SpellKind.ILL,
                self.day(COLD[0]),
                self.day(COLD[1]),
                _("chest cold"),
            ),
            Spell(
                record_id("spell steroid"),
                SpellKind.STEROID,
                self.day(STEROID[0]),
                self.day(STEROID[1]),
                _("one week"),
            ),
        ]

    def medicines(self) -> list[Medicine]:
        """As she writes them; no amounts."""
        return [
            Medicine(
                record_id("medicine evening"),
                _("long-acting insulin in the evening"),
                self.day(FIRST_DAY),
            ),
            Medicine(
                record_id("medicine tablets"),
                _("diabetes tablets, morning and evening"),
                self.day(FIRST_DAY),
            ),
            Medicine(
                record_id("medicine steroid"),
                _("steroid tablets"),
                self.day(STEROID[0]),
                self.day(STEROID[1]),
            ),
        ]

    def appointments(self) -> list[Appointment]:
        """The last one with what was decided, and the next."""
        name = _("Dr. Pennywhistle")
        place = _("Lantern Lane Practice (invented)")
        return [
            Appointment(
                record_id("appointment last"),
                self.day(LAST_VISIT),
                time(10, 15),
                name,
                place,
                _("Higher targets because of the lows. A check at bedtime from now on."),
            ),
            Appointment(
                record_id("appointment next"),
                self.today + timedelta(days=NEXT_VISIT_IN),
                time(10, 30),
                name,
                place,
            ),
        ]

    def questions(self) -> list[tuple[int, Question]]:
        """Each with the day before today on which it was written."""
        texts = (
            (96, _("Why was I low before lunch twice in one week?"), self.day(LAST_VISIT)),
            (58, _("Is my fasting number good enough now?"), None),
            (40, _("What should I do if I need steroids again?"), None),
            (11, _("I did not feel the low at night. What can I change?"), None),
        )
        return [
            (
                days_ago,
                Question(
                    record_id(f"question {days_ago}"),
                    text,
                    self.moment(days_ago, 18, 0).instant,
                    done,
                ),
            )
            for days_ago, text, done in texts
        ]

    def contacts(self) -> list[Contact]:
        """Whom she would phone."""
        return [
            Contact(record_id("contact person"), "person", _("Clementine (sister)"), "555-0142"),
            Contact(
                record_id("contact provider"),
                "provider",
                _("Dr. Pennywhistle"),
                "555-0117",
            ),
            Contact(record_id("contact night"), "after_hours", _("Practice at night"), "555-0199"),
        ]


def _limits(
    low: int | None, high: int, low_tenths: int | None, high_tenths: int
) -> tuple[Limits, ...]:
    """At least and at most, in whole mg/dL and tenths of mmol/L, as they would be printed."""

    def at_least(steps: int | None) -> Limit | None:
        return None if steps is None else Limit(Operator.AT_LEAST, steps)

    return (
        Limits(Unit.MG_DL, at_least(low), Limit(Operator.AT_MOST, high)),
        Limits(Unit.MMOL_L, at_least(low_tenths), Limit(Operator.AT_MOST, high_tenths)),
    )
