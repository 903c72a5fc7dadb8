"""Everything the pages of one report say, computed once by the domain before drawing begins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from logbook.domain.day_grid import DayGrid, day_grid
from logbook.domain.figures import Share
from logbook.domain.glucose import Unit
from logbook.domain.low_facts import Looked, LowCounts, count_lows, who_looked
from logbook.domain.moments import Period
from logbook.domain.summary import Summary, summarise
from logbook.domain.targets import Target, TargetKind
from logbook.domain.trust import written_same_day
from logbook.domain.turning_points import TurningPoint, turning_points
from logbook.domain.visit_data import VisitData
from logbook.domain.visit_review import VisitReview, review_of
from logbook.domain.visits import Medicine


@dataclass(frozen=True, slots=True)
class Contents:
    """A visit's data and the figures the domain makes of them."""

    data: VisitData
    summary: Summary
    low_counts: LowCounts
    looked: Looked
    written_same_day: Share
    grid: DayGrid
    points: list[TurningPoint]
    review: VisitReview

    @property
    def unit(self) -> Unit:
        """The log's unit."""
        return self.summary.unit

    @property
    def period(self) -> Period:
        """The days the report is about."""
        return self.data.period

    @property
    def medicines(self) -> list[Medicine]:
        """Medicines that hold on the period's last day."""
        return [
            medicine
            for medicine in self.data.medicines
            if medicine.holds_from <= self.period.last
            and (medicine.holds_until is None or medicine.holds_until >= self.period.last)
        ]

    @property
    def targets(self) -> list[Target]:
        """Targets that hold on the period's last day, in the order of the day."""
        held = (self.data.targets.of_kind(kind, self.period.last) for kind in TargetKind)
        return [target for target in held if target is not None]

    @property
    def questions(self) -> list[str]:
        """The questions not yet asked, in the order in which they were written."""
        return [question.text for question in self.data.questions if question.done_on is None]

    @property
    def in_question(self) -> frozenset[str]:
        """The ids of readings that old strips or failed control tests put in question."""
        kit = self.review.kit
        return frozenset(map(str, (*kit.suspect, *(one.reading_id for one in kit.out_of_date))))

    def typed_texts(self) -> Iterator[str]:
        """Everything a person typed that can come on paper."""
        data, settings = self.data, self.data.settings
        yield from (settings.person_name, settings.born)
        yield from (settings.low_plan, settings.high_plan, settings.sick_day_plan)
        yield from (medicine.text for medicine in data.medicines)
        yield from (question.text for question in data.questions)
        yield from (meter.name for meter in data.meters)
        yield from (spell.note for spell in data.spells)
        for target in data.targets.all:
            yield from (target.set_by_name, target.source, target.edition)
        for appointment in (data.last_appointment, data.next_appointment):
            if appointment is not None:
                yield from (appointment.with_whom, appointment.place, appointment.decided)
        for reading in data.noted:
            yield from (reading.note, reading.initials)
            if reading.crossed_out is not None:
                yield reading.crossed_out.reason
            yield from (earlier.reason for earlier in reading.earlier)
        yield from (happening.note for happening in data.happenings)


def contents_of(data: VisitData) -> Contents:
    """The figures of a visit's period."""
    settings = data.settings
    summary = summarise(
        data.series, data.period, settings, data.targets, data.happenings, data.answers
    )
    return Contents(
        data,
        summary,
        count_lows(summary.lows),
        who_looked(data.series, data.period, settings, summary.lows),
        written_same_day(data.series, data.period, settings),
        day_grid(data.series, data.period, settings.day_starts_at, data.happenings),
        turning_points(data.period, data.targets, data.medicines, data.spells),
        review_of(data, summary),
    )
