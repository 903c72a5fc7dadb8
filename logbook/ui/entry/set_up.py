"""The short list after the first start: one thing at a time, and each of them can wait.

*Later* puts a thing off until the next start; what was put off three times is not asked again. It
stays in *My plan*, where each of them leads.
"""

from __future__ import annotations

from logbook.domain.settings import LogSettings
from logbook.ui.desk import Desk
from logbook.wording import _

_WHERE = "my_plan"
_MOST_TIMES = 3
_VIEWS = {"phone": "people", "targets": "targets", "fingers": "fingers"}


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
        questions = {
            "phone": _("For later: whom will you phone after a low?"),
            "targets": _("For later: which target numbers did your provider give you?"),
            "fingers": _("For later: which hand holds the lancing device? Do you prick both?"),
        }
        put_off = self._desk.preferences.put_off.split()
        for code, question in questions.items():
            is_over = code in self._not_now or put_off.count(code) >= _MOST_TIMES
            if not is_over and self._is_open(code):
                self._asked = code
                return question
        return ""

    def put_off(self) -> None:
        """Not now."""
        self._not_now.add(self._asked)
        self._note(1)

    def answer_now(self) -> None:
        """To the place where it is answered."""
        if self._asked == "fingers":
            self._note(_MOST_TIMES)  # who only looked has answered too: it stays as it was
        self._desk.go_to(f"{_WHERE}/{_VIEWS[self._asked]}")

    def _is_open(self, code: str) -> bool:
        book = self._desk.book
        match code:
            case "phone":
                return not any(one.role == "person" for one in book.contacts())
            case "targets":
                return not book.targets().all
            case _:
                settings, usual = book.settings, LogSettings()
                return settings.tracks_fingers and (
                    (settings.hand_with_device, settings.hands_pricked)
                    == (usual.hand_with_device, usual.hands_pricked)
                )

    def _note(self, times: int) -> None:
        noted = [*self._desk.preferences.put_off.split(), *[self._asked] * times]
        self._desk.prefer(put_off=" ".join(noted))
