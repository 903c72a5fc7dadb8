"""Which finger and side is next, and what speaks against one.

Nothing is forbidden: what speaks against a site is told as a note. What was pricked is told by
`punctures`, how long each site has rested by `rest`. That fingers and sides should be rotated is
common practice; no published interval was found, and the order here is this program's own.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum

from logbook.domain.moments import Moment
from logbook.domain.punctures import Past, Puncture, counted, finger_of
from logbook.domain.settings import HandsPricked, LogSettings, RotationHabit
from logbook.domain.sites import FINGERS, SIDES, Place, Site

# Not the same finger twice within this time if another is free. Judgement without a source.
FINGER_REST = timedelta(hours=24)

# A finger whose prick hurt comes after those that did not hurt for so long. Judgement without a
# source.
HURT_REST = timedelta(hours=72)

# A finger marked sore is asked about again after a week. Judgement without a source.
SORE_ASKED_AFTER = timedelta(days=7)


class Reason(StrEnum):
    """Why a site is advised, or why none is."""

    NEVER_USED = "never_used"
    LONGEST_REST = "longest_rest"
    FINGER_OF_THE_DAY = "finger_of_the_day"
    HAND_OF_THE_WEEK = "hand_of_the_week"
    NO_FINGER_RESTED = "no_finger_rested"
    NOT_TRACKED = "not_tracked"
    NO_SITE_FREE = "no_site_free"


class SiteNote(StrEnum):
    """What speaks against a site: said beside it, never a ban.

    Thumb and index have thicker skin (CLSI GP42 advises against both for laboratory samples; read
    in a secondary copy). Forearm and thigh lag behind the fingertip when glucose moves (Diabetes
    Care 2002;25:956 and 961, read at the journal); the palm does not.
    """

    THUMB = "thumb"
    INDEX = "index"
    LAGS_BEHIND = "lags_behind"
    FINGER_PRICKED_LATELY = "finger_pricked_lately"
    HURT_LATELY = "hurt_lately"
    SORE = "sore"
    LEFT_OUT = "left_out"


@dataclass(frozen=True, slots=True)
class Advice:
    """The next site, or None with the reason why there is none.

    `days` are whole days of the person that it has rested, None when it was never used. `ranking`
    holds every free site, best first.
    """

    site: Site | None
    days: int | None
    reason: Reason
    notes: tuple[SiteNote, ...] = ()
    ranking: tuple[Site, ...] = ()


# --- which sites there are ------------------------------------------------------------------------


def sites_in_use(settings: LogSettings) -> tuple[Site, ...]:
    """The sites the person pricks, in the fixed order: hand, finger from the thumb, side.

    Two sides of each fingertip in use, then other places that were turned on, of the hand or hands
    that are pricked; nothing that was left out. Sore sites are among them.
    """
    hands = [settings.hand_with_device.other]
    if settings.hands_pricked is HandsPricked.BOTH:
        hands.append(settings.hand_with_device)
    fingers = [place for place in FINGERS if place in settings.fingers_in_use]
    sites = [Site(hand, place, side) for hand in hands for place in fingers for side in SIDES]
    sites += [Site(hand, place) for hand in hands for place in settings.other_places_in_use]
    return tuple(site for site in sites if noted_for(site, settings.left_out) is None)


def free_sites(settings: LogSettings) -> tuple[Site, ...]:
    """The sites in use that are not sore."""
    return tuple(site for site in sites_in_use(settings) if noted_for(site, settings.sore) is None)


def noted_for(site: Site, entries: Iterable[tuple[str, str]]) -> str | None:
    """What `left_out` or `sore` holds for a site, its finger or its whole hand; None for nothing.

    An entry's code is that of a hand (`left`), of a finger (`left.ring`) or of a site.
    """
    codes = (site.hand.value, Site(site.hand, site.place).code, site.code)
    return next((noted for code, noted in entries if code in codes), None)


def sore_since(site: Site, settings: LogSettings) -> date | None:
    """The day from which a site is sore; None when it is not, or when the day can't be read."""
    return _day_or_none(noted_for(site, settings.sore) or "")


def needs_asking_about_sore(settings: LogSettings, today: date) -> tuple[str, ...]:
    """The codes marked sore at least 7 days ago: time to ask whether they still are.

    A later entry of the same code is the day on which it was said to be sore still; from then the
    7 days count anew.
    """
    told: dict[str, list[date]] = {}
    for code, since in settings.sore:
        day = _day_or_none(since)
        told.setdefault(code, []).extend([] if day is None else [day])
    return tuple(
        code for code, days in told.items() if not days or today - max(days) >= SORE_ASKED_AFTER
    )


# --- which is next --------------------------------------------------------------------------------


