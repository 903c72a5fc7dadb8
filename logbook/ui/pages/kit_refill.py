"""Views of *Kit*: the refill list on screen and on paper, supplies, and when to order."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import partial
from uuid import UUID, uuid4

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.refill import RefillList, refill_list
from logbook.domain.kit.supplies import Supply, SupplyKind
from logbook.domain.plan.strips import plan_strips_a_day
from logbook.report.options import ReportOptions
from logbook.ui.desk import Desk
from logbook.ui.pages.kit_cards import meter_name
from logbook.ui.pages.kit_strips import kit_of, whole_number
from logbook.ui.pages.visit_out import PrintView, SaveView
from logbook.ui.pages.visit_paper import ReportPaper
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.edited_view import EditedView
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.dates import day_text
from logbook.wording.kit import only_what_fits, refill_name, refill_state, reserve_text
from logbook.wording.kit_terms import supply_kind_text
from logbook.wording.numbers import days_text
from logbook.wording.typed_days import Toward

_MOST = 10_000
_MOST_RESERVE = 500
_MOST_DELIVERY = 90


def lines_now(desk: Desk) -> RefillList:
    """The refill list as the log tells it now."""
    book, now = desk.book, desk.now()
    kit = book.kit()
    plan = plan_strips_a_day(book.plans(), desk.today())
    lines = refill_list(kit, book.settings, now, plan)
    named = tuple((line, meter_name(kit, line.meter_id)) for line in lines)
    return RefillList(book.settings.person_name, named, now)


class RefillPaper(ReportPaper):
    """The list as a paper, which follows the log."""

    @property
    def name(self) -> str:
        return _("Refill list {day}").format(day=day_text(self._desk.today()))

    @property
    def making_text(self) -> str:
        return _("Making the list ...")

    def note_given_out(self) -> None:
        """Nothing follows: it is no report for a visit."""

    def job(self) -> Callable[[Course], bytes]:
        return partial(_make, lines_now(self._desk), self.options)


def _make(wanted: RefillList, options: ReportOptions, _course: Course) -> bytes:
    from logbook.report.refill_paper import refill_paper

    return refill_paper(wanted, options)


class RefillView(View):
    """Each line leads to where its type and number are written down."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.column.addWidget(Paragraph(self.look, only_what_fits()))
        self._lines = Columns(self.look, most=1)
        self.column.addWidget(self._lines)
        self.ordering = SubjectButton(self.look, _("When to order"))
        self.ordering.clicked.connect(self._open_ordering)
        self.add = BigButton(self.look, _("Add something to the list"))
        self.add.clicked.connect(self._add)
        self.save = BigButton(self.look, _("Save as PDF"))
        self.save.describe(_("Refill list"))
        self.save.clicked.connect(self._save)
        self._others = Columns(self.look, most=2, least_width=16)
        for button in (self.add, self.save):
            self._others.add(button)
        self.column.addWidget(self.ordering)
        self.column.addWidget(self._others)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What should be ordered?")

    def main_text(self) -> str:
        return _("Print the list")

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            told = lines_now(self.desk)
        except LogbookError as error:
            self.desk.told(error)
            return
        kit_of(self.page).paper.spoil()
        self._lines.clear()
        today = self.desk.today()
        for line, meter in told.lines:
            name, state = refill_name(line, meter), refill_state(line, today)
            button = SubjectButton(self.look, name, state[:1].upper() + state[1:])
            button.setProperty("supply", _text(line.supply_id))
            button.setProperty("meter", _text(line.meter_id))
            button.clicked.connect(self._open)
            self._lines.add(button)
        settings = self.desk.book.settings
        parts = [reserve_text(settings.strip_reserve)]
        days = days_text(settings.delivery_days)
        parts.append(_("Delivery takes {days}.").format(days=days))
        self.ordering.say(" ".join(parts))

    def _open(self) -> None:
        page, button = kit_of(self.page), self.sender()
        supply, meter = (str(button.property(name)) for name in ("supply", "meter"))
        page.chosen_id = UUID(supply) if supply else None
        page.meter_id = UUID(meter) if meter else None
        self.page.turn_to("supply")

    def _open_ordering(self) -> None:
        self.page.turn_to("ordering")

    def _add(self) -> None:
        kit_of(self.page).chosen_id = kit_of(self.page).meter_id = None
        self.page.turn_to("supply")

    def _save(self) -> None:
        self.page.turn_to("save")

    def do_main(self) -> None:
        self.page.turn_to("print")


