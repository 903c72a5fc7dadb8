"""What is said about a finding: to the person in the window, and to the provider on paper.

To the person: what repeats, the latest day, and that it is worth asking about; no cause, no advice.
To the provider: one line of the trade's words with counts and figures.
"""

from __future__ import annotations

from logbook.domain.findings.finding import Finding, FindingKind, PartOfDay, Side
from logbook.wording import _, mark, ngettext
from logbook.wording.dates import month_day_text, short_day_text
from logbook.wording.numbers import count_of_text, figure_text, number_text, steps_text
from logbook.wording.terms import difference_text, slot_phrase, slot_text

# --- titles ---------------------------------------------------------------------------------------

_KIND = {
    FindingKind.LOW_HELPED: mark("Very low, or needed help"),
    FindingKind.LOW_REPEATED: mark("Lows close together"),
    FindingKind.LOW_AT_NIGHT: mark("Lows at night"),
    FindingKind.LOW_UNAWARE: mark("Lows without warning signs"),
    FindingKind.NEAR_LOW: mark("Close to low"),
    FindingKind.OVERNIGHT_FALL: mark("A fall overnight"),
    FindingKind.BEFORE_LOW: mark("What came before lows"),
    FindingKind.HIGH: mark("Above target"),
    FindingKind.MEAL_RISE: mark("A rise after the meal"),
    FindingKind.PROFILE: mark("From 7 checks a day for 3 days"),
    FindingKind.DAY_GROUP: mark("Different on some days"),
    FindingKind.DRIFT: mark("A change over weeks"),
}

_PART = {
    PartOfDay.WHOLE_DAY: mark("all day"),
    PartOfDay.BEFORE_MEALS: mark("before meals"),
    PartOfDay.AFTER_MEALS: mark("after meals"),
}


def finding_kind_text(kind: FindingKind) -> str:
    """What was found, as a heading: "Lows at night"."""
    return _(_KIND[kind])


def finding_title(finding: Finding) -> str:
    """A heading with the time of day where there is one: "Above target: after lunch"."""
    kind = finding_kind_text(finding.kind)
    if finding.kind is FindingKind.DAY_GROUP:
        return _("{kind}: {where}").format(kind=kind, where=_group_text(finding))
    if finding.slot is None or finding.kind is FindingKind.OVERNIGHT_FALL:
        return kind
    return _("{kind}: {where}").format(kind=kind, where=slot_phrase(finding.slot))


# --- for the person -------------------------------------------------------------------------------


def finding_sentences(finding: Finding) -> tuple[str, ...]:
    """What repeats, its latest day, and what to do with it: sentences for the window."""
    says = _SAYS[finding.kind]
    sentences = [says(finding), _latest(finding)]
    if finding.low_before_ids:
        sentences.append(_("There was a low in the 12 hours before some of these."))
    if finding.kind.is_statistical:
        sentences.append(_("This can have many reasons, and chance is one of them."))
    sentences.append(_("Worth asking your provider about."))
    return tuple(sentences)


def _latest(finding: Finding) -> str:
    day = month_day_text(finding.last)
    if finding.is_recent:
        return _("The latest was on {day}.").format(day=day)
    return _("The latest was on {day}: earlier, not lately.").format(day=day)


def _low_helped(finding: Finding) -> str:
    if finding.helped == finding.count:
        return ngettext(
            "Someone had to help you with a low.",
            "Someone had to help you with {n} lows.",
            finding.count,
        ).format(n=number_text(finding.count))
    text = ngettext(
        "{n} low was very low or needed help.",
        "{n} lows were very low or needed help.",
        finding.count,
    )
    return text.format(n=number_text(finding.count))


def _low_repeated(finding: Finding) -> str:
    if finding.slot is None:
        text = ngettext(
            "{n} low came close together with others.",
            "{n} lows came close together, at different times of day.",
            finding.count,
        )
        return text.format(n=number_text(finding.count))
    return _("{count} of your lows came close together, {when}.").format(
        count=number_text(finding.count), when=slot_phrase(finding.slot)
    )


def _low_at_night(finding: Finding) -> str:
    text = ngettext(
        "{n} low came between bedtime and waking.",
        "{n} lows came between bedtime and waking.",
        finding.count,
    )
    return text.format(n=number_text(finding.count))


