"""Views of *My plan*: the targets that hold now, those before, and where new ones come from.

Writing numbers down is in `my_plan_numbers`. The past keeps the targets it had: a change holds from
a day on, and no view changes one that held before.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING
from uuid import uuid4

from PySide6.QtWidgets import QVBoxLayout

from logbook.book import Changed
from logbook.domain.guidelines import (
    StartingPoint,
)
from logbook.domain.levels import VERY_HIGH_ABOVE
from logbook.domain.targets import Limits, SetBy, Target, TargetKind
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.numbers import steps_text
from logbook.wording.targets import (
    not_agreed_text,
    since_text,
    span_text,
    target_in_both_units,
    who_set_text,
)
from logbook.wording.terms import target_kind_text

if TYPE_CHECKING:
    from logbook.ui.desk import Desk
    from logbook.ui.pages.my_plan import MyPlan


@dataclass(frozen=True, slots=True)
class TargetDraft:
    """Targets that are being asked about: limits by kind, and the published row they are from."""

    printed: dict[TargetKind, tuple[Limits, ...]]
    point: StartingPoint | None = None
    source: str = ""
    edition: str = ""


def plan_of(page: ViewPage) -> MyPlan:
    """The page *My plan*, which keeps the draft between its views."""
    plan: MyPlan = page  # type: ignore[assignment]
    return plan


class TargetsView(View):
    """Each kind of check with its target, who set it and since when."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._list = QVBoxLayout()
        self._list.setSpacing(2 * GAP)
        self.column.addLayout(self._list)
        self.agree = BigButton(self.look, _("My provider agrees with these numbers")).let_wrap()
        self.agree.clicked.connect(self._agree)
        self.column.addWidget(self.agree)
        self._ways = Columns(self.look, most=2, least_width=14)
        self.very_high = BigButton(self.look, "").let_wrap()
        self.very_high.clicked.connect(self._to_very_high)
        self.earlier = BigButton(self.look, _("Show earlier targets")).let_wrap()
        self.earlier.clicked.connect(self._to_earlier)
        self.repeats = BigButton(self.look, _("When does something repeat?")).let_wrap()
        self.repeats.describe(_("The limits from which on Look back tells it"))
        self.repeats.clicked.connect(self._to_limits)
        for button in (self.very_high, self.repeats, self.earlier):
            self._ways.add(button)
        self.column.addWidget(self._ways)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Your targets")

    def main_text(self) -> str:
        return _("Change targets")

    def do_main(self) -> None:
        self.page.turn_to("targets_source")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        held = self._held()
        settings = self.desk.book.settings
        if not held:
            words = _("No targets yet. Only very low, low and very high are named.")
            self._list.addWidget(Paragraph(self.look, words))
        columns = Columns(self.look, most=2, least_width=18)
        for target in held:
            columns.add(self._card(target))
        self._list.addWidget(columns)
        coming = self._coming()
        if coming:
            self._list.addWidget(Paragraph(self.look, _("Later"), "heading"))
            later = Columns(self.look, most=2, least_width=18)
            for target in coming:
                later.add(self._card(target))
            self._list.addWidget(later)
        self._ways.leave_out(*(() if earlier_targets(self.desk) else (self.earlier,)))
        self.agree.setVisible(any(not target.is_agreed for target in held))
        steps = settings.very_high_above or VERY_HIGH_ABOVE[settings.unit]
        self.very_high.setText(
            _("Very high: above {number}. Change it").format(
                number=steps_text(steps, settings.unit)
            )
        )

    def _held(self) -> list[Target]:
        book, today = self.desk.book.targets(), self.desk.today()
        held = [book.of_kind(kind, today) for kind in TargetKind]
        return [target for target in held if target is not None]

    def _coming(self) -> list[Target]:
        book, today = self.desk.book.targets(), self.desk.today()
        return [
            target
            for kind in TargetKind
            for target in book.ever_held(kind)
            if target.holds_from > today
        ]

    def _card(self, target: Target) -> Card:
        unit = self.desk.book.settings.unit
        card = Card(self.look, target_kind_text(target.kind))
        card.column.addWidget(Paragraph(self.look, target_in_both_units(target, unit)))
        card.column.addWidget(
            Paragraph(
                self.look,
                _("{who}, {since}").format(who=who_set_text(target), since=since_text(target)),
            )
        )
        if not target.is_agreed:
            card.column.addWidget(Paragraph(self.look, not_agreed_text(), "heading"))
        if target.printed and target.limits_in(unit) is None:
            words = _("Your meter shows {unit}. Readings are not judged by this target.")
            card.column.addWidget(Paragraph(self.look, words.format(unit=unit.value)))
        card.column.addStretch(1)
        return card

    def _agree(self) -> None:
        held = [target for target in self._held() if not target.is_agreed]
        if held:
            plan_of(self.page).draft = TargetDraft(
                {target.kind: target.printed for target in held},
                source=held[0].source,
                edition=held[0].edition,
            )
            self.page.turn_to("targets_whose")

    def _to_limits(self) -> None:
        self.page.turn_to("limits")

    def _to_very_high(self) -> None:
        self.page.turn_to("very_high")

    def _to_earlier(self) -> None:
        self.page.turn_to("targets_earlier")


