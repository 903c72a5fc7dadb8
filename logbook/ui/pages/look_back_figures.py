"""A view of *Look back*: figures by time of day, of all readings, the plan, and two stretches."""

from __future__ import annotations

from datetime import date

from logbook.domain.comparison import (
    Compared,
    compare_with_before,
    split_summary,
)
from logbook.domain.figures import LEAST_FOR_SPREAD, Share
from logbook.domain.moments import Period
from logbook.domain.plan.done import PlanDone, plan_done
from logbook.domain.summary import Summary, summarise
from logbook.domain.turning_points import splitting_day, turning_points
from logbook.ui.pages.look_back_figure_parts import AllPart, SlotsPart
from logbook.ui.pages.look_back_looking import Looked, Looking
from logbook.ui.pages.look_back_pairs import TablePart
from logbook.ui.pages.look_back_plan import PlanPart
from logbook.ui.pages.look_back_ways import WaysView
from logbook.ui.pages.look_back_words import (
    change_sentences,
    slot_in_two_lines,
)
from logbook.ui.parts.view_page import ViewPage
from logbook.wording import _
from logbook.wording.dates import month_day_text, period_text
from logbook.wording.numbers import (
    NOTHING,
    count_of_text,
    figure_text,
    lows_text,
    number_text,
    unit_text,
)

# A change is told apart from its day on, however few days there are: few checks say so themselves.
_LEAST_DAYS_BESIDE = 1


class FiguresView(WaysView):
    """Tables; those of the plan and of two stretches are there when they have something to show."""

    name = "figures"
    says_days = True

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page, looking)
        self.split_day: date | None = None
        self.before: Summary | None = None
        self.done: PlanDone | None = None
        self.slots = SlotsPart(self.look)
        self.all = AllPart(self.look)
        self.plan = PlanPart(self.look)
        self.split = TablePart(self.look, _("Before and after a change as a table"))
        self.earlier = TablePart(self.look, _("These days and the days before as a table"))
        self.add_way("slots", _("By time of day"), self.slots)
        self.add_way("all", _("All readings"), self.all)
        self.add_way("plan", _("Your plan"), self.plan)
        self.add_way("split", _("Before and after"), self.split)
        self.add_way("earlier", _("The days before"), self.earlier)
        self.lay_out_ways()

    def title(self) -> str:
        return _("What are the figures?")

    # --- reading ------------------------------------------------------------------------------

    def read(self) -> Looked:
        looked, book = super().read(), self.desk.book
        points = turning_points(looked.period, looked.targets, looked.medicines, looked.spells)
        self.split_day = splitting_day(points, looked.period, _LEAST_DAYS_BESIDE)
        before, settings = looked.period.before, looked.settings
        found = summarise(
            book.series(before),
            before,
            settings,
            looked.targets,
            book.happenings(before),
            looked.answers,
        )
        self.before = found if found.readings.count else None
        facts = book.plan_facts(looked.period)
        done = plan_done(facts, looked.series, looked.period, settings, self.desk.now())
        self.done = done if done.total.of else None
        return looked

    def has_way(self, way: str) -> bool:
        if way == "split":
            return self.split_day is not None
        if way == "plan":
            return self.done is not None
        return self.before is not None if way == "earlier" else True

    def empty_text(self, way: str) -> str:
        assert self.looked is not None
        if self.looked.summary.readings.count or way == "plan":
            return ""
        return _("There are no readings in these days.")

    # --- showing ------------------------------------------------------------------------------

    def fill(self, way: str) -> None:
        looked = self.looked
        assert looked is not None
        if way == "slots":
            self.slots.show_looked(looked)
        elif way == "all":
            self.all.show_looked(looked)
        elif way == "plan":
            assert self.done is not None
            self.plan.show_done(self.done)
        elif way == "split":
            self._fill_split(looked)
        else:
            self._fill_earlier(looked)

    def _fill_split(self, looked: Looked) -> None:
        assert self.split_day is not None
        two = split_summary(
            looked.series,
            looked.period,
            self.split_day,
            looked.settings,
            looked.targets,
            looked.happenings,
            looked.answers,
        )
        day = month_day_text(self.split_day)
        changed = " ".join(change_sentences(looked, Period(self.split_day, self.split_day)))
        note = _("Before: up to the day before {day}. After: from {day} on. {changed}").format(
            day=day, changed=changed
        )
        self._fill_two(self.split, two.after, two.before, (_("before"), _("after")), note)

    def _fill_earlier(self, looked: Looked) -> None:
        assert self.before is not None
        note = _("Before: {before}. Now: {now}.").format(
            before=period_text(self.before.period), now=period_text(looked.period)
        )
        names = (_("before"), _("now"))
        self._fill_two(self.earlier, looked.summary, self.before, names, note)

    def _fill_two(
        self,
        part: TablePart,
        now: Summary,
        before: Summary,
        names: tuple[str, str],
        note: str,
    ) -> None:
        unit = unit_text(now.unit)
        heads = [_("Time of day")]
        for form in (
            _("Checks\n{which}"),
            _("Middle value\n{which}\n{unit}"),
            _("In target\n{which}"),
        ):
            heads += [form.format(which=name, unit=unit) for name in names]
        lows = _("Lows before: {before}. Lows after: {after}.").format(
            before=lows_text(len(before.lows)), after=lows_text(len(now.lows))
        )
        part.show_rows(
            heads,
            [_two_columns(row, now) for row in compare_with_before(now, before)],
            f"{note} {lows} {too_few_note()}",
        )


def too_few_note() -> str:
    """What a dash in a table means."""
    return _("{dash} stands where fewer than {n} checks are too few to tell.").format(
        dash=NOTHING, n=number_text(LEAST_FOR_SPREAD)
    )


def _two_columns(row: Compared, now: Summary) -> tuple[str, ...]:
    def middle(value: float | None, count: int) -> str:
        told = value if count >= LEAST_FOR_SPREAD else None
        return figure_text(told, now.unit, with_unit=False)

    return (
        _("All readings") if row.slot is None else slot_in_two_lines(row.slot),
        number_text(row.count_before),
        number_text(row.count),
        middle(row.median_before, row.count_before),
        middle(row.median, row.count),
        _count_text(row.in_target_before),
        _count_text(row.in_target),
    )


def _count_text(share: Share) -> str:
    return count_of_text(share.part, share.of) if share.of else NOTHING