def _low_unaware(finding: Finding) -> str:
    if finding.count == finding.of:
        text = ngettext(
            "You did not feel a low coming.",
            "You did not feel any of {n} lows coming.",
            finding.of,
        )
        return text.format(n=number_text(finding.of))
    text = ngettext(
        "You did not feel {count} low coming.",
        "You did not feel {count} lows coming.",
        finding.of,
    )
    return text.format(count=count_of_text(finding.count, finding.of))


def _near_low(finding: Finding) -> str:
    if finding.slot is None:
        return _(
            "{count} checks, fasting (before breakfast), at bedtime or at night, were close to low."
        ).format(count=number_text(finding.count))
    return _("{count} checks {when} were close to low.").format(
        count=number_text(finding.count), when=slot_phrase(finding.slot)
    )


def _overnight_fall(finding: Finding) -> str:
    return _(
        "From bedtime to morning your glucose fell by {fall} or more in {count} nights."
    ).format(fall=_limit(finding), count=count_of_text(finding.count, finding.of))


def _before_low(finding: Finding) -> str:
    return _("“{what}” was noted before the low on {count} days with a low.").format(
        what=_difference(finding), count=count_of_text(finding.count, finding.of)
    )


def _high(finding: Finding) -> str:
    return _("{count} checks {when} were above target; the middle value is {middle}.").format(
        count=count_of_text(finding.count, finding.of),
        when=_when(finding),
        middle=_middle(finding),
    )


def _meal_rise(finding: Finding) -> str:
    return _("In {count} meals, glucose {when} rose by more than {rise} to above target.").format(
        count=count_of_text(finding.count, finding.of),
        when=_when(finding),
        rise=_limit(finding),
    )


def _profile(finding: Finding) -> str:
    if finding.side is Side.HIGHER:
        text = _("In your 3 days of 7 checks, {count} {when} were above target.")
    else:
        text = _("In your 3 days of 7 checks, {count} {when} were below target.")
    return text.format(count=count_of_text(finding.count, finding.of), when=_when(finding))


def _day_group(finding: Finding) -> str:
    if finding.side is Side.HIGHER:
        text = _("{where}, glucose is about {change} higher than on other days ({days}).")
    else:
        text = _("{where}, glucose is about {change} lower than on other days ({days}).")
    return text.format(
        where=_group_start(finding),
        change=_change(finding),
        days=ngettext("{n} such day", "{n} such days", finding.count).format(
            n=number_text(finding.count)
        ),
    )


def _drift(finding: Finding) -> str:
    if finding.side is Side.HIGHER:
        text = _("Glucose {when} has risen by about {change} over {weeks}.")
    else:
        text = _("Glucose {when} has fallen by about {change} over {weeks}.")
    return text.format(
        when=_when(finding),
        change=_change(finding),
        weeks=weeks_text(_weeks_long(finding)),
    )


def weeks_text(count: int) -> str:
    """A count of weeks: "1 week", "13 weeks"."""
    return ngettext("{n} week", "{n} weeks", count).format(n=number_text(count))


_SAYS = {
    FindingKind.LOW_HELPED: _low_helped,
    FindingKind.LOW_REPEATED: _low_repeated,
    FindingKind.LOW_AT_NIGHT: _low_at_night,
    FindingKind.LOW_UNAWARE: _low_unaware,
    FindingKind.NEAR_LOW: _near_low,
    FindingKind.OVERNIGHT_FALL: _overnight_fall,
    FindingKind.BEFORE_LOW: _before_low,
    FindingKind.HIGH: _high,
    FindingKind.MEAL_RISE: _meal_rise,
    FindingKind.PROFILE: _profile,
    FindingKind.DAY_GROUP: _day_group,
    FindingKind.DRIFT: _drift,
}

# --- for the provider -----------------------------------------------------------------------------

