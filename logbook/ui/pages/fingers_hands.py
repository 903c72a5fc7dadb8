"""The first view of *Fingers*: the hands large, what is next in words, and the way to the rest."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QBoxLayout, QVBoxLayout, QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.moments import Moment
from logbook.domain.rotation import needs_asking_about_sore
from logbook.domain.settings import LogSettings
from logbook.domain.site_notes import with_sore_still, without_sore
from logbook.domain.sites import Site
from logbook.ui.entry.fingers import finger_news
from logbook.ui.pages.fingers_subject import FingerSubject, depth_for, lancet_now
from logbook.ui.pages.fingers_words import lancet_line
from logbook.ui.parts.hands import Finger, HandsChooser
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.tiles import Tile, TileLayout
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _
from logbook.wording.kit import depth_text
from logbook.wording.sites import advice_text, site_text

# From this text size on, the buttons stand under the hands instead of beside them.
_STACKED_FROM_PERCENT = 150


class HandsView(View):
    """A fingertip leads to what can be said of it; the buttons lead to lancet and work."""

    def __init__(self, page: ViewPage, subject: FingerSubject) -> None:
        super().__init__(page)
        self.subject = subject
        self._title = ""
        self._asked: Site | None = None
        self.hands = HandsChooser(self.look)
        self.hands.finger_chosen.connect(self._choose)
        self.question = Sentence(self.look, role="heading")
        self.still = Tile(self.look, _("Still sore"))
        self.still.clicked.connect(self._still_sore)
        self.no_more = Tile(self.look, _("Not sore any more"))
        self.no_more.clicked.connect(self._not_sore)
        self.answers = QWidget()
        answers = TileLayout(self.answers, most=2)
        answers.addWidget(self.still)
        answers.addWidget(self.no_more)
        self.lancet = SubjectButton(self.look, _("The lancet"))
        self.lancet.clicked.connect(self._open_lancet)
        self.work = SubjectButton(self.look, _("How the work is shared"))
        self.work.clicked.connect(self._open_work)
        self.meaning = Sentence(
            self.look,
            _("Numbers are days of rest. Hatched: sore or left out. Dotted: not in use."),
            "quiet",
        )
        self.leads_on = Sentence(self.look)
        self.column.setContentsMargins(0, 0, 0, 0)
        self.column.setSpacing(0)
        self._row = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        self._row.setSpacing(2 * GAP)
        side = QVBoxLayout()
        side.setSpacing(GAP)
        for part in (self.question, self.answers, self.lancet, self.work, self.meaning):
            side.addWidget(part)
        side.addStretch(1)
        self._row.addWidget(self.hands, 0, Qt.AlignmentFlag.AlignTop)
        self._row.addLayout(side, 1)
        self.column.addLayout(self._row)
        self.column.addWidget(self.leads_on)
        self.column.addStretch(1)
        self.look.changed.connect(self.restyle)
        self.restyle()

    def restyle(self) -> None:
        """Beside one another at small text, under one another at large text."""
        is_stacked = self.look.theme.percent >= _STACKED_FROM_PERCENT
        directions = QBoxLayout.Direction
        self._row.setDirection(directions.TopToBottom if is_stacked else directions.LeftToRight)

    def title(self) -> str:
        return self._title

    def refresh(self, changed: Changed | None) -> None:
        """Read the Book and show it."""
        try:
            self._read()
        except LogbookError as error:
            self.desk.told(error)

    def _read(self) -> None:
        now, settings = self.desk.now(), self.desk.book.settings
        if not settings.tracks_fingers:
            self._title = _("Fingers are not tracked. You can turn this on in My plan.")
        else:
            news = finger_news(self.desk, now)
            self.hands.show_pads(news.pads)
            self._show_depth(news.advice.site, now)
            self._title = (
                _("Next: {advice}").format(advice=advice_text(news.advice))
                if news.advice.site is not None
                else advice_text(news.advice)
            )
        self.hands.setVisible(settings.tracks_fingers)
        self.work.setVisible(settings.tracks_fingers)
        self.meaning.setVisible(settings.tracks_fingers)
        self._ask_about_sore()
        # A question is enough to read at once.
        self.leads_on.setVisible(settings.tracks_fingers and self._asked is None)
        self.lancet.say(
            lancet_line(
                lancet_now(self.desk, now), settings.lancet_habit, now, settings.day_starts_at
            )
        )

    def _show_depth(self, site: Site | None, now: Moment) -> None:
        """Below the hands: the depth that worked on the next finger, or what a press does."""
        depth = None if site is None else depth_for(self.desk, site, now)
        self.leads_on.setText(
            _("Press a fingertip to see its sides, or to say that it is sore.")
            if depth is None
            else depth_text(depth)
        )

    # --- sore ---------------------------------------------------------------------------------

    def _ask_about_sore(self) -> None:
        settings = self.desk.book.settings
        codes = needs_asking_about_sore(settings, self.desk.today())
        self._asked = None
        for code in codes if settings.tracks_fingers else ():
            try:
                self._asked = Site.from_code(code)
            except LogbookError:
                continue
            break
        self.answers.setVisible(self._asked is not None)
        self.question.say(
            ""
            if self._asked is None
            else _("{site}: still sore?").format(site=site_text(self._asked))
        )

    def _still_sore(self) -> None:
        if self._asked is not None:
            settings = self.desk.book.settings
            today = self.desk.today()
            self._save_answer(
                with_sore_still(settings, self._asked.code, today),
                _("It is left to rest. You are asked again in 7 days."),
            )

    def _not_sore(self) -> None:
        if self._asked is not None:
            self._save_answer(
                without_sore(self.desk.book.settings, self._asked), _("It is in use again.")
            )

    def _save_answer(self, settings: LogSettings, message: str) -> None:
        if self.desk.write(self.desk.book.save_settings, settings) is not None:
            self.desk.say(message)

    # --- where it leads -----------------------------------------------------------------------

    def _choose(self, finger: Finger) -> None:
        self.subject.site = Site(*finger)
        self.page.turn_to("finger")

    def _open_lancet(self) -> None:
        self.page.turn_to("lancet")

    def _open_work(self) -> None:
        self.page.turn_to("work")
