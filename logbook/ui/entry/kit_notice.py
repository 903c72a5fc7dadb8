"""The one thing of the kit that matters most now, as a notice with the button that settles it."""

from __future__ import annotations

from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_line import KitAction, kit_line
from logbook.domain.moments import Moment, Period
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.domain.punctures import puncture_moments
from logbook.domain.travel import meter_clock_since
from logbook.ui.desk import Desk
from logbook.ui.entry.notices import Answered, Notice
from logbook.ui.entry.travel_notice import last_zone_change
from logbook.wording import _
from logbook.wording.kit_line import kit_line_text
from logbook.wording.kit_terms import kit_action_text

PAGE = "kit"
# Where each action is done; a lancet is changed on the page of the fingers.
_PLACES = {
    KitAction.SHOW_WHAT_TO_DO: f"{PAGE}/home",
    KitAction.OPEN_NEXT: f"{PAGE}/next_vial",
    KitAction.COUNT_AGAIN: f"{PAGE}/count",
    KitAction.CONTROL_TEST: f"{PAGE}/test",
    KitAction.NEW_BOTTLE: f"{PAGE}/bottle",
    KitAction.NEW_LANCET: "fingers/lancet",
    KitAction.CLOSE_CONTAINER: f"{PAGE}/home",
    KitAction.CHECK_CLOCK: f"{PAGE}/clock",
    KitAction.SHOW_FOR_LOWS: f"{PAGE}/low_supplies",
    KitAction.SHOW_REFILL: f"{PAGE}/refill",
}


def kit_notice(desk: Desk, now: Moment) -> Notice | None:
    """What of the kit waits, or None; nothing where the window has no page for it."""
    if PAGE not in desk.page_names:
        return None
    book, today = desk.book, desk.today()
    kit = book.kit()
    line = kit_line(
        kit,
        book.settings,
        now,
        book.answers(),
        punctured_at=punctures_counted(desk, kit),
        plan_strips_a_day=plan_strips_a_day(book.plans(), today),
        elsewhere_since=meter_clock_since(last_zone_change(desk, now), now),
    )
    if line is None:
        return None
    place = _PLACES[line.action]
    if line.meter_id is not None and place.startswith(PAGE):
        place = f"{place}:{line.meter_id}"
    text = kit_line_text(line, kit, today)
    return Notice(
        short=text,
        text=text,
        details=(),
        about=line.about,
        choices=(
            (Answered.DO_IT, kit_action_text(line.action)),
            (Answered.KIT_LATER, _("Not today")),
        ),
        place=place,
    )


def punctures_counted(desk: Desk, kit: KitData) -> list[Moment]:
    """The punctures since the last lancet or the start of the container, or more of them."""
    today = desk.today()
    begins = [one.started_on for one in kit.sharps_containers if one.closed_on is None]
    begins += [one.at.wall.date() for one in kit.lancet_changes[-1:]]
    if not begins:
        return []
    days = Period(min(*begins, today), today)
    book = desk.book
    return puncture_moments(book.readings(days), book.happenings(days))
