"""*Fingers*: two drawn hands with what rested, what is sore or left out, what is next; the lancet.

This page turns between its views; what they show is in the modules beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from logbook.ui.pages.fingers_hands import HandsView
from logbook.ui.pages.fingers_lancet import LancetView
from logbook.ui.pages.fingers_one import LeaveOutView, OneFingerView
from logbook.ui.pages.fingers_puncture import PunctureView
from logbook.ui.pages.fingers_subject import FingerSubject
from logbook.ui.pages.fingers_work import WorkView
from logbook.ui.parts.marks import draw_fingers
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _


class Fingers(ViewPage):
    """The page; the finger that was chosen is kept as long as the window is open."""

    name = "fingers"
    sign = staticmethod(draw_fingers)

    @staticmethod
    def label() -> str:
        return _("Fingers")

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        self.subject = FingerSubject()
        return {
            "hands": partial(HandsView, subject=self.subject),
            "finger": partial(OneFingerView, subject=self.subject),
            "leave_out": partial(LeaveOutView, subject=self.subject),
            "work": partial(WorkView, subject=self.subject),
            "lancet": LancetView,
            "puncture": PunctureView,
        }
