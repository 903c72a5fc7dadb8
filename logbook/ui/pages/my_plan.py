"""The page *My plan*: what was agreed with the provider, and how the person wants things to be.

This file holds the page and its list of subjects. Each subject has views of its own: targets in
`my_plan_targets`, `my_plan_published` and `my_plan_numbers`, the meter and the day in
`my_plan_meter`, when to check in `my_plan_checks` and what it names, fingers and lancets in
`my_plan_fingers`, what counts as repeating in `my_plan_findings` and `my_plan_day_groups`, people
and own texts in `my_plan_people`, medicines and periods in
`my_plan_medicines` and `my_plan_periods`, reminders in `my_plan_reminders`, what the program must
know in `my_plan_ticks`, this computer in `my_plan_computer` and `my_plan_sound`, files for other
programs in `my_plan_files`, a second computer and locked copies in `my_plan_sharing` and
`my_plan_locked`, copies in `my_plan_copies` and `my_plan_stick`.
"""

from __future__ import annotations

from collections.abc import Callable
from uuid import UUID

from logbook.book import Changed
from logbook.domain.plan.calendar_days import pause_on, plan_on
from logbook.domain.plan.plans import CheckPlan
from logbook.domain.targets import TargetKind
from logbook.domain.ticks import About
from logbook.report.options import Paper
from logbook.ui.desk import Desk
from logbook.ui.pages.my_plan_calendar import CalendarView
from logbook.ui.pages.my_plan_checks import ChecksView
from logbook.ui.pages.my_plan_checks_edit import ChecksEditView
from logbook.ui.pages.my_plan_checks_more import MealPairsView, SinceView, SpecialChecksView
from logbook.ui.pages.my_plan_checks_one import OneCheckView
from logbook.ui.pages.my_plan_computer import (
    ClockView,
    LanguageView,
    TextView,
    clock_kind_text,
    contrast_text,
    found_languages,
    language_text,
)
from logbook.ui.pages.my_plan_copies import COPIES_VIEWS
from logbook.ui.pages.my_plan_day_groups import DayGroupsView, DayGroupView
from logbook.ui.pages.my_plan_files import FILE_VIEWS
from logbook.ui.pages.my_plan_findings import limit_views
from logbook.ui.pages.my_plan_fingers import FingersView
from logbook.ui.pages.my_plan_helpers import (
    HelperPageView,
    HelpersView,
    HowKeptView,
    SimpleView,
    WritersView,
    helpers_state_text,
)
from logbook.ui.pages.my_plan_locked import LockedSheet
from logbook.ui.pages.my_plan_logs import LogsView
from logbook.ui.pages.my_plan_medicine_notes import MedicineNoteView
from logbook.ui.pages.my_plan_medicines import MedicinesView
from logbook.ui.pages.my_plan_meter import DayStartView, UnitView, VeryHighView
from logbook.ui.pages.my_plan_numbers import NumbersView, WhichChecksView, WhoseNumbersView
from logbook.ui.pages.my_plan_pause import PauseView
from logbook.ui.pages.my_plan_people import CountryView, NameView, OwnTextsView, PeopleView
from logbook.ui.pages.my_plan_periods import PeriodsView, PeriodView
from logbook.ui.pages.my_plan_published import PublishedView
from logbook.ui.pages.my_plan_reminders import RemindersView
from logbook.ui.pages.my_plan_schedules import SchedulesView
from logbook.ui.pages.my_plan_sharing import SHARING_VIEWS
from logbook.ui.pages.my_plan_sound import SoundView, sound_state_text
from logbook.ui.pages.my_plan_targets import (
    EarlierTargetsView,
    SourceView,
    TargetDraft,
    TargetsView,
)
from logbook.ui.pages.my_plan_ticks import A1CTicksView, MeterTicksView, TickDayView, TicksView
from logbook.ui.pages.my_plan_zone import ZoneView
from logbook.ui.pages.visit_paper import chosen_paper
from logbook.ui.parts.marks import draw_target
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.subjects import Subjects
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, ngettext
from logbook.wording.copies import copies_state_text
from logbook.wording.dates import clock_text
from logbook.wording.decided import shortened
from logbook.wording.numbers import number_text, percent_text, unit_text
from logbook.wording.plan import plan_count_text
from logbook.wording.sharing import to_choose_text
from logbook.wording.targets import not_agreed_text
from logbook.wording.terms import (
    rotation_habit_in_short,
    spell_text,
)

