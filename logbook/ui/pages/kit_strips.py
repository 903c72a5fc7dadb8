"""Views of *Kit*: opening the next strip pot like the last, and counting strips again."""

from __future__ import annotations

from typing import TYPE_CHECKING
from uuid import uuid4

from logbook.domain.errors import BadMoment
from logbook.domain.kit.dates import PrintedDate
from logbook.domain.kit.kit_data import KitData
from logbook.domain.kit.strip_accounts import GAP_ASKED_FROM, account_of, count_gap
from logbook.domain.kit.strip_opening import (
    last_vial,
    needs_new_code,
    next_vial,
    open_next,
    why_ended_now,
)
from logbook.domain.kit.strips import StripCount, Vial, WhyEnded
from logbook.domain.kit.vial_life import vial_in_use
from logbook.ui.desk import Desk
from logbook.ui.parts.form_rows import Choice, TextField
from logbook.ui.parts.paragraph import Form, Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.kit import code_differs_text, gap_text, keep_closed, left_text, strips_text
from logbook.wording.kit_terms import packing_text, why_ended_text
from logbook.wording.problems import problem_text
from logbook.wording.typed_printed_dates import read_printed_date, typed_printed_text

if TYPE_CHECKING:
    from logbook.ui.pages.kit import Kit

MOST_STRIPS = 1000


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
        self._before = vial_in_use(meter_id, kit)
        stocked = next_vial(meter_id, kit)
        rows = Form(self.look)
        like = stocked or last_vial(meter_id, kit)
        if like is not None:
            rows.add_words(
                _("Like the last: {packing}, {strips}.").format(
                    packing=packing_text(like.packing), strips=strips_text(like.count)
                )
            )
        printed = typed_printed_text(None if stocked is None else stocked.expires)
        self.printed: TextField = rows.add_text(
            _("Printed date"), printed, help_text=_("As on the pot, for example 03/2027.")
        )
        self.lot: TextField = rows.add_text(
            _("Lot"), help_text=_("The letters and figures beside LOT. It can be left out.")
        )
        self.code: TextField | None = None
        if like is not None and like.code:
            self.code = rows.add_text(
                _("Code"), like.code, help_text=_("As on the pot. The meter must show it.")
            )
        self.why = self._ask_why(rows, kit)
        rows.add_words(keep_closed())
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def _ask_why(self, rows: Form, kit: KitData) -> Choice | None:
        """Why the pot before is no longer used, where by the log it is not nearly empty."""
        if self._before is None or account_of(self._before, kit).left < GAP_ASKED_FROM:
            return None
        now, settings = self.desk.now(), self.desk.book.settings
        why: Choice = rows.add_choice(
            _("Why is the pot before no longer used?"),
            [(why, why_ended_text(why)) for why in WhyEnded],
            why_ended_now(self._before, now, settings),
            columns=3,
        )
        return why

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
            code=None if self.code is None else self.code.text().strip(),
            why_ended=None if self.why is None else self.why.value,
        )
        if opening is None:
            self.page.turn_to("vial")
            return
        if desk.write(desk.book.keep, opening.opened, *opening.ended) is not None:
            self.printed.clear()
            self.lot.clear()
            message = _("The next pot is open from now on.")
            if needs_new_code(self._before, opening.opened):
                message = code_differs_text(opening.opened.code)
            self.page.turn_to("home", message=message)


class CountView(View):
    """How many strips are really there."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        rows = Form(self.look)
        kit, vial = self.desk.book.kit(), self._vial()
        known = "" if vial is None else left_text(account_of(vial, kit))
        self.left: TextField = rows.add_text(_("Strips in the open pot"), help_text=known)
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
        counted, vial = whole_number(self.left, 0, MOST_STRIPS), self._vial()
        text = ""
        if counted is not None and vial is not None:
            text = gap_text(count_gap(vial, counted, self.desk.book.kit()))
        self.gap.say(text)

    def do_main(self) -> None:
        desk, vial = self.desk, self._vial()
        counted = whole_number(self.left, 0, MOST_STRIPS)
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
