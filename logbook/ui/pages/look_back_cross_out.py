"""Crossing a reading out: one press on a reason does it, and Undo takes it back."""

from __future__ import annotations

from logbook.domain.errors import LogbookError
from logbook.domain.readings import Reading
from logbook.ui.pages.look_back_entry_words import reading_name, value_text, when_text
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _, mark

_REASONS = (
    mark("Written down twice"),
    mark("Typed wrong"),
    mark("Not my reading"),
    mark("The test went wrong"),
    mark("A test of the control solution"),
    mark("Another reason"),
)


class CrossOutView(View):
    """The reading in words, and the reasons as big buttons."""

    back = "time"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        self.looking = looking
        assert looking.subject is not None
        self.reading: Reading = self.desk.book.reading(looking.subject)
        self.column.addWidget(
            Sentence(
                self.look,
                _("{value}. {when}.").format(
                    value=value_text(self.reading),
                    when=when_text(
                        self.reading, self.desk.now(), self.desk.book.settings.day_starts_at
                    ),
                ),
                "heading",
            )
        )
        self.column.addWidget(
            Sentence(
                self.look,
                _(
                    "It stays in the log with a line through it, outside every figure. "
                    "You can bring it back."
                ),
            )
        )
        self.reasons: dict[str, BigButton] = {}
        columns = Columns(self.look, most=2, least_width=12)
        for reason in _REASONS:
            button = BigButton(self.look, _(reason), ButtonKind.TALL)
            button.describe(_("Crosses the reading out for this reason"))
            button.clicked.connect(self._cross_out)
            self.reasons[_(reason)] = button
            columns.add(button)
        self.column.addWidget(columns)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Why is this reading crossed out?")

    def _cross_out(self) -> None:
        sender = self.sender()
        if not isinstance(sender, BigButton):
            return
        try:
            is_crossed_out = self.desk.book.reading(self.reading.id).crossed_out is not None
        except LogbookError as error:
            self.desk.told(error)
            return
        if is_crossed_out or self.desk.write(
            self.desk.book.cross_out, self.reading.id, sender.text()
        ):
            self.page.turn_to(
                "time",
                message=_("Crossed out: {reading}.").format(
                    reading=reading_name(self.reading, self.desk.book.settings.day_starts_at)
                ),
            )
