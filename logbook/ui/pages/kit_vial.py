"""A view of *Kit*: a strip pot written down in full, the open one or some for the stock."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from logbook.domain.errors import BadMoment
from logbook.domain.kit.dates import AfterOpening
from logbook.domain.kit.meters import own_meters
from logbook.domain.kit.strip_opening import open_vial
from logbook.domain.kit.strips import Packing, StripCount, Vial
from logbook.ui.pages.kit_strips import MOST_STRIPS, kit_of, read_printed, whole_number
from logbook.ui.parts.day_field import DayField
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit_terms import packing_text
from logbook.wording.problems import problem_text
from logbook.wording.typed_days import Toward

_MOST_POTS = 50


class VialView(View):
    """With `is_unopened` it goes to the stock; else it is in use, from now on counted."""

    back = "home"

    def __init__(self, page: ViewPage, *, is_unopened: bool = False) -> None:
        super().__init__(page)
        self._is_unopened = is_unopened
        rows = Form(self.look)
        own = own_meters(self.desk.book.meters(), self.desk.today())
        self.meter: Choice | None = None
        if kit_of(page).meter_id is None and len(own) > 1:
            self.meter = rows.add_choice(
                _("For which meter?"),
                [(meter.id, meter.name) for meter in own],
                own[0].id,
                columns=3,
            )
        self.packing: Choice = rows.add_choice(
            _("How do the strips come?"),
            [(packing, packing_text(packing)) for packing in Packing],
            Packing.VIAL,
            columns=3,
        )
        self.count: TextField = rows.add_text(_("Strips in a full pot"), "50")
        self.printed: TextField = rows.add_text(
            _("Printed date"), help_text=_("As on the pot, for example 03/2027.")
        )
        self.after: Choice = rows.add_choice(
            _("How long after opening?"),
            [
                ("", _("Until the printed date")),
                ("90d", _("90 days")),
                ("3m", _("3 months")),
                ("180d", _("180 days")),
                ("6m", _("6 months")),
            ],
            "90d",
            columns=3,
        )
        rows.add_words(_("The leaflet in the pack says how long."))
        self.pots: TextField | None = None
        self.left: TextField | None = None
        self.opened: DayField | None = None
        if is_unopened:
            self.pots = rows.add_text(_("How many such pots?"), "1")
        else:
            today = self.desk.today()
            self.opened = DayField(
                self.look, _("Opened on"), today, value=today, toward=Toward.PAST
            )
            rows.add_widget(self.opened)
            self.left = rows.add_text(
                _("Strips in it now"), help_text=_("Leave it empty when it is still full.")
            )
        self.lot: TextField = rows.add_text(_("Lot"), help_text=_("It can be left out."))
        self.code: TextField = rows.add_text(
            _("Code"), help_text=_("Only if your meter asks for one.")
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        if self._is_unopened:
            return _("Which unopened pot do you have?")
        return _("Which pot is open?")

    def main_text(self) -> str:
        return _("Keep it") if self._is_unopened else _("It is open")

    @property
    def is_changed(self) -> bool:
        return bool(self.printed.text().strip() or self.lot.text().strip())

    def _found(self) -> list[tuple[TextField | DayField, str]]:
        problems: list[tuple[TextField | DayField, str]] = []
        count = whole_number(self.count, 1, MOST_STRIPS)
        if count is None:
            problems.append((self.count, _("Write how many strips a full pot holds, 1 to 1,000.")))
        try:
            read_printed(self.desk, self.printed)
        except BadMoment as error:
            problems.append((self.printed, problem_text(error)))
        if self.opened is not None:
            text = self.opened.problem()
            day = None if text else self.opened.day()
            if day is not None and day > self.desk.today():
                text = _("That day is still to come. Write the day on which you opened it.")
            if text:
                problems.append((self.opened, text))
        if self.pots is not None and whole_number(self.pots, 1, _MOST_POTS) is None:
            problems.append((self.pots, _("Write how many pots, 1 to 50.")))
        if self.left is not None and self.left.text().strip():
            most = count or MOST_STRIPS
            if whole_number(self.left, 0, most) is None:
                problems.append((self.left, _("Write how many strips are in the pot now.")))
        return problems

    def do_main(self) -> None:
        fields = [self.count, self.printed, self.opened, self.pots, self.left]
        if not self.show_problems([one for one in fields if one is not None], self._found()):
            return
        kept = self._keep_unopened() if self._is_unopened else self._keep_open()
        if kept:
            for field in (self.printed, self.lot, self.code):
                field.clear()

    def _vial(self) -> Vial:
        """As it was filled in, which has no problems."""
        after = str(self.after.value or "")
        meter_id = kit_of(self.page).meter_id if self.meter is None else self.meter.value
        return Vial(
            id=uuid4(),
            meter_id=meter_id,
            count=whole_number(self.count, 1, MOST_STRIPS) or 1,
            written_at=self.desk.now().instant,
            packing=self.packing.value or Packing.VIAL,
            lot=self.lot.text().strip(),
            code=self.code.text().strip(),
            expires=read_printed(self.desk, self.printed),
            after_opening=AfterOpening.from_code(after) if after else None,
        )

    def _keep_unopened(self) -> bool:
        desk, vial = self.desk, self._vial()
        pots = 1 if self.pots is None else whole_number(self.pots, 1, _MOST_POTS) or 1
        vials = [replace(vial, id=uuid4()) for _number in range(pots)]
        if desk.write(desk.book.add, *vials) is None:
            return False
        self.page.turn_to("home", message=_("It is in your stock now."))
        return True

    def _keep_open(self) -> bool:
        desk, now = self.desk, self.desk.now()
        opening = open_vial(self._vial(), desk.book.kit(), now, desk.book.settings)
        opened = opening.opened
        if self.opened is not None:
            opened = replace(opened, opened_on=self.opened.day())
        records: list[Vial | StripCount] = [opened, *opening.ended]
        left = None if self.left is None else whole_number(self.left, 0, opened.count)
        if left is not None and left != opened.count:
            records.append(StripCount(uuid4(), opened.id, now, now.instant, left))
        if desk.write(desk.book.keep, *records) is None:
            return False
        self.page.turn_to("home", message=_("Strips are counted from this pot now."))
        return True
