"""Views of *Kit*: a sharps container that is begun, and what is kept at hand for a low."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.domain.errors import BadMoment
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.ui.pages.kit_strips import read_printed, whole_number
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit_terms import for_lows_text
from logbook.wording.problems import problem_text

_MOST_SHARPS = 10_000


class ContainerView(View):
    """A container that is begun today."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.capacity: TextField = rows.add_text(
            _("How many sharps does it hold?"),
            help_text=_("Up to its fill line. It can be left out."),
        )
        rows.add_words(_("Lancets are counted. How full it is, only you can see."))
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which container do you start?")

    def main_text(self) -> str:
        return _("Start it today")

    @property
    def is_changed(self) -> bool:
        return bool(self.capacity.text().strip())

    def do_main(self) -> None:
        desk, problems = self.desk, []
        capacity = None
        if self.capacity.text().strip():
            capacity = whole_number(self.capacity, 1, _MOST_SHARPS)
            if capacity is None:
                problems.append((self.capacity, _("Write a number from 1 to 10,000.")))
        if not self.show_problems((self.capacity,), problems):
            return
        container = SharpsContainer(uuid4(), desk.today(), desk.now().instant, capacity)
        if desk.write(desk.book.add, container) is not None:
            self.capacity.clear()
            self.page.turn_to("home", message=_("The container is counted from today."))


class LowSupplyView(View):
    """One thing for a low: where it is, until when, and who knows how to use it."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.kind: Choice = rows.add_choice(
            _("What is it?"),
            [(kind, for_lows_text(kind)) for kind in ForLows],
            ForLows.GLUCOSE_TABLETS,
        )
        self.place: TextField = rows.add_text(_("Where is it kept?"))
        self.printed: TextField = rows.add_text(
            _("Printed date"), help_text=_("For example 03/2027. It can be left out.")
        )
        self.who: TextField = rows.add_text(
            _("Who knows how to use it?"), help_text=_("For glucagon. It can be left out.")
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What do you keep for a low?")

    def main_text(self) -> str:
        return _("Keep it")

    @property
    def is_changed(self) -> bool:
        return bool(self.place.text().strip() or self.printed.text().strip())

    def do_main(self) -> None:
        desk = self.desk
        problems: list[tuple[TextField, str]] = []
        expires = None
        try:
            expires = read_printed(desk, self.printed)
        except BadMoment as error:
            problems.append((self.printed, problem_text(error)))
        if not self.show_problems((self.printed,), problems):
            return
        kind = self.kind.value or ForLows.OTHER
        supply = LowSupply(
            uuid4(),
            kind,
            desk.now().instant,
            place=self.place.text().strip(),
            expires=expires,
            who_knows=self.who.text().strip(),
        )
        before = [
            replace(one, ended_on=desk.today())
            for one in desk.book.kit().low_supplies
            if one.kind is kind and one.ended_on is None and kind is not ForLows.OTHER
        ]
        if desk.write(desk.book.keep, supply, *before) is not None:
            for field in (self.place, self.printed, self.who):
                field.clear()
            self.page.turn_to("home", message=_("It is written down."))
