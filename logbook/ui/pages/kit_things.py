"""Views of *Kit*: a sharps container that is begun, and what is kept at hand for a low."""

from __future__ import annotations

from dataclasses import replace
from uuid import UUID, uuid4

from logbook.book import Changed
from logbook.domain.errors import BadMoment
from logbook.domain.kit.low_supplies import low_supply_states
from logbook.domain.kit.sharps import SharpsContainer
from logbook.domain.kit.supplies import ForLows, LowSupply
from logbook.ui.pages.kit_strips import kit_of, read_printed, whole_number
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit import low_supply_text, sharps_labels
from logbook.wording.kit_terms import for_lows_text
from logbook.wording.problems import problem_text
from logbook.wording.typed_printed_dates import typed_printed_text

_MOST_SHARPS = 10_000
_MOST_NEEDLES = 20


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
        self.counted: TextField = rows.add_text(_("Sharps that are in it already"), "0")
        needles = self.desk.book.settings.pen_needles_a_day
        self.needles: TextField = rows.add_text(
            _("Pen needles a day"), str(needles), help_text=_("0 when you use none.")
        )
        rows.add_words(_("Lancets are counted. How full it is, only you can see."))
        for sentence in sharps_labels():
            rows.add_words(sentence)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which container do you start?")

    def main_text(self) -> str:
        return _("Start it today")

    def first_field(self) -> TextField:
        return self.capacity

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
        counted = whole_number(self.counted, 0, _MOST_SHARPS)
        if counted is None:
            problems.append((self.counted, _("Write a number from 0 to 10,000.")))
        needles = whole_number(self.needles, 0, _MOST_NEEDLES)
        if needles is None:
            problems.append((self.needles, _("Write a number from 0 to 20.")))
        fields = (self.capacity, self.counted, self.needles)
        if not self.show_problems(fields, problems) or counted is None or needles is None:
            return
        settings = desk.book.settings
        if needles != settings.pen_needles_a_day:
            changed = replace(settings, pen_needles_a_day=needles)
            if desk.write(desk.book.save_settings, changed) is None:
                return
        container = SharpsContainer(
            uuid4(), desk.today(), desk.now().instant, capacity, counted=counted
        )
        if desk.write(desk.book.add, container) is not None:
            self.capacity.clear()
            self.page.turn_to("home", message=_("The container is counted from today."))


class LowSuppliesView(View):
    """All that is kept for a low; each leads to its own view."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._none = Paragraph(
            self.look, _("Glucose tablets, and glucagon if you have it, are worth writing down.")
        )
        self.column.addWidget(self._none)
        self._buttons = Columns(self.look, most=1)
        self.column.addWidget(self._buttons)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What do you keep for a low?")

    def main_text(self) -> str:
        return _("Add something")

    def refresh(self, changed: Changed | None) -> None:
        self._buttons.clear()
        today = self.desk.today()
        states = low_supply_states(self.desk.book.kit(), today)
        for one in states:
            button = SubjectButton(
                self.look,
                for_lows_text(one.supply.kind),
                low_supply_text(one, today, with_name=False),
            )
            button.setProperty("supply", str(one.supply.id))
            button.clicked.connect(self._open)
            self._buttons.add(button)
        self._none.setVisible(not states)

    def _open(self) -> None:
        kit_of(self.page).chosen_id = UUID(str(self.sender().property("supply")))
        self.page.turn_to("low_supply")

    def do_main(self) -> None:
        kit_of(self.page).chosen_id = None
        self.page.turn_to("low_supply")


class LowSupplyView(EditedView):
    """One thing for a low: where it is, until when, and who knows how to use it."""

    back = "low_supplies"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        wanted, kept = kit_of(page).chosen_id, self.desk.book.kit().low_supplies
        self._known = next((one for one in kept if one.id == wanted), None)
        known = self._known
        rows = Form(self.look)
        self.kind: Choice = rows.add_choice(
            _("What is it?"),
            [(kind, for_lows_text(kind)) for kind in ForLows],
            ForLows.GLUCOSE_TABLETS if known is None else known.kind,
        )
        self.place: TextField = rows.add_text(
            _("Where is it kept?"), "" if known is None else known.place
        )
        self.printed: TextField = rows.add_text(
            _("Printed date"),
            typed_printed_text(None if known is None else known.expires),
            help_text=_("For example 03/2027. It can be left out."),
        )
        self.who: TextField = rows.add_text(
            _("Who knows how to use it?"),
            "" if known is None else known.who_knows,
            help_text=_("For glucagon. It can be left out."),
        )
        if known is not None:
            gone = BigButton(self.look, _("It is used up or thrown away"))
            gone.describe(for_lows_text(known.kind))
            gone.clicked.connect(self._end)
            place = Columns(self.look, most=2, least_width=16)
            place.add(gone)
            rows.add_widget(place)
        for field in (self.place, self.printed, self.who):
            field.textEdited.connect(self._edit)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        if self._known is None:
            return _("What do you add for a low?")
        return _("What has changed about it?")

    def main_text(self) -> str:
        return _("Keep it")

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
        supply = replace(
            self._known or LowSupply(uuid4(), kind, desk.now().instant),
            kind=kind,
            place=self.place.text().strip(),
            expires=expires,
            who_knows=self.who.text().strip(),
        )
        if desk.write(desk.book.keep, supply) is not None:
            self._is_edited = False
            self.page.turn_to("home", message=_("It is written down."))

    def _end(self) -> None:
        if self._known is None:
            return
        ended = replace(self._known, ended_on=self.desk.today())
        if self.desk.write(self.desk.book.replace, ended) is not None:
            self._is_edited = False
            self.page.turn_to("home", message=_("It is no longer on your list."))