class SupplyView(EditedView):
    """One thing of the list: its exact type, and how many there are."""

    back = "refill"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        wanted, kept = kit_of(page).chosen_id, self.desk.book.kit().supplies
        self._known = next((one for one in kept if one.id == wanted), None)
        known = self._known
        rows = Form(self.look)
        self.kind: Choice = rows.add_choice(
            _("What is it?"),
            [(kind, supply_kind_text(kind)) for kind in SupplyKind],
            SupplyKind.STRIPS if known is None else known.kind,
            columns=3,
        )
        own = own_meters(self.desk.book.meters(), self.desk.today())
        meter_id = kit_of(page).meter_id if known is None else known.meter_id
        self.meter: Choice = rows.add_choice(
            _("For which meter?"), [(meter.id, meter.name) for meter in own], meter_id
        )
        self._has_several = len(own) > 1
        self.kind.chosen.connect(self._ask_meter)
        self._ask_meter()
        self.exact_type: TextField = rows.add_text(
            _("Its exact type"),
            "" if known is None else known.exact_type,
            help_text=_("As it stands on the pack, with the number of the type."),
        )
        self.count: TextField = rows.add_text(
            _("How many are there?"),
            "" if known is None or known.count is None else str(known.count),
            help_text=_("Strips are counted by the log. It can be left out."),
        )
        if known is not None:
            gone = BigButton(self.look, _("Take it off the list"))
            gone.describe(known.exact_type)
            gone.clicked.connect(self._end)
            place = Columns(self.look, most=2, least_width=16)
            place.add(gone)
            rows.add_widget(place)
        for field in (self.exact_type, self.count):
            field.textEdited.connect(self._edit)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("What exactly do you order?")

    def main_text(self) -> str:
        return _("Keep it")

    def _ask_meter(self) -> None:
        """Strips fit one meter; where there are several, which one is asked."""
        fits_one = self.kind.value in (SupplyKind.STRIPS, SupplyKind.CONTROL_SOLUTION)
        self.meter.setVisible(self._has_several and fits_one)

    def do_main(self) -> None:
        desk, problems, count = self.desk, [], None
        if not self.exact_type.text().strip():
            problems.append((self.exact_type, _("Write what stands on the pack.")))
        if self.count.text().strip():
            count = whole_number(self.count, 0, _MOST)
            if count is None:
                problems.append((self.count, _("Write a number from 0 to 10,000.")))
        if not self.show_problems((self.exact_type, self.count), problems):
            return
        kind = self.kind.value or SupplyKind.OTHER
        supply = replace(
            self._known or Supply(uuid4(), kind, "", desk.now().instant),
            kind=kind,
            exact_type=self.exact_type.text().strip(),
            count=count,
            counted_on=None if count is None else desk.today(),
            meter_id=self.meter.value if self.meter.isVisibleTo(self) else None,
        )
        if desk.write(desk.book.keep, supply) is not None:
            self._is_edited = False
            self.page.turn_to("refill", message=_("It is on the list."))

    def _end(self) -> None:
        if self._known is None:
            return
        ended = replace(self._known, ended_on=self.desk.today())
        if self.desk.write(self.desk.book.replace, ended) is not None:
            self._is_edited = False
            self.page.turn_to("refill", message=_("It is off the list."))


class OrderingView(View):
    """What is kept back, how long delivery takes, and from when a refill is possible."""

    back = "refill"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        settings, today = self.desk.book.settings, self.desk.today()
        rows = Form(self.look)
        self.reserve: TextField = rows.add_text(
            _("Strips kept back for a sick day"), str(settings.strip_reserve)
        )
        self.delivery: TextField = rows.add_text(
            _("Days from ordering to having"), str(settings.delivery_days)
        )
        self.earliest = DayField(
            self.look,
            _("The next refill is possible from"),
            today,
            value=settings.earliest_refill,
            toward=Toward.FUTURE,
            help_text=_("Your pharmacy tells it. It can be left out."),
            is_optional=True,
        )
        rows.add_widget(self.earliest)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("When should strips be ordered?")

    def main_text(self) -> str:
        return _("Keep these")

    def first_field(self) -> TextField:
        return self.reserve

    @property
    def is_changed(self) -> bool:
        return self.reserve.isModified() or self.delivery.isModified()

    def do_main(self) -> None:
        desk = self.desk
        problems: list[tuple[TextField | DayField, str]] = []
        reserve = whole_number(self.reserve, 0, _MOST_RESERVE)
        if reserve is None:
            problems.append((self.reserve, _("Write a number from 0 to 500.")))
        delivery = whole_number(self.delivery, 0, _MOST_DELIVERY)
        if delivery is None:
            problems.append((self.delivery, _("Write a number of days from 0 to 90.")))
        if problem := self.earliest.problem():
            problems.append((self.earliest, problem))
        fields = (self.reserve, self.delivery, self.earliest)
        if not self.show_problems(fields, problems) or reserve is None or delivery is None:
            return
        changed = replace(
            desk.book.settings,
            strip_reserve=reserve,
            delivery_days=delivery,
            earliest_refill=self.earliest.day(),
        )
        if desk.write(desk.book.save_settings, changed) is not None:
            for field in (self.reserve, self.delivery):
                field.setModified(False)
            self.page.turn_to("refill", message=_("Kept."))


class PrintRefillView(PrintView):
    """The refill list to a printer."""

    back = "refill"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return kit_of(page).paper

    def title(self) -> str:
        return _("Print the refill list")


class SaveRefillView(SaveView):
    """The refill list to a file."""

    back = "refill"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        return kit_of(page).paper

    def title(self) -> str:
        return _("Where should the refill list be saved?")


def _text(identity: UUID | None) -> str:
    return "" if identity is None else str(identity)
