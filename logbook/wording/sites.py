"""Hands, fingers, sides and the other places in words, and what is said about their rest.

Thumb and little finger have an inner and an outer edge; the other fingers have a thumb side and a
little-finger side.
"""

from __future__ import annotations

from logbook.domain.rest import Sharing, SiteRest, SiteState, sharing_of
from logbook.domain.rotation import Advice, Reason, SiteNote
from logbook.domain.sites import Hand, Place, Side, Site, SiteUse
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import month_day_text

_FINGER = {
    (Hand.LEFT, Place.THUMB): mark("Left thumb"),
    (Hand.LEFT, Place.INDEX): mark("Left index finger"),
    (Hand.LEFT, Place.MIDDLE): mark("Left middle finger"),
    (Hand.LEFT, Place.RING): mark("Left ring finger"),
    (Hand.LEFT, Place.LITTLE): mark("Left little finger"),
    (Hand.LEFT, Place.PALM): mark("Left palm"),
    (Hand.LEFT, Place.FOREARM): mark("Left forearm"),
    (Hand.LEFT, Place.THIGH): mark("Left thigh"),
    (Hand.RIGHT, Place.THUMB): mark("Right thumb"),
    (Hand.RIGHT, Place.INDEX): mark("Right index finger"),
    (Hand.RIGHT, Place.MIDDLE): mark("Right middle finger"),
    (Hand.RIGHT, Place.RING): mark("Right ring finger"),
    (Hand.RIGHT, Place.LITTLE): mark("Right little finger"),
    (Hand.RIGHT, Place.PALM): mark("Right palm"),
    (Hand.RIGHT, Place.FOREARM): mark("Right forearm"),
    (Hand.RIGHT, Place.THIGH): mark("Right thigh"),
}

_PLACE = {
    Place.THUMB: mark("Thumb"),
    Place.INDEX: mark("Index finger"),
    Place.MIDDLE: mark("Middle finger"),
    Place.RING: mark("Ring finger"),
    Place.LITTLE: mark("Little finger"),
    Place.PALM: mark("Palm"),
    Place.FOREARM: mark("Forearm"),
    Place.THIGH: mark("Thigh"),
}

_HAND = {Hand.LEFT: mark("Left hand"), Hand.RIGHT: mark("Right hand")}

_SITE_USE = {
    SiteUse.USED: mark("Used"),
    SiteUse.SUGGESTED: mark("Suggested, not confirmed"),
    SiteUse.NOT_NOTED: mark("Not noted"),
}


_STATE = {
    SiteState.SUGGESTED: mark("Suggested, not confirmed"),
    SiteState.SORE: mark("Sore"),
}

_REASON = {
    Reason.NEVER_USED: mark("This place was not used yet."),
    Reason.LONGEST_REST: mark("This place has rested longest."),
    Reason.FINGER_OF_THE_DAY: mark("This is the finger for today."),
    Reason.HAND_OF_THE_WEEK: mark("This is the hand for this week."),
    Reason.NO_FINGER_RESTED: mark("Every finger was used in the last 24 hours."),
    Reason.NOT_TRACKED: mark("Fingers are not tracked."),
    Reason.NO_SITE_FREE: mark("Every finger is sore or left out. Choose which one to use."),
}

_NOTE = {
    SiteNote.THUMB: mark("The thumb has thick skin and may hurt more."),
    SiteNote.INDEX: mark("The index finger has thick skin and may hurt more."),
    SiteNote.LAGS_BEHIND: mark(
        "Use a fingertip after meals, after activity, when you feel low, and when ill."
    ),
    SiteNote.FINGER_PRICKED_LATELY: mark("This finger was used in the last 24 hours."),
    SiteNote.HURT_LATELY: mark("This finger hurt in the last 3 days."),
    SiteNote.SORE: mark("You marked this finger as sore."),
    SiteNote.LEFT_OUT: mark("You chose to leave this one out."),
}

