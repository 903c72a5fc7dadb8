"""The short list after the first start: one thing at a time, and each of them can wait.

*Later* puts a thing off until the next start; what was put off three times is not asked again. It
stays in *My plan*, where each of them leads.
"""

from __future__ import annotations

from dataclasses import dataclass

from logbook.domain.settings import LogSettings
from logbook.domain.ticks import ABOUT_MEDICINES, FOOLS_THE_METER, About
from logbook.ui.desk import Desk
from logbook.wording import _, mark

_WHERE = "my_plan"
_MOST_TIMES = 3
_ASKED_AT_FIRST_START = frozenset({About.INSULIN, About.LOW_CAUSING_TABLETS})


@dataclass(frozen=True, slots=True)
class _Thing:
    """One thing of the list: its question, and the view of *My plan* where it is answered.

    `is_seen_once`: who only looked has answered too, and it stays as it was.
    """

    view: str
    question: str
    is_seen_once: bool = False


_THINGS = {
    "phone": _Thing("people", mark("For later: whom will you phone after a low?")),
    "sound": _Thing(
        "sound",
        mark("For later: can you hear this computer ring? After a low it reminds you to check."),
        is_seen_once=True,
    ),
    "medicines": _Thing(
        "know",
        mark("For later: do you take a beta blocker, a steroid or a blood thinner?"),
        is_seen_once=True,
    ),
    "meter": _Thing(
        "know_meter",
        mark("For later: could something fool your meter, such as anaemia or dialysis?"),
        is_seen_once=True,
    ),
    "targets": _Thing(
        "targets", mark("For later: which target numbers did your provider give you?")
    ),
    "fingers": _Thing(
        "fingers",
        mark("For later: which hand holds the lancing device? Do you prick both?"),
        is_seen_once=True,
    ),
    "copies": _Thing(
        "stick",
        mark("For later: do you want a copy of your log on a USB stick?"),
        is_seen_once=True,
    ),
}


class SetUp:
    """What is still to be answered in *My plan*."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._not_now: set[str] = set()
        self._asked = ""

    def question(self) -> str:
        """The next question, or nothing."""
        if _WHERE not in self._desk.page_names:
            return ""
        put_off = self._desk.preferences.put_off.split()
        for code, thing in _THINGS.items():
            is_over = code in self._not_now or put_off.count(code) >= _MOST_TIMES
            if not is_over and self._is_open(code):
                self._asked = code
                return _(thing.question)
        return ""

    def put_off(self) -> None:
        """Not now."""
        self._not_now.add(self._asked)
        self._note(1)

    def answer_now(self) -> None:
        """To the place where it is answered."""
        thing = _THINGS[self._asked]
        if thing.is_seen_once:
            self._note(_MOST_TIMES)
        self._desk.go_to(f"{_WHERE}/{thing.view}")

    def _is_open(self, code: str) -> bool:
        book = self._desk.book
        match code:
            case "phone":
                return not any(one.role == "person" for one in book.contacts())
            case "sound":
                return self._desk.preferences.heard_ring is None
            case "medicines":
                return self._is_untold(frozenset(ABOUT_MEDICINES) - _ASKED_AT_FIRST_START)
            case "meter":
                return self._is_untold(frozenset(FOOLS_THE_METER))
            case "copies":
                return book.second_folder() is None and self._desk.only_read_because is None
            case "targets":
                return not book.targets().all
            case _:
                settings, usual = book.settings, LogSettings()
                return settings.tracks_fingers and (
                    (settings.hand_with_device, settings.hands_pricked)
                    == (usual.hand_with_device, usual.hands_pricked)
                )

    def _is_untold(self, group: frozenset[About]) -> bool:
        return not any(tick.about in group for tick in self._desk.book.ticks().all)

    def _note(self, times: int) -> None:
        noted = [*self._desk.preferences.put_off.split(), *[self._asked] * times]
        self._desk.prefer(put_off=" ".join(noted))
