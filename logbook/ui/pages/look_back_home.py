"""The first view of *Look back*: which days, a line about them, and the subjects to look at."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from logbook.book import Changed
from logbook.domain.errors import LogbookError
from logbook.domain.picture_periods import Span
from logbook.ui.pages.look_back_beside import a1c_state, average_state
from logbook.ui.pages.look_back_finder import Finder
from logbook.ui.pages.look_back_looking import Looked, Looking, Shows
from logbook.ui.pages.look_back_spans import ANY_DATES, SpanTiles
from logbook.ui.pages.look_back_words import counts_sentence, left_out_sentence
from logbook.ui.parts.columns import Columns
from logbook.ui.parts.sentence import Sentence
from logbook.ui.parts.subject_button import SubjectButton
from logbook.ui.parts.tab_order import follow
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.theme import GAP
from logbook.wording import _, ngettext
from logbook.wording.numbers import count_of_text, lows_text, number_text
from logbook.wording.pairs import pairs_text


class HomeView(View):
    """Periods as tiles, and a button for each subject that says how things stand there."""

    def __init__(self, page: ViewPage, looking: Looking, finder: Finder) -> None:
        super().__init__(page)
        self.looking, self._finder = looking, finder
        self.column.setSpacing(GAP)
        self.periods = SpanTiles(self.look)
        self.periods.chosen.connect(self._choose_span)
        self.counts = Sentence(self.look)
        self.subjects = Columns(self.look, most=3, least_width=10)
        self.buttons: dict[str, SubjectButton] = {}
        for name, text in (
            ("repeats", _("What repeats")),
            ("lows", _("Lows")),
            ("figures", _("Figures")),
            ("time", _("Over time")),
            ("day", _("Over the day")),
            ("pairs", _("Meals and nights")),
            ("list", _("Each reading")),
            ("a1c", _("Laboratory A1C")),
            ("average", _("Is the log complete?")),
            ("catch_up", _("Catch up")),
            ("import", _("Bring in a file")),
        ):
            button = SubjectButton(self.look, text)
            button.setProperty("view", name)
            button.clicked.connect(self._go)
            self.buttons[name] = button
            self.subjects.add(button)
        self.column.addWidget(self.periods)
        self.column.addWidget(self.counts, 0, Qt.AlignmentFlag.AlignTop)
        self.column.addWidget(self.subjects)
        self.column.addStretch(1)
        finder.found.connect(self._say_repeats)

    def title(self) -> str:
        return _("How have your readings been?")

    # --- showing ------------------------------------------------------------------------------

    def refresh(self, changed: Changed | None) -> None:
        try:
            self._read()
        except LogbookError as error:
            self.desk.told(error)

    def _read(self) -> None:
        book, looking, today = self.desk.book, self.looking, self.desk.today()
        looking.show_all()
        has_any = bool(book.span() or book.happenings() or book.medicine_notes())
        self.periods.setVisible(has_any)
        self.periods.offer(book, today, looking)
        looked = looking.look(book, today)
        has_readings = bool(looked.summary.readings.count)
        for name in ("repeats", "figures", "time", "day", "pairs", "lows", "list"):
            self.buttons[name].setVisible(has_any)
        self.counts.say(self._counts_text(looked, has_any=has_any, has_readings=has_readings))
        self._say_states(looked)
        stops: list[QWidget] = [*self.periods.tiles.values(), *self.buttons.values()]
        follow(stops[0], stops[1:])

    def _counts_text(self, looked: Looked, *, has_any: bool, has_readings: bool) -> str:
        if not has_any:
            return _("Nothing is written down yet. Your readings will appear here.")
        if not has_readings:
            return _("There are no readings in these days. Choose other days above.")
        return " ".join(filter(None, (counts_sentence(looked), left_out_sentence(looked))))

    def _say_states(self, looked: Looked) -> None:
        summary, buttons = looked.summary, self.buttons
        in_target = summary.against_target.in_target_share
        buttons["figures"].say(
            _("in target {count}").format(count=count_of_text(in_target.part, in_target.of))
            if in_target.of
            else _("middle values, lowest to highest")
        )
        buttons["lows"].say(lows_text(len(summary.lows)) if summary.lows else _("none seen"))
        buttons["time"].say(_("every reading in a picture"))
        buttons["day"].say(_("morning to night in a picture"))
        pairs = len(looked.meals) + len(looked.nights)
        buttons["pairs"].say(pairs_text(pairs) if pairs else _("no pairs yet"))
        buttons["list"].say(_("to read, correct or cross out"))
        buttons["catch_up"].say(_("many readings at once"))
        buttons["import"].say(_("from another program"))
        buttons["a1c"].say(a1c_state(self.desk.book))
        buttons["average"].say(average_state(self.desk.book))
        self._finder.look_for(looked)
        self._say_repeats()

    def _say_repeats(self) -> None:
        period = self.looking.period(self.desk.book, self.desk.today())
        found = self._finder.known(period)
        if found is None:
            text = _("still being looked for")
        elif not found:
            text = _("nothing so far")
        else:
            text = ngettext("{n} thing to ask about", "{n} things to ask about", len(found))
            text = text.format(n=number_text(len(found)))
        self.buttons["repeats"].say(text)

    # --- choosing -----------------------------------------------------------------------------

    def _choose_span(self, name: str) -> None:
        if name == ANY_DATES:
            self.page.turn_to("days")
            return
        self.looking.show_all()
        self.looking.span, self.looking.days = Span(name), None
        self.refresh(None)
        self.page.update_head()
        self.desk.say("")

    def _go(self) -> None:
        name = str(self.sender().property("view"))
        self.looking.show_all()
        if name == "list":
            self.looking.ways["time"] = Shows.LIST
            name = "time"
        elif name == "time" and self.looking.ways.get("time") == Shows.LIST:
            # This button promised a picture.
            self.looking.ways["time"] = Shows.PICTURE
        self.page.turn_to(name)
