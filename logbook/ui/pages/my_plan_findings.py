"""Views of *My plan*: from where on *Look back* and the report say that something repeats."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from logbook.book import Changed
from logbook.domain.findings.limits import (
    limit_of,
    own_limits,
    usual_limit,
    with_usual_limits,
)
from logbook.domain.glucose import Unit
from logbook.domain.settings import LogSettings
from logbook.ui.pages.my_plan_settings import SettingsView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _, mark
from logbook.wording.finding_limits import (
    compared_days_text,
    days_back_text,
    high_limits_text,
    limit_choice_text,
    limit_question,
    low_limits_text,
    near_low_limits_text,
    pair_limits_text,
)

# What the tiles offer; one that the log holds besides is offered too.
_OFFERED: dict[str, dict[Unit, tuple[int, ...]]] = {
    name: dict.fromkeys(Unit, values)
    for name, values in {
        "finding_days": (14, 28, 56, 91),
        "low_repeat_count": (2, 3, 4),
        "low_repeat_days": (7, 14, 28),
        "near_low_count": (2, 3, 4, 5),
        "near_low_days": (7, 14, 28),
        "high_least_readings": (5, 7, 10, 14),
        "pairs_needed": (3, 5, 7),
        "after_meal_from_minutes": (60, 90),
    }.items()
} | {
    "high_margin": {Unit.MG_DL: (10, 20, 30, 40), Unit.MMOL_L: (6, 11, 17, 22)},
    "meal_rise_above": {Unit.MG_DL: (30, 40, 50, 60), Unit.MMOL_L: (17, 22, 28, 33)},
    "overnight_fall_from": {Unit.MG_DL: (30, 40, 50, 60), Unit.MMOL_L: (17, 22, 28, 33)},
}


@dataclass(frozen=True, slots=True)
class _Subject:
    """One kind of finding: its name, how its limits stand, what it is, and the limits."""

    name: str
    state: Callable[[LogSettings], str]
    words: str
    limits: tuple[str, ...]


_SUBJECTS = {
    "lows": _Subject(
        mark("Lows close together"),
        low_limits_text,
        mark("One very low number, or a low at night, is told at once, whatever you choose here."),
        ("low_repeat_count", "low_repeat_days"),
    ),
    "near_lows": _Subject(
        mark("Close to low"),
        near_low_limits_text,
        mark("Checks before breakfast, at bedtime and at night that were close to a low."),
        ("near_low_count", "near_low_days"),
    ),
    "highs": _Subject(
        mark("Above target"),
        high_limits_text,
        mark("A time of day is told when at least half of its checks were above target."),
        ("high_least_readings", "high_margin"),
    ),
    "pairs": _Subject(
        mark("Meals and nights"),
        pair_limits_text,
        mark("They are told when at least half of them rose, or fell, by so much."),
        ("pairs_needed", "meal_rise_above", "overnight_fall_from", "after_meal_from_minutes"),
    ),
    "days": _Subject(
        mark("How far back"),
        days_back_text,
        mark(
            "Highs, meals and nights are looked for in these days. A low before them was “earlier”."
        ),
        ("finding_days",),
    ),
}

_VIEW = "limits_{name}"


def limit_views() -> dict[str, Callable[[ViewPage], View]]:
    """The makers of these views, by name."""
    return {
        "limits": LimitsView,
        **{_VIEW.format(name=name): partial(LimitView, name=name) for name in _SUBJECTS},
    }


class LimitsView(View):
    """All kinds, each with its limits as they are; and the way back to the usual ones."""

    back = "targets"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.addWidget(
            Paragraph(
                self.look,
                _("From these limits on, Look back and the report say that something repeats."),
            )
        )
        self.column.addWidget(
            Paragraph(self.look, _("Ask your provider before you change one. No reading changes."))
        )
        self.buttons: dict[str, SubjectButton] = {}
        columns = Columns(self.look, most=2, least_width=14)
        names = {_VIEW.format(name=name): subject.name for name, subject in _SUBJECTS.items()}
        for name, text in {**names, "day_groups": mark("Days that are compared")}.items():
            button = SubjectButton(self.look, _(text))
            button.setProperty("view", name)
            button.clicked.connect(self._go)
            self.buttons[name] = button
            columns.add(button)
        self.column.addWidget(columns)
        self.usual = BigButton(self.look, _("Back to the usual limits"))
        self.usual.describe(_("Weekend and named days stay as they are"))
        self.usual.clicked.connect(self._take_usual)
        self.column.addWidget(self.usual)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("When does something repeat?")

    def refresh(self, changed: Changed | None) -> None:
        settings = self.desk.book.settings
        for name, subject in _SUBJECTS.items():
            text = subject.state(settings)
            self.buttons[_VIEW.format(name=name)].say(text[:1].upper() + text[1:])
        days = compared_days_text(settings)
        self.buttons["day_groups"].say(days[:1].upper() + days[1:])
        self.usual.setVisible(bool(own_limits(settings)))

    def _go(self) -> None:
        self.page.turn_to(str(self.sender().property("view")))

    def _take_usual(self) -> None:
        wanted = with_usual_limits(self.desk.book.settings)
        if self.desk.write(self.desk.book.save_settings, wanted) is not None:
            self.desk.say(_("The usual limits hold again."))
            self.setFocus()


class LimitView(SettingsView):
    """The limits of one kind of finding, as tiles with the usual one marked."""

    back = "limits"

    def __init__(self, page: ViewPage, name: str) -> None:
        super().__init__(page)
        self._subject = _SUBJECTS[name]
        self.rows.add_words(_(self._subject.words))
        unit = self.settings.unit
        for limit in self._subject.limits:
            own = limit_of(self.settings, limit)
            values = sorted({*_OFFERED[limit][unit], own, usual_limit(unit, limit)})
            options = [(value, limit_choice_text(limit, value, unit)) for value in values]
            self.add_setting(limit, limit_question(limit), options, columns=min(5, len(options)))

    def title(self) -> str:
        return _(self._subject.name)

    def saved_text(self, field: str) -> str:
        return _("From now on: {limits}.").format(limits=self._subject.state(self.settings))

    def refresh(self, changed: Changed | None) -> None:
        for limit, choice in self.choices.items():
            choice.choose(limit_of(self.settings, limit))

    def wanted(self, field: str, value: Any) -> LogSettings:
        # The usual one stays the usual one: it follows the unit of the log.
        is_usual = value == usual_limit(self.settings.unit, field)
        given: dict[str, Any] = {field: getattr(LogSettings(), field) if is_usual else value}
        return replace(self.settings, **given)
