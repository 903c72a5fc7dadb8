"""The view of *My plan* in which the person chooses between two versions of one entry."""

from __future__ import annotations

from functools import partial

from logbook.book import Changed
from logbook.domain.bringing_in import SideBySide
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.card import Card
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.side_by_side_words import name_of, things_of
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.sharing import chosen_text, pair_title


class TwoVersionsView(View):
    """One pair at a time, what differs in both, and a button under each."""

    back = "sharing"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._pair: SideBySide | None = None
        self.subject = Paragraph(self.look, role="heading")
        self.column.addWidget(self.subject)
        self._nothing = Paragraph(self.look)
        self.column.addWidget(self._nothing)
        self._cards = Columns(self.look, most=2, least_width=14, gap=2 * GAP)
        self.kept, self.keep = self._card(_("In your log now"), _("Keep this one"), self._keep_kept)
        self.other, self.take = self._card(_("The other one"), _("Take this one"), self._take_other)
        self.column.addWidget(self._cards)
        self.after = Paragraph(
            self.look, _("The one you do not choose stays in the log's history.")
        )
        self.column.addWidget(self.after)
        self.column.addStretch(1)

    def _card(self, heading: str, text: str, slot: object) -> tuple[Sentences, BigButton]:
        card = Card(self.look, heading)
        said = Sentences(self.look)
        card.column.addWidget(said)
        card.column.addStretch(1)
        button = BigButton(self.look, text, ButtonKind.OTHER)
        button.clicked.connect(slot)
        card.column.addWidget(button)
        self._cards.add(card)
        return said, button

    def title(self) -> str:
        return pair_title(len(self.desk.book.disagreements()))

    def refresh(self, changed: Changed | None) -> None:
        pairs = self.desk.book.disagreements()
        self._pair = pairs[0] if pairs else None
        for part in (self._cards, self.after):
            part.setVisible(bool(pairs))
        self._nothing.say("" if pairs else _("No two entries differ."))
        if self._pair is None:
            self.subject.say("")
            return
        now = self.desk.now()
        self.subject.say(name_of(self._pair))
        things = things_of(self._pair, now)
        self.kept.say(tuple(f"{one.label}: {one.kept}" for one in things))
        self.other.say(tuple(f"{one.label}: {one.other}" for one in things))
        for button in (self.keep, self.take):
            button.describe(self.subject.text())

    def _keep_kept(self) -> None:
        self._settle(take_other=False)

    def _take_other(self) -> None:
        self._settle(take_other=True)

    def _settle(self, *, take_other: bool) -> None:
        pair = self._pair
        if pair is None:
            return
        settle = partial(self.desk.book.settle, take_other=take_other)
        if self.desk.write(settle, pair.disagreement.id) is None:
            return
        left = len(self.desk.book.disagreements())
        message = chosen_text(left)
        self.page.turn_to("two_versions" if left else "sharing", message=message)
