"""The whole diary in order: fingers, meters and lancets added, and when each thing was written."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from random import Random

from logbook.book import Record
from logbook.demo.events import Event, Written
from logbook.demo.incidents import TAKEN, IncidentWords, told_events, told_readings
from logbook.demo.kit import kit_events
from logbook.demo.plan import ordinary_checks
from logbook.demo.story import AWAY, COLD, FIRST_DAY, LAST_VISIT, STEROID, Story, record_id
from logbook.domain.kit.lancets import LancetChange, LancetChangeReason
from logbook.domain.moments import Moment
from logbook.domain.punctures import Puncture
from logbook.domain.readings import Reading
from logbook.domain.rotation import advise
from logbook.domain.sites import SiteUse
from logbook.domain.slots import Slot
from logbook.wording import _

SEED = 20
_CHECKS_BETWEEN_LANCETS = 9
_ADVICE_LOOKS_BACK = 120  # punctures
_ONE_BY_ONE = 14  # days


def diary(story: Story) -> list[Event]:
    """Everything that was done to the log, in the order in which it was done."""
    events = [
        *_framework(story),
        *kit_events(story),
        *_days(story),
        *told_events(story, _incident_words()),
    ]
    return sorted(events, key=lambda event: event.when)


def _days(story: Story) -> Iterator[Event]:
    chance = Random(SEED)  # noqa: S311  (numbers for a story, not secrets)
    kit = _Kit(story, chance)
    notes = {
        (131, Slot.FASTING): _("birthday today"),
        (74, Slot.FASTING): _("slept badly"),
        (53, Slot.AFTER_DINNER): _("soup and bread at the neighbour’s"),
        (19, Slot.BEFORE_DINNER): _("long walk"),
        (5, Slot.FASTING): _("forgot my snack last night"),
    }
    for days_ago in range(FIRST_DAY, 0, -1):
        told = told_readings(story, days_ago)
        ordinary = ordinary_checks(story, chance, days_ago)
        checks = told + [check for check in ordinary if (days_ago, check.slot) not in TAKEN]
        batches: dict[object, list[Record]] = {}
        for check in sorted(checks, key=lambda check: check.at.instant):
            equipped = kit.equip(check)
            noted = replace(equipped, note=notes.get((days_ago, check.slot), ""))
            is_late = check.written_at - check.at.instant > timedelta(hours=1)
            # One by one where something stood out, and lately; else a day at a time, for speed.
            is_alone = bool(told) or days_ago <= _ONE_BY_ONE
            batch = check.id if is_alone and not is_late else is_late
            batches.setdefault(batch, []).extend([*kit.new_lancet(noted), noted])
        for records in batches.values():
            when = max(record.written_at for record in records if isinstance(record, Reading))
            yield Written(when, tuple(records))


class _Kit:
    """Which finger, which meter, which lancet."""

    def __init__(self, story: Story, chance: Random) -> None:
        self._story = story
        self._settings = story.settings()
        self._chance = chance
        self._punctures: list[Puncture] = []
        self._checks = 0
        self._lancet_lasts = _CHECKS_BETWEEN_LANCETS

    def equip(self, reading: Reading) -> Reading:
        """The reading with its meter and finger."""
        if reading.is_foreign:
            return reading
        bedside, handbag, _practice = self._story.meters()
        is_away = reading.written_at - reading.at.instant > timedelta(days=1)
        is_out = is_away or reading.slot in (Slot.BEFORE_LUNCH, Slot.AFTER_LUNCH)
        reading = replace(reading, meter_id=(handbag if is_out else bedside).id)
        if is_away:  # copied from the meter's memory: nobody knows the finger
            return reading
        past = self._punctures[-_ADVICE_LOOKS_BACK:]
        advice = advise(past, self._settings, reading.at, fingertips_only=True)
        assert advice.site is not None
        site, use = advice.site, SiteUse.USED
        drawn = self._chance.random()
        if drawn < 0.05:
            use = SiteUse.SUGGESTED
        elif drawn < 0.13:
            site = self._chance.choice(advice.ranking[:6])
        self._punctures.append(Puncture(site, reading.at, use))
        return replace(reading, site=site, site_use=use)

    def new_lancet(self, reading: Reading) -> list[LancetChange]:
        """A new lancet just before the check, when the old one had served its time."""
        if reading.is_foreign:
            return []
        self._checks += 1
        if self._checks < self._lancet_lasts:
            return []
        self._checks = 0
        self._lancet_lasts = _CHECKS_BETWEEN_LANCETS + self._chance.randint(-2, 3)
        at = Moment.at(reading.at.instant - timedelta(minutes=2), self._story.zone)
        hurt = self._chance.random() < 0.15
        reason = LancetChangeReason.PAINFUL if hurt else LancetChangeReason.USUAL
        return [LancetChange(record_id(f"lancet {at.wall}"), at, at.instant, reason)]


def _framework(story: Story) -> Iterator[Event]:
    """Meters, targets, medicines, people, appointments and the like."""
    start = story.moment(FIRST_DAY, 6, 30).instant
    bedside, handbag, practice = story.meters()
    first_medicines, later_medicines = story.medicines()[:2], story.medicines()[2:]
    away, cold, steroid = story.spells()
    last, following = story.appointments()
    first_targets = story.targets(story.day(FIRST_DAY), start)
    yield Written(start, (bedside, handbag, *first_targets, *first_medicines, *story.contacts()))
    yield Written(story.moment(AWAY[1] - 1, 17, 20).instant, (away,))
    evening = story.moment(LAST_VISIT, 17, 0).instant
    new_targets = story.targets(story.day(LAST_VISIT), evening)
    yield Written(story.moment(LAST_VISIT, 10, 20).instant, (practice,))
    yield Written(evening, (last, following, *new_targets))
    yield Written(story.moment(COLD[1] - 1, 9, 0).instant, (cold,))
    yield Written(story.moment(STEROID[1] - 1, 9, 5).instant, (steroid, *later_medicines))
    for days_ago, question in story.questions():
        yield Written(story.moment(days_ago, 18, 0).instant, (question,))


def _incident_words() -> IncidentWords:
    return IncidentWords(
        felt_low=_("in the garden, shaky, took my glucose tablets"),
        digits_swapped=_("digits swapped"),
        not_mine=_("my sister’s reading"),
    )
