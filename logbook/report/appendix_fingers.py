"""The appendix's fingers and lancets: how evenly the work is shared, how often lancets are new."""

from __future__ import annotations

from collections import Counter
from datetime import timedelta

from logbook.domain.punctures import RECENT_DAYS, Puncture
from logbook.domain.rest import Sharing, evenness, sharing_of
from logbook.domain.rotation import sites_in_use
from logbook.domain.sites import Site
from logbook.report.contents import Contents
from logbook.report.document import joined_parts, unbroken
from logbook.report.flow import Flow
from logbook.wording import _, mark
from logbook.wording.dates import short_day_text
from logbook.wording.numbers import NOTHING, days_text, number_text
from logbook.wording.sites import site_text
from logbook.wording.terms import lancet_habit_text, lancet_reason_text

_FINGER_SHARE = {
    Sharing.EVEN: mark("even"),
    Sharing.FAIRLY_EVEN: mark("fairly even"),
    Sharing.UNEVEN: mark("uneven"),
    Sharing.TOO_FEW: mark("too few to say"),
}


def write_fingers(flow: Flow, contents: Contents) -> None:
    """Which were used and how evenly; nothing where they are not tracked."""
    data = contents.data
    settings = data.settings
    if not (data.sites and settings.tracks_fingers):
        return
    sites = sites_in_use(settings)
    since = data.period.last - timedelta(days=RECENT_DAYS - 1)
    punctures = [
        Puncture(Site.from_code(code), data.made_at) for day, code in data.sites if day >= since
    ]
    measured = evenness(punctures, sites)
    flow.heading(_("Fingers, last {days}").format(days=days_text(RECENT_DAYS)))
    flow.paragraph(
        _("How evenly the sites share the work (Pielou’s J): {figure}, {words}.").format(
            figure=NOTHING if measured is None else number_text(measured, 2),
            words=_(_FINGER_SHARE[sharing_of(measured)]),
        )
    )
    uses = Counter(puncture.site for puncture in punctures)
    told = (
        _("{site}: {n}").format(site=site_text(site), n=number_text(uses[site]))
        for site in sorted(uses, key=lambda site: site.code)
    )
    flow.paragraph(joined_parts(map(unbroken, told)))


def write_lancets(flow: Flow, contents: Contents) -> None:
    """The habit, and the changes that were noted."""
    data = contents.data
    flow.heading(_("Lancets"))
    flow.paragraph(lancet_habit_text(data.settings.lancet_habit))
    if data.lancet_changes:
        latest = max(data.lancet_changes, key=lambda change: change.at.instant)
        flow.paragraph(
            _("Changes noted in this period: {n}, the latest {day} ({reason}).").format(
                n=number_text(len(data.lancet_changes)),
                day=short_day_text(latest.at.day(data.settings.day_starts_at), with_year=True),
                reason=lancet_reason_text(latest.reason),
            )
        )
