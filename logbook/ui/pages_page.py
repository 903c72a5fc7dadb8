"""The list of pages as a page of its own: large text has no room for it at the left."""

from __future__ import annotations

from collections.abc import Sequence

from logbook.ui.desk import Desk
from logbook.ui.page import Page
from logbook.ui.parts.big_button import BigButton
from logbook.wording import _


class PagesPage(Page):
    """Behind the button *Pages*; the window tells it the pages by `offer`."""

    name = "pages"

    @staticmethod
    def label() -> str:
        return _("Pages")

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.say(_("Where do you want to go?"))

    def offer(self, entries: Sequence[tuple[str, str, object]]) -> None:
        """Show these pages."""
        for name, text, sign in entries:
            button = BigButton(self.desk.look, text, sign=sign)  # type: ignore[arg-type]
            button.setProperty("pageName", name)
            button.clicked.connect(self._go)
            self.body.addWidget(button)
        self.body.addStretch(1)

    def _go(self) -> None:
        sender = self.sender()
        if sender is not None:
            self.desk.go_to(str(sender.property("pageName")))