_SHARE = {
    Sharing.EVEN: mark("Your fingers share the work evenly."),
    Sharing.FAIRLY_EVEN: mark("Your fingers share the work fairly evenly."),
    Sharing.UNEVEN: mark("Some of your fingers do much more of the work than others."),
    Sharing.TOO_FEW: mark("Too few checks to say how evenly your fingers share the work."),
}


def site_text(site: Site) -> str:
    """A place in full: "Right ring finger, little-finger side", "Left thumb, inner edge"."""
    finger = finger_text(site.hand, site.place)
    if site.side is None:
        return finger
    return _("{finger}, {side}").format(finger=finger, side=side_phrase(site.place, site.side))


def finger_text(hand: Hand, place: Place) -> str:
    """Hand and finger (or other place) without the side: "Right ring finger"."""
    return _(_FINGER[hand, place])


def hand_text(hand: Hand) -> str:
    """The hand: "Left hand"."""
    return _(_HAND[hand])


def place_text(place: Place) -> str:
    """A finger or other place of either hand: "Ring finger"."""
    return _(_PLACE[place])


def side_text(place: Place, side: Side) -> str:
    """A side on a button: "Thumb side", "Inner edge"."""
    if _has_edges(place):
        return _("Inner edge") if _is_inner(place, side) else _("Outer edge")
    return _("Thumb side") if side is Side.THUMB_SIDE else _("Little-finger side")


def side_phrase(place: Place, side: Side) -> str:
    """A side inside a sentence: "thumb side", "inner edge"."""
    if _has_edges(place):
        return _("inner edge") if _is_inner(place, side) else _("outer edge")
    return _("thumb side") if side is Side.THUMB_SIDE else _("little-finger side")


def site_use_text(use: SiteUse) -> str:
    """How the site is known."""
    return _(_SITE_USE[use])


def rest_text(days: int | None) -> str:
    """How long a site has rested, in whole days of the person; None when it was never used."""
    if days is None:
        return _("Not used yet")
    if days <= 0:
        return _("Used today")
    return ngettext("Rested {n} day", "Rested {n} days", days).format(n=days)


def uses_text(count: int, days: int = 30) -> str:
    """How often a site was used lately: "Used 5 times in the last 30 days"."""
    if count == 0:
        return _("Not used in the last {days} days").format(days=days)
    return ngettext(
        "Used {n} time in the last {days} days", "Used {n} times in the last {days} days", count
    ).format(n=count, days=days)


def site_rest_text(rest: SiteRest) -> str:
    """How one site stands, under its name: "Rested 6 days", "Sore since March 3"."""
    if rest.state is SiteState.LEFT_OUT:
        if rest.left_out_because:
            return _("Left out: {reason}").format(reason=rest.left_out_because)
        return _("Left out")
    if rest.state is SiteState.SORE and rest.sore_since is not None:
        return _("Sore since {day}").format(day=month_day_text(rest.sore_since))
    if rest.state in _STATE:
        return _(_STATE[rest.state])
    return rest_text(rest.days)


def advice_text(advice: Advice) -> str:
    """The next site in words: "Right ring finger, little-finger side. Rested 6 days."."""
    if advice.site is None:
        return reason_text(advice.reason)
    return _("{site}. {rest}.").format(site=site_text(advice.site), rest=rest_text(advice.days))


def reason_text(reason: Reason) -> str:
    """Why a site is advised, or why none is."""
    return _(_REASON[reason])


def note_text(note: SiteNote) -> str:
    """What speaks against a site, softly."""
    return _(_NOTE[note])


def evenness_text(measured: float | None) -> str:
    """How evenly the fingers share the work; None when there are too few punctures to say."""
    return _(_SHARE[sharing_of(measured)])


def _has_edges(place: Place) -> bool:
    return place in (Place.THUMB, Place.LITTLE)


def _is_inner(place: Place, side: Side) -> bool:
    inner = Side.LITTLE_FINGER_SIDE if place is Place.THUMB else Side.THUMB_SIDE
    return side is inner
