"""The page *Kit*: strips, control solution, lancets, meters, sharps, things for a low, stock.

This file holds the page and its cards. What each card leads to is in `kit_strips`, `kit_control`,
`kit_meters` and `kit_things`. Every state and date is told by the domain (`domain.kit`).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from uuid import UUID

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.kit.control_due import due_reasons, standing_of
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.kit_line import KitAction
from logbook.domain.kit.low_supplies import lacks_glucagon, low_supply_states
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import stock_outlooks
from logbook.domain.kit.sharps import SharpsContainer, container_in_use, sharps_count
from logbook.domain.kit.strip_accounts import account_of
from logbook.domain.kit.vial_life import life_of, stock_vials, vial_in_use
from logbook.domain.moments import Moment
from logbook.ui.desk import Desk
from logbook.ui.entry.kit_notice import punctures_counted
from logbook.ui.pages.kit_control import BottleView, ControlTestView
from logbook.ui.pages.kit_meters import MeterEventView
from logbook.ui.pages.kit_strips import CountView, NextVialView, VialView
from logbook.ui.pages.kit_things import ContainerView, LowSupplyView
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.flow import Flow
from logbook.ui.parts.marks import draw_case
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage, clear_layout
from logbook.wording import _
from logbook.wording.kit import (
    lancet_never_shared,
    left_text,
    low_supply_text,
    sharps_labels,
    sharps_text,
    stock_text,
    strips_text,
    use_until_text,
)
from logbook.wording.kit_control import (
    due_text,
    never_a_reading,
    next_step_text,
    no_control_solution,
    standing_text,
)
from logbook.wording.kit_terms import kit_action_text


class Kit(ViewPage):
    """`meter_id` is the meter whose strips or tests are being looked at; None for the only one."""

    name = "kit"
    sign = staticmethod(draw_case)

    @staticmethod
    def label() -> str:
        return _("Kit")

    def __init__(self, desk: Desk) -> None:
        self.meter_id: UUID | None = None
        self.opens_to_stock = False
        super().__init__(desk)

    def open_part(self, part: str) -> None:
        """A part of the page; "count:" and an id is the count of that meter's strips."""
        name, _colon, meter = part.partition(":")
        self.meter_id = UUID(meter) if meter else None
        self.opens_to_stock = False
        super().open_part(name)

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        return {
            "home": HomeView,
            "next_vial": NextVialView,
            "vial": VialView,
            "count": CountView,
            "test": ControlTestView,
            "bottle": BottleView,
            "meter": MeterEventView,
            "container": ContainerView,
            "low_supply": LowSupplyView,
        }


