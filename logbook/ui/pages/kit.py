"""The page *Kit*: strips, control solution, lancets, meters, sharps, things for a low, stock.

This file holds the page and its first view. What its cards say is in `kit_cards`; what they lead to
is in `kit_strips`, `kit_vial`, `kit_control`, `kit_results`, `kit_meters`, `kit_meter_events`,
`kit_things` and `kit_refill`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from uuid import UUID

from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.kit.meter_care import MeterWhat
from logbook.domain.kit.sharps import container_in_use
from logbook.ui.desk import Desk
from logbook.ui.pages.kit_cards import (
    CLOSE_CONTAINER,
    ELSEWHERE,
    HAND_IN,
    HAVE_CONTROL,
    CardNews,
    closed_container,
    kit_cards,
    kit_now,
)
from logbook.ui.pages.kit_control import BottleView, ControlTestView
from logbook.ui.pages.kit_meter_events import ComparisonView, MeterEventView
from logbook.ui.pages.kit_meters import MetersView, MeterView
from logbook.ui.pages.kit_refill import (
    OrderingView,
    PrintRefillView,
    RefillPaper,
    RefillView,
    SaveRefillView,
    SupplyView,
)
from logbook.ui.pages.kit_results import ControlResultsView
from logbook.ui.pages.kit_strips import CountView, NextVialView
from logbook.ui.pages.kit_things import ContainerView, LowSuppliesView, LowSupplyView
from logbook.ui.pages.kit_vial import VialView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.flow import Flow
from logbook.ui.parts.marks import draw_case
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.wording import _


class Kit(ViewPage):
    """`meter_id` is the meter whose strips or tests are looked at, None for the only one.

    `chosen_id` is the meter, the thing for lows or the supply that is changed, None for a new one.
    """

    name = "kit"
    sign = staticmethod(draw_case)

    @staticmethod
    def label() -> str:
        return _("Kit")

    def __init__(self, desk: Desk) -> None:
        self.meter_id: UUID | None = None
        self.chosen_id: UUID | None = None
        self.paper = RefillPaper(desk)
        super().__init__(desk)
        self.paper.setParent(self)

    def open_part(self, part: str) -> None:
        """A part of the page; "count:" and an id is the count of that meter's strips."""
        name, _colon, meter = part.partition(":")
        self.meter_id = UUID(meter) if meter else None
        self.chosen_id = None
        super().open_part(name)

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        return {
            "home": HomeView,
            "next_vial": NextVialView,
            "vial": VialView,
            "stock_vial": partial(VialView, is_unopened=True),
            "count": CountView,
            "test": ControlTestView,
            "bottle": BottleView,
            "results": ControlResultsView,
            "meter": MeterEventView,
            "clock": partial(MeterEventView, what=MeterWhat.CLOCK_CHECKED),
            "meters": MetersView,
            "one_meter": MeterView,
            "compare": ComparisonView,
            "container": ContainerView,
            "low_supplies": LowSuppliesView,
            "low_supply": LowSupplyView,
            "refill": RefillView,
            "supply": SupplyView,
            "ordering": OrderingView,
            "print": PrintRefillView,
            "save": SaveRefillView,
        }


class HomeView(View):
    """A card for each thing: how it stands, its next date, and its buttons."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._place = QVBoxLayout()
        self.column.addLayout(self._place)
        self.column.addStretch(1)
        self._cards = self._new_cards()
        self._do = {
            CLOSE_CONTAINER: self._close_container,
            HAND_IN: self._hand_in,
            HAVE_CONTROL: self._toggle_control,
        }

    def title(self) -> str:
        return _("Is the kit fit?")

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            news = list(kit_cards(kit_now(self.desk)))
        except LogbookError as error:
            self.desk.told(error)
            return
        clear_layout(self._place)
        self._cards = self._new_cards()
        for one in news:
            self._add(one)

    def _new_cards(self) -> Columns:
        cards = Columns(self.look, most=2, least_width=19)
        self._place.addWidget(cards)
        return cards

    def _add(self, news: CardNews) -> None:
        card = Card(self.look, news.heading)
        for text in news.texts:
            card.column.addWidget(Paragraph(self.look, text))
        row = QWidget()
        flow = Flow(row)
        for one in news.buttons:
            button = BigButton(self.look, one.words)
            button.describe(news.heading)
            button.setProperty("place", one.place)
            button.setProperty("meter", "" if one.meter_id is None else str(one.meter_id))
            button.clicked.connect(self._go)
            flow.addWidget(button)
        card.column.addWidget(row)
        card.column.addStretch(1)
        self._cards.add(card)

    # --- buttons ----------------------------------------------------------------------------------

    def _go(self) -> None:
        page, sender = self.page, self.sender()
        assert isinstance(page, Kit)
        place, meter = str(sender.property("place")), str(sender.property("meter"))
        if place in self._do:
            self._do[place]()
        elif place.startswith(ELSEWHERE):
            self.desk.go_to(place.removeprefix(ELSEWHERE))
        else:
            page.meter_id = UUID(meter) if meter else None
            page.chosen_id = None
            page.turn_to(place)

    def _toggle_control(self) -> None:
        settings = self.desk.book.settings
        other = replace(settings, has_control_solution=not settings.has_control_solution)
        self.desk.write(self.desk.book.save_settings, other)
        self.setFocus()

    def _close_container(self) -> None:
        container = container_in_use(self.desk.book.kit().sharps_containers)
        if container is not None:
            closed = replace(container, closed_on=self.desk.today())
            self.desk.write(self.desk.book.replace, closed)
            self.setFocus()

    def _hand_in(self) -> None:
        container = closed_container(self.desk.book.kit())
        if container is not None:
            handed_in = replace(container, handed_in_on=self.desk.today())
            self.desk.write(self.desk.book.replace, handed_in)
            self.setFocus()
