"""The finger: what is advised, whether it was used, and the two steps to name another one."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.moments import Moment, Period
from logbook.domain.punctures import punctures_of
from logbook.domain.rest import SiteState, rests_of
from logbook.domain.rotation import Advice, advise, noted_for, sites_in_use
from logbook.domain.settings import LogSettings
from logbook.domain.sites import FINGERS, SIDES, Hand, Side, Site
from logbook.ui.desk import Desk
from logbook.ui.entry.step import Step
from logbook.ui.parts.big_button import BigButton, ButtonKind
from logbook.ui.parts.even_grid import EvenGrid
from logbook.ui.parts.hand_drawing import Pad, PadLook
from logbook.ui.parts.hands import Finger, HandsChooser, HandsPicture
from logbook.ui.parts.texts import Words
from logbook.ui.theme import GAP, ROW_FROM_PERCENT
from logbook.wording import _
from logbook.wording.sites import finger_text, rest_text, side_text, site_text

# Far enough back that every finger in use was pricked; one that was not is taken for never used.
_LOOKS_BACK_DAYS = 60


@dataclass(frozen=True, slots=True)
class FingerNews:
    """The advice and how every fingertip stands."""

    advice: Advice
    pads: dict[Finger, Pad]


def finger_news(desk: Desk, now: Moment, *, fingertips_only: bool = False) -> FingerNews:
    """What the log says about the fingers now."""
    settings = desk.book.settings
    today = now.day(settings.day_starts_at)
    period = Period.ending(today + timedelta(days=1), _LOOKS_BACK_DAYS)
    book = desk.book
    punctures = punctures_of(book.readings(period), book.happenings(period), book.puncture_notes())
    advice = advise(punctures, settings, now, fingertips_only=fingertips_only)
    sites = [Site(hand, finger, side) for hand in Hand for finger in FINGERS for side in SIDES]
    rests = {rest.site: rest for rest in rests_of(sites, punctures, settings, now)}
    in_use = {(site.hand, site.place) for site in sites_in_use(settings)}
    pads: dict[Finger, Pad] = {}
    for hand in Hand:
        for place in FINGERS:
            finger = (hand, place)
            both = [rests[Site(hand, place, side)] for side in SIDES]
            days = min((rest.days for rest in both if rest.days is not None), default=None)
            state = both[0].state
            is_out = noted_for(Site(hand, place), settings.left_out) is not None
            if advice.site is not None and finger == (advice.site.hand, advice.site.place):
                pads[finger] = Pad(PadLook.NEXT, advice.days, _words(advice.days, ""))
            elif state is SiteState.SORE:
                pads[finger] = Pad(PadLook.HATCHED, days, _words(days, _("Sore")))
            elif is_out:
                pads[finger] = Pad(PadLook.HATCHED, days, _words(days, _("Left out")))
            elif finger in in_use:
                pads[finger] = Pad(PadLook.RESTING, days, _words(days, ""))
            else:
                pads[finger] = Pad(PadLook.UNUSED, days, _words(days, _("Not in use")))
    return FingerNews(advice, pads)


def _words(days: int | None, state: str) -> str:
    rest = _("{rest}.").format(rest=rest_text(days))
    return f"{state}. {rest}" if state else rest


class FingerColumn(QWidget):
    """The small hands, the advice in words, and what to do about it."""

    confirmed = Signal()
    another_wanted = Signal()
    something_happened = Signal()

    def __init__(self, desk: Desk) -> None:
        super().__init__()
        self._desk = desk
        self._is_simple = False
        look = desk.look
        self.hands = HandsPicture(look)
        self.words = Words(look, role="body")
        self.wash = Words(look, role="quiet")
        self.used = BigButton(look, _("I used this finger"), ButtonKind.OTHER)
        self.used.setCheckable(True)
        self.another = BigButton(look, _("Another finger"), ButtonKind.OTHER)
        self.happened = BigButton(look, _("Something happened"), ButtonKind.OTHER)
        self.happened.describe(_("A low, help, a fall or a failed strip, without a number"))
        self.used.clicked.connect(self.confirmed)
        self.another.clicked.connect(self.another_wanted)
        self.happened.clicked.connect(self.something_happened)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        column.addWidget(self.hands)
        column.addWidget(self.words)
        column.addWidget(self.used)
        column.addWidget(self.another)
        column.addStretch(1)
        column.addWidget(self.wash)
        column.addWidget(self.happened)

    def set_simple(self, is_simple: bool) -> None:
        """Show the finger alone: nothing else to press or to read."""
        self._is_simple = is_simple
        if is_simple:
            self.used.let_wrap()

    def show_news(self, news: FingerNews, chosen: Site | None, settings: LogSettings) -> None:
        """Show the advice, or the finger that the person chose instead."""
        advised = news.advice.site
        has_fingers = settings.tracks_fingers
        self.wash.setText(
            _("Wash warm, with soap. Dry well. Hang the hand down. Do not squeeze hard.")
        )
        # In large text the words say it, and the keys need the height.
        is_large = self._desk.look.theme.percent >= ROW_FROM_PERCENT
        self.hands.setVisible(has_fingers and not (self._is_simple and is_large))
        self.another.setVisible(has_fingers and not self._is_simple)
        self.wash.setVisible(not self._is_simple)
        pads = dict(news.pads)
        shown = chosen or advised
        if chosen is not None:
            finger = (chosen.hand, chosen.place)
            pads[finger] = Pad(PadLook.NEXT, None, "", is_chosen=True)
        self.hands.show_pads(pads)
        if not has_fingers:
            self.words.say("")
        elif shown is None:
            self.words.say(_("No finger is free. Choose one yourself."))
        elif chosen is not None and chosen != advised:
            self.words.say(_("You used: {site}.").format(site=site_text(chosen)))
        else:
            self.words.say(
                _("{site}. {rest}.").format(site=site_text(shown), rest=rest_text(news.advice.days))
            )
        self.hands.setAccessibleName(_("Hands, palms up"))
        self.hands.setAccessibleDescription(self.words.text())
        # Who always follows the advice need not say so each time.
        needs_word = shown is not None and not settings.always_follows_advice
        self.used.setVisible(has_fingers and needs_word)
        self.used.setChecked(chosen is not None)


class FingerStep(Step):
    """The hands large; then the side."""

    finger_chosen = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.title.setText(_("Which finger did you use? Numbers are days of rest."))
        self.hands = HandsChooser(desk.look)
        self.hands.finger_chosen.connect(self.finger_chosen)
        self.column.addWidget(self.hands)
        self.column.addStretch(1)

    def show_news(self, news: FingerNews) -> None:
        """Show how every fingertip stands."""
        self.hands.show_pads(news.pads)

    def set_first_focus(self) -> None:
        """Begin with the advised finger, so that the arrows move from there."""
        advised = [b for b in self.hands.buttons.values() if b.pad.look is PadLook.NEXT]
        button = advised[0] if advised else next(iter(self.hands.buttons.values()))
        button.setFocus()


class SideStep(Step):
    """Two big buttons for the side of one finger."""

    side_chosen = Signal(object)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self._finger: Finger | None = None
        self._buttons: list[BigButton] = []
        self._row = EvenGrid(2)
        self.column.addLayout(self._row)
        for _side in SIDES:
            button = BigButton(desk.look, "", ButtonKind.TALL)
            button.setMinimumHeight(2 * desk.look.theme.key)
            button.clicked.connect(self._tell)
            self._row.addWidget(button)
            self._buttons.append(button)
        self.not_known = BigButton(desk.look, _("I do not know which side"), ButtonKind.OTHER)
        self.not_known.clicked.connect(self._tell_unknown)
        self.column.addWidget(self.not_known)
        self.column.addStretch(1)

    def ask(self, finger: Finger) -> None:
        """Ask for the side of this finger, in the order in which it lies before the eyes."""
        self._finger = finger
        hand, place = finger
        self.title.setText(_("{finger}: which side?").format(finger=finger_text(hand, place)))
        # Palms up, the left hand's thumb is at the left, the right hand's at the right.
        order = SIDES if hand is Hand.LEFT else tuple(reversed(SIDES))
        for button, side in zip(self._buttons, order, strict=True):
            button.setText(side_text(place, side))
            button.setProperty("side", side.value)
            button.describe(finger_text(hand, place))

    def set_first_focus(self) -> None:
        """Begin at the left."""
        self._buttons[0].setFocus()

    def _tell(self) -> None:
        if self._finger is not None:
            side = Side(str(self.sender().property("side")))
            self.side_chosen.emit(Site(*self._finger, side))

    def _tell_unknown(self) -> None:
        if self._finger is not None:
            self.side_chosen.emit(Site(*self._finger, None))