_LINES = {
    FindingKind.LOW_HELPED: mark("Very low or helped: {count} of {total} lows, {helped} with help"),
    FindingKind.LOW_REPEATED: mark("Repeated lows{at}: {count} of {total} lows"),
    FindingKind.LOW_AT_NIGHT: mark("Nocturnal lows: {count} of {total} lows"),
    FindingKind.LOW_UNAWARE: mark("Lows without warning signs: {count} of {total} asked about"),
    FindingKind.NEAR_LOW: mark("Near-lows{at}: {count} of {total} checks, middle value {middle}"),
    FindingKind.OVERNIGHT_FALL: mark(
        "Bedtime to fasting (before breakfast): fall of {limit} or more in {count} of {total} "
        "nights, middle change {change}"
    ),
    FindingKind.BEFORE_LOW: mark(
        "“{what}” noted before {count} of {total} days with a low (association, not cause)"
    ),
    FindingKind.HIGH: mark(
        "{slot}: above target in {count} of {total}, middle value {middle}{limited}"
    ),
    FindingKind.MEAL_RISE: mark(
        "{slot}: rise over {limit} to above target in {count} of {total} pairs, "
        "middle rise {change}"
    ),
    FindingKind.PROFILE: mark("3-day profile, {slot}: {side} target in {count} of {total}"),
    FindingKind.DAY_GROUP: mark(
        "{group} ({part}): {change} against other days, {count} of {total} days"
    ),
    FindingKind.DRIFT: mark("{slot}: {change} over {weeks} (slope of weekly middle values)"),
}


def provider_line(finding: Finding) -> str:
    """One line for the provider's paper: counts, middle value, limit and latest day."""
    line = _(_LINES[finding.kind]).format(
        count=number_text(finding.count),
        total=number_text(finding.of),
        helped=number_text(finding.helped),
        at="" if finding.slot is None else f", {slot_phrase(finding.slot)}",
        slot="" if finding.slot is None else slot_text(finding.slot),
        middle=_middle(finding),
        limit=_limit(finding),
        limited=_limited(finding),
        change=_signed_change(finding),
        what=_difference(finding),
        side=_("above") if finding.side is Side.HIGHER else _("below"),
        group=_group_text(finding),
        part=_part(finding),
        weeks=weeks_text(_weeks_long(finding)),
    )
    if finding.low_before_ids:
        line = _("{line}; low within 12 h before some").format(line=line)
    latest = (
        _("{line}; latest {day}") if finding.is_recent else _("{line}; latest {day}, not since")
    )
    return latest.format(line=line, day=short_day_text(finding.last))


# --- parts of both --------------------------------------------------------------------------------


def _when(finding: Finding) -> str:
    return "" if finding.slot is None else slot_phrase(finding.slot)


def _part(finding: Finding) -> str:
    if finding.slot is not None:
        return slot_phrase(finding.slot)
    return "" if finding.part is None else _(_PART[finding.part])


def _group_text(finding: Finding) -> str:
    if finding.group == "weekend":
        return _("Weekend")
    return finding.group or ""


def _group_start(finding: Finding) -> str:
    """How the sentence about a group of days begins."""
    whole = finding.part is PartOfDay.WHOLE_DAY and finding.slot is None
    if finding.group == "weekend":
        return _("At weekends") if whole else _("At weekends {part}").format(part=_part(finding))
    named = _("On days of “{group}”").format(group=finding.group or "")
    return named if whole else f"{named} {_part(finding)}"


def _weeks_long(finding: Finding) -> int:
    return max(1, round(((finding.last - finding.first).days + 1) / 7))


def _middle(finding: Finding) -> str:
    return figure_text(finding.middle, finding.unit)


def _limit(finding: Finding) -> str:
    return "" if finding.limit_steps is None else steps_text(finding.limit_steps, finding.unit)


def _limited(finding: Finding) -> str:
    if finding.limit_steps is None:
        return ""
    return " " + _("(limit {limit})").format(limit=_limit(finding))


def _change(finding: Finding) -> str:
    return figure_text(None if finding.change is None else abs(finding.change), finding.unit)


def _signed_change(finding: Finding) -> str:
    if finding.change is None:
        return figure_text(None, finding.unit)
    sign = "+" if finding.change > 0 else "−"
    return f"{sign}{_change(finding)}"


def _difference(finding: Finding) -> str:
    return "" if finding.difference is None else difference_text(finding.difference)
