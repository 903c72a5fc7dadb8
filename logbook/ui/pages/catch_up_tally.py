"""After catching up: how many readings does the meter show for these days? It can be left out."""

from __future__ import annotations

from logbook.book import Changed
from logbook.domain.catch_up import tally
from logbook.domain.moments import Moment, Period
from logbook.ui.parts.form_rows import TextField
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.catch_up import tally_text
from logbook.wording.dates import period_text

_MOST = 10_000


class TallyView(View):
    """Says whether some are still missing; nothing is written down."""

    back = "main"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        days: tuple[Moment, Moment] | None = getattr(page, "saved_days", None)
        starts_at = self.desk.book.settings.day_starts_at
        today = self.desk.today()
        first, last = (one.day(starts_at) for one in days) if days else (today, today)
        self.period = Period(first, last)
        self.field = TextField(
            self.look,
            _("Readings in the meter for these days"),
            help_text=_("Count them in its memory. You can leave this out."),
        )
        self.told = Sentence(self.look)
        self.column.addWidget(Sentence(self.look, period_text(self.period, with_days=True)))
        self.column.addWidget(self.field.row)
        self.column.addWidget(self.told)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("How many readings does the meter show?")

    def main_text(self) -> str:
        return _("Compare")

    def first_field(self) -> TextField:
        return self.field

    def refresh(self, changed: Changed | None) -> None:
        """The log may hold others now."""
        if self.told.text():
            self._tell()

    def do_main(self) -> None:
        text = self.field.text().strip()
        is_count = text.isascii() and text.isdecimal() and int(text[:6]) <= _MOST
        if self.show_problems(
            [self.field],
            [] if is_count else [(self.field, _("Write how many, as a number such as 12."))],
        ):
            self._tell()

    def _tell(self) -> None:
        text = self.field.text().strip()
        if text.isascii() and text.isdecimal():
            found = tally(self.desk.book.readings(self.period), int(text[:6]))
            self.told.setText(tally_text(found))
