"""A view of *Kit*: what happened to the meter, its clock, and what may follow from it."""

from __future__ import annotations

from uuid import UUID, uuid4

from logbook.domain.kit.meter_care import MeterEvent, MeterWhat
from logbook.domain.kit.meters import Meter, own_meters
from logbook.ui.pages.kit_strips import kit_of, whole_number
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit_terms import meter_what_text

_MOST_MINUTES = 24 * 60
# What a person does or sees; the rest follows from control tests.
_WHATS = (
    MeterWhat.DROPPED,
    MeterWhat.DAMAGED,
    MeterWhat.BATTERY_CHANGED,
    MeterWhat.NOT_BELIEVED,
    MeterWhat.CLEANED,
    MeterWhat.CLOCK_CHECKED,
)


class MeterEventView(View):
    """What happened, now. The clock's offset is asked only when the clock was looked at."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.what: Choice = rows.add_choice(
            _("What happened?"), [(what, meter_what_text(what)) for what in _WHATS], columns=3
        )
        self.ahead: TextField = rows.add_text(
            _("Minutes the meter's clock is ahead"),
            "0",
            help_text=_("Write 0 when it is right."),
        )
        self.behind: Choice = rows.add_choice(
            _("Ahead or behind?"), [(1, _("Ahead")), (-1, _("Behind"))], 1
        )
        self.what.chosen.connect(self._show_clock)
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self._show_clock()

    def title(self) -> str:
        return _("What happened to the meter?")

    def main_text(self) -> str:
        return _("Write it down")

    @property
    def is_changed(self) -> bool:
        return self.what.value is not None

    def _show_clock(self) -> None:
        is_clock = self.what.value is MeterWhat.CLOCK_CHECKED
        self.ahead.row.setVisible(is_clock)
        self.behind.setVisible(is_clock)

    def do_main(self) -> None:
        desk, what = self.desk, self.what.value
        if what is None:
            desk.say(_("Choose one of these first."))
            return
        minutes = None
        if what is MeterWhat.CLOCK_CHECKED:
            minutes = whole_number(self.ahead, 0, _MOST_MINUTES)
            problems = []
            if minutes is None:
                problems.append((self.ahead, _("Write the minutes as a number, 0 to 1,440.")))
            if not self.show_problems((self.ahead,), problems) or minutes is None:
                return
            minutes *= int(self.behind.value or 1)
        now, records = desk.now(), []
        meter_id = kit_of(self.page).meter_id
        if meter_id is None:
            meter = self._meter()
            records.append(meter)
            meter_id = meter.id
        event = MeterEvent(uuid4(), meter_id, what, now, now.instant, minutes)
        if desk.write(desk.book.keep, event, *records) is not None:
            self.what.choose(None)
            self.page.turn_to(
                "home", message=_("Written down: {what}.").format(what=meter_what_text(what))
            )

    def _meter(self) -> Meter:
        """The only own meter; one is written down where there is none yet."""
        desk = self.desk
        own = own_meters(desk.book.meters(), desk.today())
        if own:
            return own[0]
        meter_id: UUID = uuid4()
        return Meter.usual(meter_id, _("my meter"), desk.book.settings.unit, desk.today())