# A name takes no more than two lines below the word that stands over it.
_LONGEST_STATE = 30


class MyPlan(ViewPage):
    """A list of subjects; each opens its own view.

    `draft` is what is being asked about targets, `checks` the plan in the making and `check_number`
    the place of the check in it that is being changed; `day_group` the name of the days that are
    being changed, empty for new ones. `period_id` is the period being changed.
    """

    name = "my_plan"
    sign = staticmethod(draw_target)

    @staticmethod
    def label() -> str:
        return _("My plan")

    def __init__(self, desk: Desk) -> None:
        self.draft: TargetDraft | None = None
        self.checks: CheckPlan | None = None
        self.check_number = 0
        self.locked_sheet = LockedSheet(desk)
        self.day_group = ""
        self.period_id: UUID | None = None
        super().__init__(desk)
        self.locked_sheet.setParent(self)

    def go_back(self) -> None:
        is_from_visit = self.desk.is_after_visit and self.view.back == "home"
        super().go_back()
        if is_from_visit:
            self.desk.go_to("visit")

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        return {
            "home": HomeView,
            "targets": TargetsView,
            "targets_earlier": EarlierTargetsView,
            "targets_source": SourceView,
            "targets_published": PublishedView,
            "targets_which": WhichChecksView,
            "targets_numbers": NumbersView,
            "targets_whose": WhoseNumbersView,
            "checks": ChecksView,
            "checks_edit": ChecksEditView,
            "checks_one": OneCheckView,
            "checks_meals": MealPairsView,
            "checks_special": SpecialChecksView,
            "checks_since": SinceView,
            "checks_published": SchedulesView,
            "checks_pause": PauseView,
            "checks_calendar": CalendarView,
            "reminders": RemindersView,
            "very_high": VeryHighView,
            "unit": UnitView,
            "day_start": DayStartView,
            "fingers": FingersView,
            **limit_views(),
            "day_groups": DayGroupsView,
            "day_group": DayGroupView,
            "name": NameView,
            "helpers": HelpersView,
            "writers": WritersView,
            "helper_page": HelperPageView,
            "simple": SimpleView,
            "how_kept": HowKeptView,
            "logs": LogsView,
            "zone": ZoneView,
            "people": PeopleView,
            "country": CountryView,
            "texts": OwnTextsView,
            "medicines": MedicinesView,
            "medicine_note": MedicineNoteView,
            "know": TicksView,
            "know_meter": MeterTicksView,
            "know_a1c": A1CTicksView,
            "know_day": TickDayView,
            "periods": PeriodsView,
            "period": PeriodView,
            "text": TextView,
            "clock": ClockView,
            "sound": SoundView,
            "language": LanguageView,
            **FILE_VIEWS,
            **COPIES_VIEWS,
            **SHARING_VIEWS,
        }


