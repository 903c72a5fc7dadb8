"""The short list after the first start: one thing at a time, and each of them can wait."""

from __future__ import annotations

from logbook.ui.desk import Desk
from logbook.wording import _

_WHERE = "my_plan"


class SetUp:
    """What is still to be answered in *My plan*. Put off is put off until the next start."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._put_off: set[str] = set()
        self._asked = ""

    def question(self) -> str:
        """The next question, or nothing."""
        if _WHERE not in self._desk.page_names:
            return ""
        book = self._desk.book
        people = [one for one in book.contacts() if one.role == "person"]
        open_questions = {
            "phone": (not people, _("For later: whom will you phone after a low?")),
            "targets": (
                not book.targets().all,
                _("For later: which target numbers did your provider give you?"),
            ),
        }
        for code, (is_open, question) in open_questions.items():
            if is_open and code not in self._put_off:
                self._asked = code
                return question
        return ""

    def put_off(self) -> None:
        """Not now."""
        self._put_off.add(self._asked)

    def answer_now(self) -> None:
        """To the page where it is answered."""
        self._desk.go_to(_WHERE)
