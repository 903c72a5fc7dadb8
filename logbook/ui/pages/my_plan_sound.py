"""The view of *My plan* for the sound of a recheck: play it, and tell whether it was heard.

Only who heard it may rely on it: on this alone it hangs what the page of a low promises.
"""

from __future__ import annotations

from logbook.book import Changed
from logbook.domain.answers import Said
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.ring import Ring
from logbook.wording import _, cautions
from logbook.wording.terms import said_text


class SoundView(View):
    """A press on *Play the sound*, then one question."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.ring = Ring(self.desk)
        self.ring.setParent(self)
        self.ring.ended.connect(self._ended)
        self.column.addWidget(
            Paragraph(
                self.look,
                _("It rings when it is time to check again after a low, until you answer.")
                if self.ring.has_player
                else _("No program that plays a sound was found on this computer."),
            )
        )
        self.play = BigButton(self.look, _("Play the sound"), ButtonKind.TALL)
        self.play.clicked.connect(self._play)
        row = EvenGrid(2)
        row.addWidget(self.play)
        self.column.addLayout(row)
        self.heard = Choice(
            self.look,
            _("Did you hear it?"),
            [(said, said_text(said)) for said in (Said.YES, Said.NO)],
        )
        self.heard.chosen.connect(self._tell)
        self.column.addWidget(self.heard)
        self.outcome = Paragraph(self.look, role="heading")
        self.column.addWidget(self.outcome)
        self.column.addStretch(1)
        self._has_played = False

    def title(self) -> str:
        return _("Can you hear this computer ring?")

    def refresh(self, changed: Changed | None) -> None:
        heard = self.desk.preferences.heard_ring
        self.play.setVisible(self.ring.has_player)
        can_be_asked = self.ring.has_player and (self._has_played or heard is not None)
        self.heard.setVisible(can_be_asked)
        self.heard.choose(None if heard is None else Said.YES if heard else Said.NO)
        self.outcome.say(self._outcome(heard))
        self.page.update_head()

    def _outcome(self, heard: bool | None) -> str:
        if not self.ring.has_player:
            return cautions.cannot_ring()
        if heard is None:
            return ""
        if heard:
            return _("Good. It will ring after a low while this window is open.")
        again = _("Turn the sound of this computer up, and play it again.")
        return "{} {}".format(again, _("Until you hear it, set your kitchen timer after a low."))

    def _play(self) -> None:
        self.desk.say("")
        self._has_played = self.ring.play() or self._has_played
        self.refresh(None)

    def _ended(self, is_played: bool) -> None:
        if not is_played:
            self.refresh(None)

    def _tell(self, said: Said) -> None:
        self.desk.prefer(heard_ring=said is Said.YES)
        self.ring.stop()
        self.refresh(None)


def sound_state_text(heard: bool | None) -> str:
    """How it stands, for the list of subjects."""
    if heard is None:
        return _("not tried yet")
    return _("heard") if heard else _("not heard")
