"""A view of *My plan*: the clock of another place, where the computer's own was not changed."""

from __future__ import annotations

from zoneinfo import available_timezones

from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.moments import Moment
from logbook.domain.travel import place_name
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.wording import _
from logbook.wording.dates import clock_text
from logbook.wording.travel import travel_details

_MOST_SHOWN = 9
_LEAST_LETTERS = 3
# The names by continent are the places; others are old spellings and bare offsets.
_WITH_PLACES = ("Africa", "America", "Asia", "Atlantic", "Australia", "Europe", "Indian", "Pacific")


class ZoneView(View):
    """The computer's clock, or that of a place whose first letters are typed."""

    back = "clock"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows = Form(self.look)
        self.rows.add_words(
            _("Usually the computer knows. Choose a place only where its clock shows another time.")
        )
        self.used = self.rows.add_words("", "heading")
        self.own = BigButton(self.look, _("Use the computer's clock"), ButtonKind.TALL)
        self.own.clicked.connect(self._use_own)
        self.rows.add_widget(self.own)
        self.place: TextField = self.rows.add_text(
            _("A large city there"), help_text=_("Type its first letters, in English.")
        )
        self.place.textEdited.connect(self._offer)
        self._panel = QWidget()
        self._grid = EvenGrid(3)
        self._panel.setLayout(self._grid)
        self.rows.add_widget(self._panel)
        for text in travel_details():
            self.rows.add_words(text)
        self.column.addWidget(self.rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which clock do you go by?")

    def first_field(self) -> TextField:
        return self.place

    def refresh(self, changed: Changed | None) -> None:
        told = self.desk.preferences.zone
        now = self.desk.now()
        if told:
            text = _("The clock of {place}: {time}.").format(
                place=place_name(told), time=clock_text(now)
            )
        else:
            text = _("The computer's clock: {time}.").format(time=clock_text(now))
        self.used.say(text)
        self.own.setVisible(bool(told))

    def _offer(self, text: str) -> None:
        clear_layout(self._grid)
        now = self.desk.now()
        for zone in places_like(text)[:_MOST_SHOWN]:
            there = clock_text(Moment.at(now.instant, zone))
            button = BigButton(
                self.look,
                _("{place}, now {time}").format(place=place_name(zone), time=there),
                ButtonKind.TILE,
            )
            button.setProperty("zone", zone)
            button.clicked.connect(self._use)
            self._grid.addWidget(button)
        self.page.update_head()

    def _use(self) -> None:
        zone = str(self.sender().property("zone"))
        self._keep(zone)
        self.place.clear()
        self._offer("")
        self.desk.say(_("You go by the clock of {place} now.").format(place=place_name(zone)))

    def _use_own(self) -> None:
        self._keep("")
        self.desk.say(_("You go by the computer's clock now."))

    def _keep(self, zone: str) -> None:
        self.desk.prefer(zone=zone)
        # Today may be another day now, and the plan another hour.
        self.desk.manner_changed.emit()


def places_like(text: str) -> list[str]:
    """The zones whose place begins with `text`, by place; empty for fewer than three letters."""
    wanted = text.strip().casefold()
    if len(wanted) < _LEAST_LETTERS:
        return []
    found = [
        zone
        for zone in available_timezones()
        if zone.partition("/")[0] in _WITH_PLACES and place_name(zone).casefold().startswith(wanted)
    ]
    return sorted(found, key=lambda zone: (place_name(zone), zone))