class HomeView(View):
    """A card for each thing: how it stands, its next date, and one or two buttons."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._place = QVBoxLayout()
        self.column.addLayout(self._place)
        self.column.addStretch(1)
        self._cards = Columns(self.look, most=2, least_width=19)
        self._place.addWidget(self._cards)

    def title(self) -> str:
        return _("Is the kit fit?")

    def refresh(self, changed: Changed | None) -> None:
        clear_layout(self._place)
        self._cards = Columns(self.look, most=2, least_width=19)
        self._place.addWidget(self._cards)
        kit, now = self.desk.book.kit(), self.desk.now()
        today = self.desk.today()
        meters: list[UUID | None] = [meter.id for meter in own_meters(kit.meters, today)]
        for meter_id in meters or [None]:
            self._add_strips(kit, meter_id)
            self._add_control(kit, meter_id, now)
        self._add_sharps(kit)
        self._add_for_lows(kit)
        self._add_stock(kit, now)
        for card in self._cards.findChildren(Card):
            card.column.addStretch(1)

    # --- cards ------------------------------------------------------------------------------------

    def _card(
        self, heading: str, texts: list[str], buttons: list[tuple[str, str, UUID | None]]
    ) -> Card:
        """A card of sentences and of buttons; each button is its words, its view and its meter."""
        card = Card(self.look, heading)
        for text in texts:
            if text:
                card.column.addWidget(Paragraph(self.look, text))
        row = QWidget()
        flow = Flow(row)
        for words, view, meter_id in buttons:
            button = BigButton(self.look, words)
            button.describe(heading)
            button.setProperty("view", view)
            button.setProperty("meter", "" if meter_id is None else str(meter_id))
            button.clicked.connect(self._go)
            flow.addWidget(button)
        card.column.addWidget(row)
        self._cards.add(card)
        return card

    def _named(self, heading: str, kit: KitData, meter_id: UUID | None) -> str:
        """The heading, with the meter's name where there are several."""
        own = own_meters(kit.meters, self.desk.today())
        name = next((meter.name for meter in own if meter.id == meter_id), "")
        if len(own) < 2 or not name:
            return heading
        return _("{what}: {meter}").format(what=heading, meter=name)

    def _add_strips(self, kit: KitData, meter_id: UUID | None) -> None:
        vial, today = vial_in_use(meter_id, kit), self.desk.today()
        heading = self._named(_("Strips"), kit, meter_id)
        if vial is None:
            texts = [_("No strip pot (vial) is written down as open.")]
            self._card(heading, texts, [(_("Write down the open pot"), "vial", meter_id)])
            return
        texts = [left_text(account_of(vial, kit)), use_until_text(life_of(vial), today)]
        self._card(
            heading,
            texts,
            [
                (kit_action_text(KitAction.OPEN_NEXT), "next_vial", meter_id),
                (kit_action_text(KitAction.COUNT_AGAIN), "count", meter_id),
            ],
        )

    def _add_control(self, kit: KitData, meter_id: UUID | None, now: Moment) -> None:
        settings = self.desk.book.settings
        heading = self._named(_("Control solution"), kit, meter_id)
        if not settings.has_control_solution:
            card = self._card(heading, [no_control_solution()], [])
            self._add_button(card, _("I have control solution now"), self._toggle_control)
            return
        standing = standing_of(meter_id, kit, settings)
        reasons = due_reasons(meter_id, kit, settings, now)
        texts = [
            standing_text(standing, now),
            due_text(reasons) if reasons else "",
            next_step_text(standing),
        ]
        texts += [
            _("Bottle, level {level}: {until}").format(
                level=bottle.level, until=use_until_text(life_of(bottle), self.desk.today())
            )
            for bottle in kit.bottles
            if bottle.ended_on is None
        ]
        card = self._card(
            heading,
            [*texts, never_a_reading()],
            [
                (_("Control test"), "test", meter_id),
                (_("New bottle"), "bottle", meter_id),
                (_("The meter"), "meter", meter_id),
            ],
        )
        if not kit.control_tests:
            self._add_button(card, _("I have no control solution"), self._toggle_control)

    def _add_sharps(self, kit: KitData) -> None:
        container = container_in_use(kit.sharps_containers)
        heading = _("Sharps container")
        if container is None:
            texts = [_("None is in use."), lancet_never_shared()]
            card = self._card(heading, texts, [(_("Start a container"), "container", None)])
        else:
            count = sharps_count(
                container,
                kit.lancet_changes,
                punctures_counted(self.desk, kit),
                self.desk.book.settings,
                self.desk.today(),
            )
            texts = [sharps_text(count, self.desk.today()), *sharps_labels()]
            card = self._card(heading, texts, [])
            self._add_button(card, _("I closed it"), self._close_container)
        if _closed_container(kit) is not None:
            card.column.addWidget(Paragraph(self.look, _("A closed one waits to be handed in.")))
            self._add_button(card, _("I handed it in"), self._hand_in)

    def _add_button(self, card: Card, words: str, slot: Callable[[], None]) -> None:
        button = BigButton(self.look, words)
        button.describe(card.accessibleName())
        button.clicked.connect(slot)
        row = QHBoxLayout()
        row.addWidget(button)
        row.addStretch(1)
        card.column.addLayout(row)

    def _add_for_lows(self, kit: KitData) -> None:
        today = self.desk.today()
        texts = [low_supply_text(one, today) for one in low_supply_states(kit, today)]
        if lacks_glucagon(kit, self.desk.book.ticks(), today):
            texts.append(_("No glucagon is written down. Ask your provider whether to have it."))
        self._card(
            _("For lows"),
            texts or [_("Nothing is written down yet: tablets, glucagon, ketone strips.")],
            [(_("Add or change"), "low_supply", None)],
        )

    def _add_stock(self, kit: KitData, now: Moment) -> None:
        settings, today = self.desk.book.settings, self.desk.today()
        texts = []
        for outlook in stock_outlooks(kit, settings, now):
            unopened = stock_vials(outlook.meter_id, kit)
            strips = sum(vial.count for vial in unopened)
            texts.append(
                self._named(
                    _("Unopened: {strips}").format(strips=strips_text(strips)),
                    kit,
                    outlook.meter_id,
                )
            )
            texts.append(stock_text(outlook, today))
        self._card(_("Stock"), texts, [(_("Add an unopened pot"), "stock", None)])

    # --- buttons ----------------------------------------------------------------------------------

    def _go(self) -> None:
        page, sender = self.page, self.sender()
        assert isinstance(page, Kit)
        meter = str(sender.property("meter"))
        page.meter_id = UUID(meter) if meter else None
        view = str(sender.property("view"))
        page.opens_to_stock = view == "stock"
        page.turn_to("vial" if view == "stock" else view)

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
        container = _closed_container(self.desk.book.kit())
        if container is not None:
            handed_in = replace(container, handed_in_on=self.desk.today())
            self.desk.write(self.desk.book.replace, handed_in)
            self.setFocus()


def _closed_container(kit: KitData) -> SharpsContainer | None:
    """The one that was closed last and waits to be handed in."""
    closed = [
        one
        for one in kit.sharps_containers
        if one.closed_on is not None and one.handed_in_on is None
    ]
    return closed[-1] if closed else None
