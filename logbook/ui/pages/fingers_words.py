"""What is said about the lancet in the device and about the last uses of the fingers."""

from __future__ import annotations

from datetime import time

from logbook.domain.kit.lancets import LancetHabit, LancetInDevice
from logbook.domain.kit.pricks import Prick
from logbook.domain.moments import Moment
from logbook.domain.punctures import Puncture
from logbook.domain.sites import SiteUse
from logbook.wording import _, ngettext
from logbook.wording.cautions import blunt_lancet
from logbook.wording.dates import moment_text, short_day_text
from logbook.wording.numbers import number_text
from logbook.wording.sites import site_text


def lancet_line(
    lancet: LancetInDevice, habit: LancetHabit, now: Moment, day_starts_at: time
) -> str:
    """A few words for a button: since when, and how many punctures."""
    if habit is LancetHabit.NEW_EACH_TIME:
        return _("A new one for every check")
    if lancet.since is None or lancet.uses is None:
        return _("No change is written down")
    since = lancet.since.day(day_starts_at)
    day = _("today") if since == now.day(day_starts_at) else short_day_text(since)
    return _("Since {day}, {punctures}").format(day=day, punctures=punctures_text(lancet.uses))


def lancet_sentences(
    lancet: LancetInDevice, habit: LancetHabit, now: Moment, day_starts_at: time
) -> list[str]:
    """All that is known of the lancet in the device; its uses count only for who reuses it."""
    if habit is LancetHabit.NEW_EACH_TIME:
        return [_("You put in a new one for every check, so nothing has to be counted.")]
    if lancet.since is None or lancet.uses is None:
        return [_("It is not written down when the lancet was changed last.")]
    told = [
        _("It was put in {when}.").format(when=moment_text(lancet.since, now, day_starts_at)),
        _("{punctures} with it so far.").format(punctures=punctures_text(lancet.uses)),
    ]
    if lancet.is_blunt(habit):
        told.append(blunt_lancet())
    return told


def punctures_text(count: int) -> str:
    """A count of punctures: "1 puncture", "9 punctures"."""
    if not count:
        return _("no punctures")
    return ngettext("{n} puncture", "{n} punctures", count).format(n=number_text(count))


def use_sentence(puncture: Puncture, now: Moment, day_starts_at: time) -> str:
    """One use: "Right ring finger, thumb side: today at 7:53 AM."."""
    text = _("{site}: {when}.").format(
        site=site_text(puncture.site), when=moment_text(puncture.at, now, day_starts_at)
    )
    if puncture.use is SiteUse.SUGGESTED:
        text = _("{use} It was suggested, not confirmed.").format(use=text)
    return text


def prick_sentence(prick: Prick, now: Moment, day_starts_at: time) -> str:
    """Which prick is meant: "Right ring finger, thumb side: today at 7:53 AM."."""
    when = moment_text(prick.at, now, day_starts_at)
    if prick.site is None:
        return _("It was {when}. The finger was not noted.").format(when=when)
    return _("{site}: {when}.").format(site=site_text(prick.site), when=when)
