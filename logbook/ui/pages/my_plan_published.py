"""A view of *My plan*: published starting points for targets, by state of health in plain words.

Each row tells where it stands and what it is not: agreed with the person's own provider.
"""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtWidgets import QVBoxLayout

from logbook.domain.guidelines import (
    STARTING_POINTS,
    Health,
    StartingPoint,
    needs_caution,
    starting_points,
)
from logbook.domain.targets import Limits
from logbook.domain.ticks import can_have_lows
from logbook.ui.desk import Desk
from logbook.ui.pages.my_plan_targets import TargetDraft, plan_of
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.targets import limits_text
from logbook.wording.terms import target_kind_text

_ANY_ADULT = "any_adult"


class PublishedView(View):
    """Rows that guidelines print, by state of health, each with where it stands."""

    back = "targets_source"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.health = Choice(
            self.look,
            _("How is your health?"),
            [
                (Health.GOOD, _("Good: few lasting illnesses, mind and daily life as ever")),
                (
                    Health.SEVERAL_ILLNESSES,
                    _("Several lasting illnesses, or some help in daily life, or some forgetting"),
                ),
                (
                    Health.POOR,
                    _("Very ill, or in a care home, or much help needed, or much forgetting"),
                ),
                (_ANY_ADULT, _("Show what is printed for adults of any age")),
            ],
            shows_label=False,
        )
        self.health.chosen.connect(self._show)
        self.column.addWidget(self.health)
        self._rows = QVBoxLayout()
        self._rows.setSpacing(2 * GAP)
        self.column.addLayout(self._rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("How is your health?")

    def _show(self) -> None:
        clear_layout(self._rows)
        points = self._points()
        if not points:
            words = _("No table with your unit is known here for this.")
            self._rows.addWidget(Paragraph(self.look, words))
        for point in points:
            self._rows.addWidget(self._card(point))
        self.page.update_head()

    def _points(self) -> list[StartingPoint]:
        unit, health = self.desk.book.settings.unit, self.health.value
        lows = lows_today(self.desk)
        if health == _ANY_ADULT:
            found = starting_points(unit, can_have_lows=lows)
            return [point for point in found if point.health is None]
        return list(starting_points(unit, health, can_have_lows=lows))

    def _card(self, point: StartingPoint) -> Card:
        card = Card(
            self.look, _("{body}, {edition}").format(body=point.body, edition=point.edition)
        )
        for line in point_lines(point):
            card.column.addWidget(Paragraph(self.look, line))
        card.column.addWidget(Paragraph(self.look, point.source))
        if needs_caution(point, can_have_lows=lows_today(self.desk)):
            card.column.addWidget(Paragraph(self.look, caution_text(), "heading"))
        button = BigButton(self.look, _("Take these numbers"))
        button.describe(card.heading.text())
        button.setProperty("code", point.code)
        button.clicked.connect(self._take)
        card.column.addWidget(button)
        return card

    def _take(self) -> None:
        code = self.sender().property("code")
        point = next(point for point in STARTING_POINTS if point.code == code)
        printed = {kind: one.limits for one in point.printed for kind in one.kinds}
        plan_of(self.page).draft = TargetDraft(printed, point=point)
        self.page.turn_to("targets_whose")


def lows_today(desk: Desk) -> bool | None:
    """Whether the medicines of today can cause lows; None where nobody knows."""
    return can_have_lows(desk.book.ticks(), desk.book.settings, desk.today())


def caution_text() -> str:
    """Beside a row without a floor, or with a low one, for people who can have lows."""
    return _("This row is meant for people whose medicines do not cause lows. Ask your provider.")


def point_lines(point: StartingPoint) -> list[str]:
    """The targets of a published row: "Bedtime: 80 to 180 mg/dL (4.4 to 10.0 mmol/L)"."""
    return [
        _("{kind}: {limits}").format(kind=target_kind_text(kind), limits=printed_text(one.limits))
        for one in point.printed
        for kind in one.kinds
    ]


def printed_text(printed: Sequence[Limits]) -> str:
    """The limits in each unit in which they were given: "80 to 130 mg/dL (4.4 to 7.2 mmol/L)"."""
    first, *others = (limits_text(limits) for limits in printed)
    return (
        _("{limits} ({other})").format(limits=first, other=", ".join(others)) if others else first
    )
