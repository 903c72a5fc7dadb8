"""A low at each of its stages, in sentences; when a stage begins is the domain's."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from logbook.domain.low_course import LowCourse, Stage
from logbook.domain.moments import Moment
from logbook.wording import _, cautions
from logbook.wording.cautions import CautionFacts
from logbook.wording.dates import clock_text
from logbook.wording.emergency import emergency_word


@dataclass(frozen=True, slots=True)
class CourseText:
    """What the page of a low says: one line large, then the steps in their order."""

    title: str
    steps: tuple[str, ...]


def course_text(
    course: LowCourse,
    now: Moment,
    facts: CautionFacts,
    *,
    only_glucose: bool = False,
    can_ring: bool = True,
    fasts: bool = False,
) -> CourseText:
    """The words of a low as it stands now.

    `only_glucose`: acarbose or miglitol slow down other sugar. `can_ring`: whether a sound was
    heard on this computer. `fasts`: the day is one of a fasting month. The recheck's time
    is told here; `facts` are whom to call.
    """
    if course.due_at is not None:
        at = _wall(course.due_at, now)
        facts = replace(facts, recheck_at=at, treatments=course.times_low - 1)
        steps = _open_steps(course, facts, only_glucose=only_glucose)
        if fasts and course.stage is not Stage.RECHECK and not course.needs_emergency:
            steps.insert(0, cautions.break_fast())
        if not can_ring and not course.is_overdue(now.instant):
            steps.append(cautions.cannot_ring())
        return CourseText(_open_title(course, facts, at), tuple(steps))
    steps = [cautions.recovered()] if course.stage is Stage.RECOVERED else []
    if course.watch_due_at is None:
        return CourseText(_("The low is over."), tuple(steps))
    if course.stage is Stage.RECOVERED:
        return CourseText(_("The low is over."), (*steps, cautions.watch()))
    return CourseText(watch_text(course, now), ())


def _open_title(course: LowCourse, facts: CautionFacts, at: datetime) -> str:
    if course.needs_emergency:
        return _("Call {emergency} now.").format(emergency=facts.emergency or emergency_word(""))
    if course.stage is Stage.RECHECK:
        return _("Check again now.")
    if course.stage is Stage.WAITING:
        return _("Check again at {time}.").format(time=clock_text(at))
    return _("Take fast sugar now.")


def watch_text(course: LowCourse, now: Moment) -> str:
    """The later check after a low, in one line; empty when there is none."""
    if course.watch_due_at is None:
        return ""
    low_at = clock_text(_wall(course.low_at, now))
    if course.is_watch_due(now.instant):
        return _("Check once more now. You had a low at {time}.").format(time=low_at)
    return _("Check once more at {time}, because of the low at {low_time}.").format(
        time=clock_text(_wall(course.watch_due_at, now)), low_time=low_at
    )


def _open_steps(course: LowCourse, facts: CautionFacts, *, only_glucose: bool) -> list[str]:
    assert facts.recheck_at is not None
    emergency = facts.emergency or emergency_word("")
    steps = [cautions.still_low_after_three(emergency)] if course.needs_emergency else []
    if course.stage is Stage.RECHECK:
        # Nothing of the sugar: it was taken, and the check comes before any more of it.
        late = [cautions.unanswered(facts.contact)] if course.is_unanswered else []
        return [*steps, *late, cautions.wipe_first(), cautions.fingertip_only()]
    recheck = cautions.recheck(facts.recheck_at)
    if course.needs_emergency:
        return [*steps, recheck]
    if course.is_very_low:
        steps.append(cautions.very_low(facts.contact))
    if course.stage is Stage.WAITING:
        return [*steps, cautions.sugar_once(), recheck]
    sugar = cautions.fast_sugar(only_glucose=only_glucose)
    if course.times_low > 1:
        return [*steps, cautions.still_low(facts.treatments, facts.recheck_at), sugar]
    # That it is low was said above, in stronger words.
    first = _("Sit down. Do not drive.") if course.is_very_low else cautions.low_first()
    return [*steps, first, sugar, recheck]


def _wall(instant: datetime, now: Moment) -> datetime:
    return Moment.at(instant, now.zone).wall