def earlier_targets(desk: Desk) -> dict[TargetKind, list[tuple[Target, Target]]]:
    """Targets that hold no more, each with the one that followed it, the latest first."""
    book, today = desk.book.targets(), desk.today()
    found = {}
    for kind in TargetKind:
        over = [
            (target, following)
            for target, following in pairwise(book.ever_held(kind))
            if following.holds_from <= today and target.printed
        ]
        if over:
            found[kind] = over[::-1]
    return found


class EarlierTargetsView(View):
    """What held before, from when to when, and who set it: the past is judged by it."""

    back = "targets"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.addWidget(
            Paragraph(self.look, _("Readings of those days are judged by these numbers."))
        )
        cards = Columns(self.look, most=2, least_width=18)
        unit = self.desk.book.settings.unit
        for kind, over in earlier_targets(self.desk).items():
            card = Card(self.look, target_kind_text(kind))
            for target, following in over:
                line = _("{limits}, {days}. {who}.").format(
                    limits=target_in_both_units(target, unit),
                    days=span_text(target, following),
                    who=who_set_text(target),
                )
                card.column.addWidget(Paragraph(self.look, line))
            card.column.addStretch(1)
            cards.add(card)
        self.column.addWidget(cards)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Your earlier targets")


class SourceView(View):
    """The provider's numbers first, then not knowing, and published ones last."""

    back = "targets"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        for name, state, slot in (
            (
                _("My provider gave me these numbers"),
                _("You need the numbers, and the day from which they hold."),
                self._to_numbers,
            ),
            (
                _("I don't know yet"),
                _("Then only very low, low and very high are named."),
                self._take_none,
            ),
            (
                _("Show me published starting points"),
                _("From guidelines, for you to take to your provider. They are not agreed yet."),
                self._to_published,
            ),
        ):
            button = SubjectButton(self.look, name, state)
            button.clicked.connect(slot)
            self.column.addWidget(button)
        self.column.addWidget(
            Paragraph(self.look, _("Earlier readings keep the targets that they had."))
        )
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Where do your targets come from?")

    def _to_numbers(self) -> None:
        plan_of(self.page).draft = None
        self.page.turn_to("targets_which")

    def _to_published(self) -> None:
        self.page.turn_to("targets_published")

    def _take_none(self) -> None:
        """From today on nothing is judged by a target; what held before stays for those days."""
        today, now = self.desk.today(), self.desk.now().instant
        book = self.desk.book
        ended = [
            Target(uuid4(), kind, (), today, SetBy.SELF, written_at=now)
            for kind in TargetKind
            if book.targets().of_kind(kind, today) is not None
        ]
        if ended and self.desk.write(book.add, *ended) is None:
            return
        self.page.turn_to(
            "targets",
            message=_("From today, no targets. Ask your provider for yours at the next visit."),
        )
