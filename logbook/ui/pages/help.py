"""Help: what the program is not, whom to call, and how the page that opens is used."""

from __future__ import annotations

from logbook.book import Changed
from logbook.ui.desk import Desk
from logbook.ui.page import Page
from logbook.ui.parts.texts import Words
from logbook.wording import _, cautions
from logbook.wording.emergency import emergency_word


class Help(Page):
    """The page behind the button Help, at the same place on every page."""

    name = "help"

    @staticmethod
    def label() -> str:
        return _("Help")

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("Help"))
        self._emergency = Words(desk.look, role="heading")
        self.body.addWidget(self._emergency)
        for heading, sentence in self._sections():
            self.body.addSpacing(8)
            self.body.addWidget(Words(desk.look, heading, "heading"))
            self.body.addWidget(Words(desk.look, sentence))
        self.body.addStretch(1)

    def refresh(self, changed: Changed | None) -> None:
        settings = self.desk.book.settings
        word = emergency_word(settings.country, settings.emergency_number)
        self._emergency.setText(_("In an emergency call {number}.").format(number=word))

    @staticmethod
    def _sections() -> list[tuple[str, str]]:
        return [
            (_("What this program is not"), f"{cautions.cannot_call()} {cautions.no_advice()}"),
            (_("Before you test"), cautions.hands()),
            (
                _("Writing a number down"),
                _(
                    "Press the figures the meter shows, or type them. Then press Save. "
                    "Undo takes the last thing back."
                ),
            ),
            (
                _("With the keyboard"),
                _(
                    "Type the number anywhere on the page. Enter goes to Save; Enter again saves. "
                    "Tab moves on, Space presses."
                ),
            ),
            (
                _("Where everything is kept"),
                _("All entries lie in one file on this computer. Nothing is sent anywhere."),
            ),
        ]