def advise(
    punctures: Iterable[Puncture],
    settings: LogSettings,
    now: Moment,
    *,
    fingertips_only: bool = False,
    finger_rest: timedelta = FINGER_REST,
) -> Advice:
    """The site to prick next. A left-out or sore site is never advised.

    `punctures` are all that are known, in any order: a site without one has rested longest.
    `fingertips_only` is for the recheck of a low. `finger_rest` of zero lifts the 24-hour rule.

    The longest rest wins, among fingers not pricked within `finger_rest` while there are such, and
    of those among fingers that did not hurt in the last 72 hours.
    Ties go to the finger that rested longest, then to one not beside the last, then to the fixed
    order. Comparing the finger second keeps the two sides of a finger half a round apart, which is
    why the 24-hour rule and an even share of the work do not get in each other's way.
    """
    if not settings.tracks_fingers:
        return Advice(None, None, Reason.NOT_TRACKED)
    sites = [s for s in free_sites(settings) if s.place.is_finger or not fingertips_only]
    if not sites:
        return Advice(None, None, Reason.NO_SITE_FREE)
    past = Past(counted(punctures, settings), now, settings)
    ranked = _ranked(sites, past, finger_rest)
    preferred = _preferred(ranked, past, settings.rotation_habit)
    ranked.sort(key=lambda site: site not in preferred)
    site = ranked[0]
    return Advice(
        site,
        past.days_of_rest(site),
        _reason(site, past, settings.rotation_habit, finger_rest),
        _notes(site, past, settings),
        tuple(ranked),
    )


def notes_about(
    site: Site, punctures: Iterable[Puncture], settings: LogSettings, now: Moment
) -> tuple[SiteNote, ...]:
    """What speaks against a site that the person chose."""
    return _notes(site, Past(counted(punctures, settings), now, settings), settings)


def _ranked(sites: Sequence[Site], past: Past, finger_rest: timedelta) -> list[Site]:
    """The sites in the order of their rest, the best first."""
    fixed_order = {site: place for place, site in enumerate(sites)}
    last = past.punctures[-1].site if past.punctures else None
    return sorted(
        sites,
        key=lambda site: (
            past.is_finger_pricked_within(site, finger_rest),
            past.did_finger_hurt_within(site, HURT_REST),
            past.last_of_site(site),
            past.last_of_finger(site),
            last is not None and _are_beside(site, last),
            fixed_order[site],
        ),
    )


def _preferred(ranked: Sequence[Site], past: Past, habit: RotationHabit) -> Sequence[Site]:
    """The sites that the habit keeps to for now, out of those that are free, best first."""
    match habit:
        case RotationHabit.LONGEST_REST:
            return ranked
        case RotationHabit.ONE_FINGER_A_DAY:
            # The day's finger is the first one pricked today that is still free and does not hurt.
            unhurt = [s for s in ranked if not past.did_finger_hurt_within(s, HURT_REST)] or ranked
            fingers = [finger_of(p.site) for p in past.since(past.today)]
            fingers.append(finger_of(min(unhurt, key=past.last_of_finger)))
            free = {finger_of(site) for site in unhurt}
            finger = next(f for f in fingers if f in free)
            return [site for site in ranked if finger_of(site) == finger]
        case RotationHabit.ONE_HAND_A_WEEK:
            # The week's hand is the first one pricked since Monday that is still free; a new week
            # goes to the hand that rested longer.
            monday = past.today - timedelta(days=past.today.weekday())
            hands = [p.site.hand for p in past.since(monday)]
            hands += [p.site.hand.other for p in past.punctures[-1:]]
            hands.append(ranked[0].hand)
            free_hands = {site.hand for site in ranked}
            hand = next(h for h in hands if h in free_hands)
            return [site for site in ranked if site.hand is hand]


def _reason(site: Site, past: Past, habit: RotationHabit, finger_rest: timedelta) -> Reason:
    if habit is RotationHabit.ONE_FINGER_A_DAY:
        return Reason.FINGER_OF_THE_DAY
    if habit is RotationHabit.ONE_HAND_A_WEEK:
        return Reason.HAND_OF_THE_WEEK
    if past.is_finger_pricked_within(site, finger_rest):
        return Reason.NO_FINGER_RESTED
    return Reason.NEVER_USED if past.days_of_rest(site) is None else Reason.LONGEST_REST


def _notes(site: Site, past: Past, settings: LogSettings) -> tuple[SiteNote, ...]:
    said = {
        SiteNote.LEFT_OUT: noted_for(site, settings.left_out) is not None,
        SiteNote.SORE: noted_for(site, settings.sore) is not None,
        SiteNote.THUMB: site.place is Place.THUMB,
        SiteNote.INDEX: site.place is Place.INDEX,
        SiteNote.LAGS_BEHIND: site.place in (Place.FOREARM, Place.THIGH),
        SiteNote.FINGER_PRICKED_LATELY: past.is_finger_pricked_within(site, FINGER_REST),
        SiteNote.HURT_LATELY: past.did_finger_hurt_within(site, HURT_REST),
    }
    return tuple(note for note, holds in said.items() if holds)


def _are_beside(one: Site, other: Site) -> bool:
    """The same finger or its neighbour on the same hand."""
    if one.hand is not other.hand:
        return False
    if not (one.place.is_finger and other.place.is_finger):
        return one.place is other.place
    return abs(FINGERS.index(one.place) - FINGERS.index(other.place)) <= 1


def _day_or_none(text: str) -> date | None:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return None
