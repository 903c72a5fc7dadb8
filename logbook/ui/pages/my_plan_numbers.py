"""Views of *My plan*: writing targets down: which checks, which numbers, whose, from when."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.domain.errors import LogbookError
from logbook.domain.glucose import Glucose, Unit
from logbook.domain.guidelines import needs_caution, targets_of
from logbook.domain.levels import LOW_BELOW
from logbook.domain.targets import Limit, Limits, Operator, SetBy, Target, TargetKind
from logbook.ui.pages.my_plan_published import caution_text, lows_today, printed_text
from logbook.ui.pages.my_plan_targets import TargetDraft, plan_of
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.numbers import steps_text, unit_text
from logbook.wording.problems import problem_text
from logbook.wording.targets import not_agreed_text
from logbook.wording.terms import target_kind_text
from logbook.wording.typed_days import Toward

_NO_LIMIT = "none"


class WhichChecksView(View):
    """One pair of numbers often holds for several kinds of check."""

    back = "targets_source"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        rows.add_words(_("Choose every kind of check that has the same numbers."))
        self.kinds: Choice = rows.add_choice(
            _("Checks"),
            [(kind, target_kind_text(kind)) for kind in TargetKind],
            columns=1,
            several=True,
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which checks are the numbers for?")

    def main_text(self) -> str:
        return _("Go on")

    def do_main(self) -> None:
        kinds = self.kinds.value
        if not kinds:
            self.desk.say(_("Choose at least one kind of check."))
            return
        plan_of(self.page).draft = TargetDraft(dict.fromkeys(kinds, ()))
        self.page.turn_to("targets_numbers")


class NumbersView(View):
    """Lowest and highest, each with what its number means; either may be missing."""

    back = "targets_which"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        unit = self.desk.book.settings.unit
        rows = Form(self.look)
        self.lowest_kind: Choice = rows.add_choice(
            _("The lowest number"),
            [
                (Operator.AT_LEAST, _("At least")),
                (Operator.ABOVE, _("Above")),
                (_NO_LIMIT, _("No lowest number")),
            ],
            Operator.AT_LEAST,
            columns=3,
        )
        self.lowest: TextField = rows.add_text(_("Lowest"))
        self.highest_kind: Choice = rows.add_choice(
            _("The highest number"),
            [
                (Operator.AT_MOST, _("At most")),
                (Operator.BELOW, _("Below")),
                (_NO_LIMIT, _("No highest number")),
            ],
            Operator.AT_MOST,
            columns=3,
        )
        self.highest: TextField = rows.add_text(_("Highest"))
        self.unit: Choice = rows.add_choice(
            _("Unit of the numbers on your paper"), [(one, unit_text(one)) for one in Unit], unit
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)
        for choice in (self.unit, self.lowest_kind, self.highest_kind):
            choice.chosen.connect(self._show)
        self._show()

    def title(self) -> str:
        draft = plan_of(self.page).draft
        kinds = [] if draft is None else list(draft.printed)
        return _("Which numbers? {kinds}").format(
            kinds=", ".join(target_kind_text(kind) for kind in kinds)
        )

    def main_text(self) -> str:
        return _("Go on")

    @property
    def is_changed(self) -> bool:
        return bool(self.lowest.text() or self.highest.text())

    def first_field(self) -> TextField:
        return self.lowest

    def do_main(self) -> None:
        unit = self.unit.value
        problems: list[tuple[TextField, str]] = []
        lower = self._limit(self.lowest_kind, self.lowest, unit, problems)
        upper = self._limit(self.highest_kind, self.highest, unit, problems)
        if not problems and lower is None and upper is None:
            problems.append((self.lowest, _("There is no number yet. Write at least one of them.")))
        if lower is not None and upper is not None and lower.steps >= upper.steps:
            problems.append(
                (
                    self.lowest,
                    _("The lowest, {lower}, is not under the highest, {upper}.").format(
                        lower=steps_text(lower.steps, unit), upper=steps_text(upper.steps, unit)
                    ),
                )
            )
        if not self.show_problems((self.lowest, self.highest), problems):
            return
        plan = plan_of(self.page)
        if plan.draft is None:
            self.page.turn_to("targets_which")
            return
        limits = (Limits(unit, lower, upper),)
        plan.draft = replace(plan.draft, printed=dict.fromkeys(plan.draft.printed, limits))
        self.page.turn_to("targets_whose")

    def _limit(
        self, kind: Choice, field: TextField, unit: Unit, problems: list[tuple[TextField, str]]
    ) -> Limit | None:
        if kind.value == _NO_LIMIT:
            return None
        try:
            steps = Glucose.parse(field.text(), unit).steps
        except LogbookError as error:
            problems.append((field, problem_text(error)))
            return None
        return None if steps is None else Limit(kind.value, steps)

    def _show(self) -> None:
        for kind, field in ((self.lowest_kind, self.lowest), (self.highest_kind, self.highest)):
            field.row.setVisible(kind.value != _NO_LIMIT)
            field.setAccessibleDescription(unit_text(self.unit.value))
        unit = unit_text(self.unit.value)
        self.lowest_kind.label.setText(_("The lowest number, in {unit}").format(unit=unit))
        self.highest_kind.label.setText(_("The highest number, in {unit}").format(unit=unit))


class WhoseNumbersView(View):
    """Who gave them, and from which day they hold. For published ones only the day is asked."""

    back = "targets"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.draft = plan_of(page).draft or TargetDraft({})
        point = self.draft.point
        today = self.desk.today()
        rows = Form(self.look)
        for kind, printed in self.draft.printed.items():
            rows.add_words(
                _("{kind}: {limits}").format(
                    kind=target_kind_text(kind),
                    limits=printed_text(printed),
                ),
                "heading",
            )
        for words in self._doubts():
            rows.add_words(words)
        self.who: TextField | None = None
        if point is None:
            self.who = rows.add_text(
                _("Name of the provider who gave them (can be left out)"), self._provider()
            )
        else:
            rows.add_words(
                _("These numbers are {remark}. Take them to your next visit.").format(
                    remark=not_agreed_text()
                )
            )
        self.day = DayField(
            self.look,
            _("From which day do they hold?"),
            today,
            value=self.desk.changes_from,
            toward=Toward.PAST,
        )
        rows.add_widget(self.day)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        if self.draft.point is not None:
            return _("From which day on?")
        return _("Whose numbers are these?")

    def main_text(self) -> str:
        return _("Save targets")

    def do_main(self) -> None:
        problem = self.day.problem()
        if not self.show_problems([self.day], [(self.day, problem)] if problem else []):
            return
        day = self.day.day()
        assert day is not None
        now = self.desk.now().instant
        targets: tuple[Target, ...]
        if self.draft.point is not None:
            targets = targets_of(self.draft.point, day, now)
        else:
            targets = tuple(
                Target(
                    uuid4(),
                    kind,
                    printed,
                    day,
                    SetBy.PROVIDER,
                    set_by_name=self.who.text().strip() if self.who is not None else "",
                    source=self.draft.source,
                    edition=self.draft.edition,
                    written_at=now,
                )
                for kind, printed in self.draft.printed.items()
            )
        if not targets or self.desk.write(self.desk.book.add, *targets) is None:
            return
        kinds = ", ".join(target_kind_text(target.kind) for target in targets)
        plan = plan_of(self.page)
        plan.draft = None
        plan.forget("targets_numbers")
        self.page.turn_to(
            "targets",
            message=_("Saved: targets for {kinds}, from {day}.").format(
                kinds=kinds, day=day_text(day)
            ),
        )

    def _doubts(self) -> list[str]:
        """What is worth a second look before these numbers are saved."""
        settings = self.desk.book.settings
        point = self.draft.point
        found = []
        if point is not None and needs_caution(point, can_have_lows=lows_today(self.desk)):
            found.append(caution_text())
        printed = [limits for each in self.draft.printed.values() for limits in each]
        for limits in printed:
            lower = limits.lower
            if lower is not None and lower.steps < LOW_BELOW[limits.unit]:
                words = _("{number} lies in the low range. Look at your paper once more.")
                found.append(words.format(number=steps_text(lower.steps, limits.unit)))
        if printed and all(limits.unit is not settings.unit for limits in printed):
            words = _("Your meter shows {unit}. Readings will not be judged by these numbers.")
            found.append(words.format(unit=unit_text(settings.unit)))
        return list(dict.fromkeys(found))

    def _provider(self) -> str:
        contacts = self.desk.book.contacts()
        return next((one.name for one in contacts if one.role == "provider"), "")
