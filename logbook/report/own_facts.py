"""What the person's own sheets are made from, and the parts of them that several sheets share."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timezone

from logbook.domain.kit.supplies import LowSupply
from logbook.domain.moments import Moment
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.settings import LogSettings
from logbook.domain.targets import TargetBook, TargetKind
from logbook.domain.ticks import About as Tick
from logbook.domain.ticks import TickBook
from logbook.domain.visits import Appointment, Contact, Medicine
from logbook.report.document import About
from logbook.wording import _
from logbook.wording.dates import short_day_text
from logbook.wording.emergency import emergency_word
from logbook.wording.manner import manner
from logbook.wording.own_sheets import OwnSheet, sheet_name
from logbook.wording.targets import not_agreed_text, target_text
from logbook.wording.terms import target_kind_text


@dataclass(frozen=True, slots=True)
class OwnFacts:
    """The log as it is at `made_at`; `plan` is the plan that holds, None for none."""

    settings: LogSettings
    made_at: Moment
    medicines: tuple[Medicine, ...]
    contacts: tuple[Contact, ...]
    targets: TargetBook
    ticks: TickBook
    plan: CheckPlan | None = None
    low_supplies: tuple[LowSupply, ...] = ()
    appointment: Appointment | None = None

    @property
    def today(self) -> date:
        """The person's day."""
        return self.made_at.day(self.settings.day_starts_at)

    @property
    def emergency(self) -> str:
        """What to call."""
        return emergency_word(self.settings.country, self.settings.emergency_number)

    @property
    def needs_glucose(self) -> bool:
        """Whether other sugar works too slowly with this person's tablets."""
        return self.ticks.may_hold(Tick.SLOWS_SUGAR, self.today)

    def typed_texts(self) -> tuple[str, ...]:
        """Everything on the sheets that a person typed."""
        settings = self.settings
        visit = self.appointment
        return (
            settings.born,
            settings.low_plan,
            settings.high_plan,
            settings.sick_day_plan,
            *(one.text for one in self.medicines),
            *(f"{one.name} {one.phone}" for one in self.contacts),
            *(f"{one.place} {one.who_knows}" for one in self.low_supplies),
            *(() if visit is None else (visit.with_whom, visit.place)),
        )


def about_sheet(facts: OwnFacts, sheet: OwnSheet) -> About:
    """What the document says about itself."""
    made, name = facts.made_at, facts.settings.person_name
    title = sheet_name(sheet)
    return About(
        title=f"{name}: {title}" if name else title,
        person=name,
        period="",
        printed=_("printed {day}").format(day=short_day_text(made.wall.date(), with_year=True)),
        language=manner().locale.replace("_", "-"),
        made_at=made.instant.astimezone(timezone(made.offset)),
        nameless=title,
    )


def medicines_now(facts: OwnFacts) -> list[str]:
    """Medicines exactly as the person wrote them."""
    today = facts.today
    return [
        one.text
        for one in facts.medicines
        if one.holds_from <= today and (one.holds_until is None or one.holds_until >= today)
    ]


def target_texts(facts: OwnFacts) -> list[str]:
    """Each kind of check with its target, and whether it is agreed."""
    found = []
    for kind in TargetKind:
        target = facts.targets.of_kind(kind, facts.today)
        if target is None or not target.printed:
            continue
        line = _("{kind}: {limits}").format(
            kind=target_kind_text(kind), limits=target_text(target, facts.settings.unit)
        )
        found.append(line if target.is_agreed else f"{line}, {not_agreed_text()}")
    return found


def phone_texts(facts: OwnFacts) -> list[str]:
    """Who to phone, the emergency number first."""
    lines = [_("Emergency: {number}").format(number=facts.emergency)]
    roles = {
        "provider": _("Provider: {name}"),
        "after_hours": _("After hours: {name}"),
    }
    for one in facts.contacts:
        who = " ".join(filter(None, (one.name.strip(), one.phone.strip())))
        if who:
            lines.append(roles.get(one.role, "{name}").format(name=who))
    return lines
