"""Views of *Kit*: opening the next strip pot, writing one down in full, counting strips again."""

from __future__ import annotations

from typing import TYPE_CHECKING
from uuid import uuid4

from logbook.domain.errors import BadMoment
from logbook.domain.kit.dates import AfterOpening, PrintedDate
from logbook.domain.kit.strip_accounts import count_gap
from logbook.domain.kit.strip_opening import next_vial, open_next, open_vial
from logbook.domain.kit.strips import Packing, StripCount, Vial
from logbook.domain.kit.vial_life import vial_in_use
from logbook.ui.desk import Desk
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit import gap_text, keep_closed, strips_text
from logbook.wording.kit_terms import packing_text
from logbook.wording.problems import problem_text
from logbook.wording.typed_printed_dates import read_printed_date

if TYPE_CHECKING:
    from logbook.ui.pages.kit import Kit

_MOST_STRIPS = 1000


def kit_of(page: ViewPage) -> Kit:
    """The page as the kit's own: it knows which meter is looked at."""
    from logbook.ui.pages.kit import Kit

    assert isinstance(page, Kit)
    return page


def read_printed(desk: Desk, field: TextField) -> PrintedDate | None:
    """The printed date that was typed; None for nothing. Raises `BadMoment`."""
    text = field.text().strip()
    return read_printed_date(text, desk.today()) if text else None


def whole_number(field: TextField, least: int, most: int) -> int | None:
    """A whole number within bounds; None for anything else."""
    text = field.text().strip()
    if not (text.isascii() and text.isdigit()) or not least <= int(text) <= most:
        return None
    return int(text)


class NextVialView(View):
    """The next pot like the last: only its printed date is asked."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        meter_id = kit_of(page).meter_id
        kit = self.desk.book.kit()
        last, stocked = vial_in_use(meter_id, kit), next_vial(meter_id, kit)
        rows = Form(self.look)
        like = stocked if stocked is not None and stocked.opened_at is None else last
        if like is not None:
            rows.add_words(
                _("Like the last: {packing}, {strips}.").format(
                    packing=packing_text(like.packing), strips=strips_text(like.count)
                )
            )
        printed = "" if stocked is None or stocked.expires is None else stocked.expires.code
        self.printed: TextField = rows.add_text(
            _("Printed date"), printed, help_text=_("As on the pot, for example 03/2027.")
        )
        self.lot: TextField = rows.add_text(
            _("Lot"), help_text=_("The letters and figures beside LOT. It can be left out.")
        )
        rows.add_words(keep_closed())
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which date is printed on the next pot?")

    def main_text(self) -> str:
        return _("Open it")

    def first_field(self) -> TextField:
        return self.printed

    @property
    def is_changed(self) -> bool:
        return bool(self.printed.text().strip() or self.lot.text().strip())

    def do_main(self) -> None:
        desk = self.desk
        try:
            expires = read_printed(desk, self.printed)
        except BadMoment as error:
            self.show_problems((self.printed,), [(self.printed, problem_text(error))])
            return
        now = desk.now()
        opening = open_next(
            kit_of(self.page).meter_id,
            desk.book.kit(),
            now,
            desk.book.settings,
            new_id=uuid4(),
            written_at=now.instant,
            expires=expires,
            lot=self.lot.text().strip() or None,
        )
        if opening is None:
            self.page.turn_to("vial")
            return
        if desk.write(desk.book.keep, opening.opened, *opening.ended) is not None:
            self.printed.clear()
            self.lot.clear()
            self.page.turn_to("home", message=_("The next pot is open from now on."))


class VialView(View):
    """A pot in full: the first one, or one for the stock."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
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
        self.lot: TextField = rows.add_text(_("Lot"), help_text=_("It can be left out."))
        self.code: TextField = rows.add_text(
            _("Code"), help_text=_("Only if your meter asks for one.")
        )
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def title(self) -> str:
        if kit_of(self.page).opens_to_stock:
            return _("Which unopened pot do you have?")
        return _("Which pot is open?")

    def main_text(self) -> str:
        return _("Keep it") if kit_of(self.page).opens_to_stock else _("It is open")

    @property
    def is_changed(self) -> bool:
        return bool(self.printed.text().strip() or self.lot.text().strip())

    def do_main(self) -> None:
        desk, problems = self.desk, []
        count = whole_number(self.count, 1, _MOST_STRIPS)
        if count is None:
            problems.append((self.count, _("Write how many strips a full pot holds, 1 to 1,000.")))
        expires = None
        try:
            expires = read_printed(desk, self.printed)
        except BadMoment as error:
            problems.append((self.printed, problem_text(error)))
        if not self.show_problems((self.count, self.printed), problems) or count is None:
            return
        now, page = desk.now(), kit_of(self.page)
        after = str(self.after.value or "")
        vial = Vial(
            id=uuid4(),
            meter_id=page.meter_id,
            count=count,
            written_at=now.instant,
            packing=self.packing.value or Packing.VIAL,
            lot=self.lot.text().strip(),
            code=self.code.text().strip(),
            expires=expires,
            after_opening=AfterOpening.from_code(after) if after else None,
        )
        if page.opens_to_stock:
            done, message = desk.write(desk.book.add, vial), _("It is in your stock now.")
        else:
            opening = open_vial(vial, desk.book.kit(), now, desk.book.settings)
            done = desk.write(desk.book.keep, opening.opened, *opening.ended)
            message = _("Strips are counted from this pot now.")
        if done is not None:
            self.printed.clear()
            self.lot.clear()
            page.turn_to("home", message=message)


class CountView(View):
    """How many strips are really there."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        self.left: TextField = rows.add_text(_("Strips in the open pot"))
        self.gap = Paragraph(self.look)
        rows.add_widget(self.gap)
        self.column.addWidget(rows)
        self.column.addStretch(1)
        self.left.textChanged.connect(self._tell_gap)

    def title(self) -> str:
        return _("How many strips are left?")

    def main_text(self) -> str:
        return _("Keep this number")

    def first_field(self) -> TextField:
        return self.left

    @property
    def is_changed(self) -> bool:
        return bool(self.left.text().strip())

    def _vial(self) -> Vial | None:
        return vial_in_use(kit_of(self.page).meter_id, self.desk.book.kit())

    def _tell_gap(self) -> None:
        counted, vial = whole_number(self.left, 0, _MOST_STRIPS), self._vial()
        text = ""
        if counted is not None and vial is not None:
            text = gap_text(count_gap(vial, counted, self.desk.book.kit()))
        self.gap.say(text)

    def do_main(self) -> None:
        desk, vial = self.desk, self._vial()
        counted = whole_number(self.left, 0, _MOST_STRIPS)
        problems = []
        if counted is None:
            problems.append((self.left, _("Write how many strips you counted, 0 to 1,000.")))
        if not self.show_problems((self.left,), problems) or counted is None or vial is None:
            return
        now = desk.now()
        count = StripCount(uuid4(), vial.id, now, now.instant, counted)
        if desk.write(desk.book.add, count) is not None:
            self.left.clear()
            self.page.turn_to("home", message=_("The number of strips is put right."))