class HomeView(View):
    """All subjects, each with how things stand there now."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.setSpacing(GAP - 2)  # a heading lies between any two rows of buttons
        self.buttons: dict[str, SubjectButton] = {}
        for heading, subjects in (
            (
                _("Me and my provider"),
                (
                    ("targets", _("Targets")),
                    ("checks", _("When to check")),
                    ("medicines", _("Medicines")),
                    ("people", _("People to phone")),
                    # Names of two lines, in one row.
                    ("know", _("What the program must know")),
                    ("texts", _("My own written plans")),
                    ("periods", _("Days that are not ordinary")),
                    ("name", _("My name")),
                ),
            ),
            (
                _("How I check and keep my log"),
                (
                    ("unit", _("Unit of my meter")),
                    ("fingers", _("Fingers and lancets")),
                    ("day_start", _("My day starts at")),
                    ("copies", _("Copies")),
                    ("helpers", _("Helpers")),
                ),
            ),
            (_("This computer"), self._of_computer()),
        ):
            self.column.addWidget(Paragraph(self.look, heading, "heading"))
            # More rows would make the page scroll.
            most, least_width = {3: (3, 13), 5: (5, 8), 6: (6, 6)}.get(len(subjects), (4, 10))
            group = Subjects(self.look, subjects, most=most, least_width=least_width)
            group.opened.connect(self.page.turn_to)
            self.buttons |= group.buttons
            self.column.addWidget(group)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What do you want to look at or change?")

    def refresh(self, changed: Changed | None) -> None:
        for name, text in self._states().items():
            if name in self.buttons:
                self.buttons[name].say(text if name == "unit" else text[:1].upper() + text[1:])

    def _of_computer(self) -> tuple[tuple[str, str], ...]:
        subjects = [
            ("text", _("Text and contrast")),
            ("clock", _("Clock and paper")),
            ("sound", _("Sound of a recheck")),
            ("files", _("Files for others")),
            ("sharing", _("Sharing")),
        ]
        if len(found_languages()) > 1:
            subjects.append(("language", _("Language")))
        return tuple(subjects)

    def _states(self) -> dict[str, str]:
        book, preferences = self.desk.book, self.desk.preferences
        settings = book.settings
        paper = chosen_paper(preferences.paper)
        return {
            "targets": self._targets(),
            "medicines": self._medicines(),
            "know": self._known(),
            "texts": self._texts(),
            "periods": self._periods(),
            "people": self._people(),
            "name": shortened(settings.person_name, _LONGEST_STATE) or _("not written down"),
            "checks": self._checks(),
            "unit": unit_text(settings.unit),
            "fingers": rotation_habit_in_short(settings.rotation_habit)
            if settings.tracks_fingers
            else _("not tracked"),
            "day_start": clock_text(settings.day_starts_at),
            "helpers": helpers_state_text(
                len(settings.helpers), has_simple_page=settings.has_simple_page
            ),
            "text": _("{percent}, {contrast}").format(
                percent=percent_text(preferences.text_percent),
                contrast=contrast_text(preferences.contrast),
            ),
            "clock": _("{clock}, {paper}").format(
                clock=clock_kind_text(),
                paper=_("letter") if paper is Paper.LETTER else _("A4"),
            ),
            "sound": sound_state_text(preferences.heard_ring),
            "language": language_text(preferences.language),
            "files": _("tables, FHIR"),
            "copies": copies_state_text(book.second_folder(), self.desk.now()),
            "sharing": to_choose_text(len(book.disagreements())) or _("second computer, stick"),
        }

    def _targets(self) -> str:
        held, today = self.desk.book.targets(), self.desk.today()
        found = [one for kind in TargetKind if (one := held.of_kind(kind, today)) is not None]
        if any(not one.is_agreed for one in found):
            return not_agreed_text()
        return _written_text(len(found)) or _("none agreed yet")

    def _checks(self) -> str:
        today, book = self.desk.today(), self.desk.book
        if pause_on(book.pauses(), today) is not None:
            return _("paused")
        held = plan_on(book.plans(), today)
        if held is None or not (held.checks or held.profile_days):
            return _("no plan yet")
        return plan_count_text(held)

    def _medicines(self) -> str:
        today = self.desk.today()
        count = sum(
            1
            for one in self.desk.book.medicines()
            if one.holds_until is None or one.holds_until >= today
        )
        return _written_text(count) or _("none written down")

    def _known(self) -> str:
        ticks, today = self.desk.book.ticks(), self.desk.today()
        count = sum(ticks.holds(about, today) for about in About)
        if count:
            return ngettext("{n} thing told", "{n} things told", count).format(n=number_text(count))
        is_asked = any(ticks.told(about, today) is not None for about in About)
        return _("none of them") if is_asked else _("nothing told yet")

    def _texts(self) -> str:
        settings = self.desk.book.settings
        names = [
            name
            for name, text in (
                (_("low"), settings.low_plan),
                (_("high"), settings.high_plan),
                (_("sick day"), settings.sick_day_plan),
            )
            if text.strip()
        ]
        return ", ".join(names) or _("none written down")

    def _periods(self) -> str:
        today = self.desk.today()
        now = [spell_text(one.kind) for one in self.desk.book.spells() if one.covers(today)]
        if len(now) > 1:
            return ngettext("{n} now", "{n} now", len(now)).format(n=number_text(len(now)))
        return now[0] if now else _("none now")

    def _people(self) -> str:
        people = [one for one in self.desk.book.contacts() if one.name or one.phone]
        if len(people) == 1 and people[0].name:
            return shortened(people[0].name, _LONGEST_STATE)
        return _written_text(len(people)) or _("none written down")


def _written_text(count: int) -> str:
    """So many of them; empty for none."""
    if not count:
        return ""
    return ngettext("{n} written down", "{n} written down", count).format(n=number_text(count))
