"""The view of *My plan* for reminders: what comes next, and how this computer reminds."""

from __future__ import annotations

from datetime import time
from typing import Any

from PySide6.QtWidgets import QVBoxLayout

from logbook.book import Changed
from logbook.domain.answers import Said
from logbook.domain.errors import LogbookError
from logbook.preferences import Preferences
from logbook.ui.autostart import (
    can_start_with_computer,
    is_started_with_computer,
    start_with_computer,
)
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import TimeField
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import ViewPage, clear_layout
from logbook.ui.reminders import quiet_hours, read_reminders
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.reminders import reminder_line
from logbook.wording.terms import said_text

_DAYS_AHEAD = 14
_SHOWN = 6


class RemindersView(EditedView):
    """The next reminders, then the choices; a tile holds at once."""

    back = "checks"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.setSpacing(GAP)
        self.column.addWidget(Paragraph(self.look, _("Next:"), "heading"))
        self._list = QVBoxLayout()
        self._list.setSpacing(GAP // 2)
        self.column.addLayout(self._list)
        yes_no = [(Said.YES, said_text(Said.YES)), (Said.NO, said_text(Said.NO))]
        tiles = Columns(self.look, most=3, least_width=10, gap=2 * GAP)
        self.outside = Choice(self.look, _("Also outside this window?"), yes_no)
        self.sound = Choice(self.look, _("With a sound?"), yes_no)
        self.start = Choice(self.look, _("Start with the computer?"), yes_no)
        for choice in (self.outside, self.sound, self.start):
            tiles.add(choice)
        if not can_start_with_computer():
            tiles.leave_out(self.start)
        self.column.addWidget(tiles)
        preferences = self.desk.preferences
        times = Columns(self.look, most=2, least_width=14, gap=2 * GAP)
        self.quiet_from = TimeField(self.look, _("Quiet from"), _clock(preferences, "quiet_from"))
        self.quiet_until = TimeField(self.look, _("until"), _clock(preferences, "quiet_until"))
        for field in (self.quiet_from, self.quiet_until):
            times.add(field.row)
            field.textEdited.connect(self._edit)
        self.column.addWidget(times)
        form = Form(self.look)
        form.add_words(
            _("They come while this program is open. A check after a low is never quiet.")
        )
        self.column.addWidget(form)
        self.column.addStretch(1)
        self.outside.chosen.connect(self._take_outside)
        self.sound.chosen.connect(self._take_sound)
        self.start.chosen.connect(self._take_start)

    def title(self) -> str:
        return _("How do you want to be reminded?")

    def main_text(self) -> str:
        return _("Save quiet hours")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._list)
        now = self.desk.now()
        found = [
            one
            for one in read_reminders(self.desk, now, _DAYS_AHEAD)
            if one.fact is None or not one.fact.is_day_before  # its own day is in the list too
        ]
        for one in found[:_SHOWN]:
            words = reminder_line(one, now, self.desk.book.settings.day_starts_at)
            self._list.addWidget(Paragraph(self.look, words))
        if not found:
            self._list.addWidget(Paragraph(self.look, _("Nothing in the next 2 weeks.")))
        preferences = self.desk.preferences
        self.outside.choose(_said(preferences.reminds_outside))
        self.sound.choose(_said(preferences.reminds_with_sound))
        self.start.choose(_said(is_started_with_computer()))

    def do_main(self) -> None:
        fields = (self.quiet_from, self.quiet_until)
        problems: list[tuple[Any, str]] = [
            (field, text) for field in fields if (text := field.problem())
        ]
        if not problems and bool(fields[0].text().strip()) != bool(fields[1].text().strip()):
            empty = next(field for field in fields if not field.text().strip())
            problems.append((empty, _("Write both times, or leave both empty.")))
        if not self.show_problems(fields, problems):
            return
        begin, end = (field.time() for field in fields)
        self._is_edited = False
        self.desk.prefer(
            quiet_from="" if begin is None else begin.isoformat("minutes"),
            quiet_until="" if end is None else end.isoformat("minutes"),
        )
        self.desk.say(quiet_text(self.desk.preferences))

    def _take_outside(self, said: Said) -> None:
        self.desk.prefer(reminds_outside=said is Said.YES)
        self.desk.say(
            _("Reminders come on the desktop too, where it shows them.")
            if said is Said.YES
            else _("Reminders come in this window only.")
        )

    def _take_sound(self, said: Said) -> None:
        self.desk.prefer(reminds_with_sound=said is Said.YES)
        self.desk.say(
            _("Reminders come with a sound.")
            if said is Said.YES
            else _("Reminders come without a sound.")
        )

    def _take_start(self, said: Said) -> None:
        is_wanted = said is Said.YES
        try:
            start_with_computer(self.desk.book.path, is_wanted=is_wanted)
        except (OSError, LogbookError):
            self.desk.say(_("This could not be kept. Nothing else changed."))
        else:
            self.desk.say(
                _("The program opens when the computer starts.")
                if is_wanted
                else _("The program no longer opens by itself.")
            )
        self.start.choose(_said(is_started_with_computer()))


def quiet_text(preferences: Preferences) -> str:
    """The quiet hours as a sentence."""
    quiet = quiet_hours(preferences)
    if quiet is None:
        return _("There are no quiet hours.")
    return _("Quiet from {begin} to {end}.").format(
        begin=clock_text(quiet.begin), end=clock_text(quiet.end)
    )


def _said(is_so: bool) -> Said:
    return Said.YES if is_so else Said.NO


def _clock(preferences: Preferences, name: str) -> time | None:
    text = getattr(preferences, name)
    try:
        return time.fromisoformat(text) if text else None
    except ValueError:
        return None
