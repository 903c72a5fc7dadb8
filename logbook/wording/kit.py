"""What is said of strips, lancets, sharps, things for a low and the stock, on cards and in lines.

Control tests and meters are in `kit_control`, the names of codes in `kit_terms`.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta

from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.low_supplies import WARNED_DAYS, LowSupplyState
from logbook.domain.kit.refill import RefillLine
from logbook.domain.kit.sharps import SharpsCount, SharpsState
from logbook.domain.kit.strip_accounts import CountGap, GapQuestion, VialAccount
from logbook.domain.kit.strip_stock import StockOutlook
from logbook.domain.kit.strips import Vial
from logbook.domain.kit.vial_life import Life, LifeState, WhyUntil, life_state
from logbook.wording import _, ngettext
from logbook.wording.dates import day_text, month_text, relative_day_text
from logbook.wording.kit_terms import for_lows_text, supply_kind_text
from logbook.wording.numbers import days_text, number_text

# --- strips ---------------------------------------------------------------------------------------


def strips_text(count: int) -> str:
    """A count of strips: "1 strip", "38 strips"."""
    return ngettext("{n} strip", "{n} strips", count).format(n=number_text(count))


def printed_date_text(printed: PrintedDate) -> str:
    """The date on a label as it is printed: "March 2027" or "March 15, 2027"."""
    return month_text(printed.last_day) if printed.is_month else day_text(printed.last_day)


def after_opening_text(after_opening: AfterOpening | None) -> str:
    """How long a thing lasts once it is open: "3 months after opening"."""
    if after_opening is None:
        return _("No time after opening")
    if after_opening.in_months:
        return ngettext(
            "{n} month after opening", "{n} months after opening", after_opening.count
        ).format(n=number_text(after_opening.count))
    return ngettext("{n} day after opening", "{n} days after opening", after_opening.count).format(
        n=number_text(after_opening.count)
    )


def use_until_text(life: Life | None, today: date) -> str:
    """Until when a thing may be used and why, in one or two sentences."""
    if life is None:
        return _("Use until: no date noted.")
    day = day_text(life.until)
    if life_state(life.until, today) is LifeState.OUT_OF_DATE:
        text = _("Out of date since {day}.").format(day=day)
    else:
        text = _("Use until {day}.").format(day=day)
    if life.why is WhyUntil.PRINTED:
        return text + " " + _("That is the printed date.")
    return text + " " + _("That is the time after opening.")


def left_text(account: VialAccount) -> str:
    """How many strips are left: "38 of 50 strips left by the log."."""
    if account.beyond:
        return _("More strips were used than the pot held. Count again.")
    return _("{left} of {total} strips left by the log.").format(
        left=number_text(account.left), total=number_text(account.count)
    )


def gap_text(gap: CountGap) -> str:
    """What is asked after a count that differs much; empty for a small difference."""
    match gap.question:
        case GapQuestion.NOT_WRITTEN_DOWN:
            return _(
                "{strips} fewer than the log expects. Are there readings not written down yet?"
            ).format(strips=strips_text(gap.missing))
        case GapQuestion.FROM_ANOTHER_PACK:
            return _("{strips} more than the log expects. Were strips of another pot used?").format(
                strips=strips_text(-gap.missing)
            )
        case None:
            return ""


def out_of_date_reading(life: Life) -> str:
    """Beside a reading made with an out-of-date strip."""
    return _("The strips were to be used until {day}. The number may be wrong.").format(
        day=day_text(life.until)
    )


def readings_out_of_date_text(count: int) -> str:
    """On paper: how many readings were made with out-of-date strips."""
    return ngettext(
        "{n} reading was made with a strip past its use-until date.",
        "{n} readings were made with strips past their use-until date.",
        count,
    ).format(n=number_text(count))


def code_differs_text(code: str) -> str:
    """What to do when the meter shows another code."""
    return _(
        "Set the meter to code {code} before you test. With another code it shows wrong numbers."
    ).format(code=code)


def keep_closed() -> str:
    """How strips are kept."""
    return _("Keep strips in their closed pot, dry, at 4 to 30 °C (39 to 86 °F).")


def strips_rubbish() -> str:
    """Where used strips go."""
    return _("Used strips go in a closed bag in household rubbish, unless local rules differ.")


# --- stock ----------------------------------------------------------------------------------------


def unopened_text(vials: Sequence[Vial]) -> str:
    """What lies unopened: "Unopened: 2 pots, 100 strips."."""
    if not vials:
        return _("Nothing unopened is written down.")
    pots = ngettext("{n} pot", "{n} pots", len(vials)).format(n=number_text(len(vials)))
    strips = strips_text(sum(vial.count for vial in vials))
    return _("Unopened: {pots}, {strips}.").format(pots=pots, strips=strips)


def stock_text(outlook: StockOutlook, today: date) -> str:
    """How long the strips last, and by when to order."""
    parts = [_("{strips} in date.").format(strips=strips_text(outlook.strips))]
    if outlook.run_out is None and not outlook.rate:
        parts.append(_("Too little is known to say how long they last."))
    elif outlook.run_out is not None:
        parts.append(enough_until_text(outlook.run_out, today))
    if outlook.must_wait_until is not None:
        parts.append(
            _("The next refill is possible from {day}.").format(
                day=day_text(outlook.must_wait_until)
            )
        )
    elif outlook.reorder_by is not None:
        parts.append(order_by_text(outlook.reorder_by, today))
    if outlook.expiring_strips:
        parts.append(
            ngettext(
                "{n} strip will be out of date before you need it.",
                "{n} strips will be out of date before you need them.",
                outlook.expiring_strips,
            ).format(n=number_text(outlook.expiring_strips))
        )
    return " ".join(parts)


def enough_until_text(run_out: date, today: date) -> str:
    """To which day the strips last; `run_out` is the first day with too few."""
    if run_out <= today:
        return _("Too few for today.")
    return _("Enough until {day}.").format(day=day_text(run_out - timedelta(days=1)))


def order_by_text(day: date, today: date) -> str:
    """By when to order."""
    if day <= today:
        return _("Order now.")
    return _("Order by {day}.").format(day=day_text(day))


def only_what_fits() -> str:
    """On the refill list."""
    return _("Only what fits your meter. Compare the name on the pack with this list.")


def refill_name(line: RefillLine, meter: str = "") -> str:
    """What a line of the refill list is about: "Test strips for bedside"."""
    name = supply_kind_text(line.kind)
    return _("{what} for {meter}").format(what=name, meter=meter) if meter else name


def refill_state(line: RefillLine, today: date) -> str:
    """The rest of the line: its exact type, how many are there, and by when to order."""
    parts = [line.exact_type or _("Its exact type is not written down")]
    if line.count is not None:
        count = number_text(line.count)
        if line.counted_on is None or line.counted_on == today:
            parts.append(_("{count} there").format(count=count))
        else:
            day = day_text(line.counted_on)
            parts.append(_("{count} there on {day}").format(count=count, day=day))
    if line.needed_by is not None:
        parts.append(
            _("order now")
            if line.needed_by <= today
            else _("order by {day}").format(day=day_text(line.needed_by))
        )
    return ", ".join(parts)


def reserve_text(strips: int) -> str:
    """That some strips are kept back."""
    return _("{strips} are kept back for a sick day.").format(strips=strips_text(strips))


# --- lancets and sharps ---------------------------------------------------------------------------


def lancet_never_shared() -> str:
    """The caution beside every lancet card."""
    return _("Never share a lancet or a lancing device with anyone.")


def lancet_reuse() -> str:
    """The usual caution for whoever uses a lancet several times."""
    return _("Makers ask for a new lancet for every check. A used one is blunt and not clean.")


def depth_text(depth_tenths: int) -> str:
    """The depth to set for a finger."""
    return _("Depth {depth} worked on this finger lately.").format(depth=depth_number(depth_tenths))


def depth_number(depth_tenths: int) -> str:
    """A number of the dial: "2", "2.5"."""
    is_whole = depth_tenths % 10 == 0
    return number_text(depth_tenths / 10, 0 if is_whole else 1)


def after_pain() -> str:
    """What helps the next time when a prick hurt. Common practice, no source."""
    return _("Other fingers come first for 3 days. Set the device one step shallower next time.")


def after_little_blood() -> str:
    """What helps when too little blood came. Common practice, no source."""
    return _("Next time wash warm and let the hand hang down. Then go one step deeper.")


def sharps_text(count: SharpsCount, today: date) -> str:
    """What went into the container, by the count; it never says that it is full."""
    container = count.container
    match count.state:
        case SharpsState.HANDED_IN if container.handed_in_on is not None:
            return _("Handed in on {day}.").format(day=day_text(container.handed_in_on))
        case SharpsState.CLOSED if container.closed_on is not None:
            return _("Closed on {day}. Hand it in as your local rules say.").format(
                day=day_text(container.closed_on)
            )
        case SharpsState.LOOK:
            return look_at_fill_line(count.total)
        case _:
            days = days_text(max(0, (today - container.started_on).days) + 1)
            return _("About {count} went in within {days}.").format(
                count=_sharps(count.total), days=days
            )


def look_at_fill_line(total: int) -> str:
    """From two thirds of the capacity on."""
    return _("About {count} went in. Look at the fill line; at three quarters, close it.").format(
        count=_sharps(total)
    )


def sharps_labels() -> list[str]:
    """How a container is labelled and where it never goes."""
    return [
        _("Label it: sharps, do not recycle. Keep the lid tight, away from children and pets."),
        _("Never in the recycling, never loose in the rubbish. Your local rules decide."),
    ]


def _sharps(count: int) -> str:
    return ngettext("{n} sharp", "{n} sharps", count).format(n=number_text(count))


# --- things for a low -----------------------------------------------------------------------------


def low_supply_text(one: LowSupplyState, today: date, *, with_name: bool = True) -> str:
    """One thing for lows: whether it is there, where, and until when."""
    supply = one.supply
    name = for_lows_text(supply.kind)
    if not supply.is_there:
        return _("{name}: not at hand.").format(name=name)
    parts = [_("{name}: at hand.").format(name=name)]
    if supply.place:
        parts = [_("{name}: {place}.").format(name=name, place=supply.place)]
    if not with_name:
        parts = [_("Kept here: {place}.").format(place=supply.place)] if supply.place else []
    if supply.expires is not None:
        day = supply.expires.last_day
        if one.state is LifeState.OUT_OF_DATE:
            parts.append(_("Out of date since {day}.").format(day=day_text(day)))
        elif one.state is LifeState.ENDS_SOON and (day - today).days <= WARNED_DAYS:
            parts.append(_("Ends {when}.").format(when=relative_day_text(day, today)))
        else:
            parts.append(_("Use until {day}.").format(day=day_text(day)))
    if supply.who_knows:
        parts.append(_("Knows how to use it: {name}.").format(name=supply.who_knows))
    return " ".join(parts)
