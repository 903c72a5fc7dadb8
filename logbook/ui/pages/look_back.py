"""*Look back*: the readings over time and over the day, in words, in pictures, in tables.

This page turns between its views; what they show is in the modules beside it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtGui import QKeyEvent

from logbook.book import Changed
from logbook.ui.desk import Desk
from logbook.ui.pages.bring_in import ColumnsView, FileState, PickView
from logbook.ui.pages.bring_in_preview import PreviewView
from logbook.ui.pages.bring_in_questions import (
    ColumnView,
    FormView,
    OrderView,
    UnitView,
    WordsView,
)
from logbook.ui.pages.catch_up import CatchUpView
from logbook.ui.pages.catch_up_tally import TallyView
from logbook.ui.pages.look_back_beside import A1CView, AverageView
from logbook.ui.pages.look_back_choices import DaysView, KindView
from logbook.ui.pages.look_back_correct import CorrectView
from logbook.ui.pages.look_back_cross_out import CrossOutView
from logbook.ui.pages.look_back_day import DayView
from logbook.ui.pages.look_back_erase import EraseNoteView
from logbook.ui.pages.look_back_figures import FiguresView
from logbook.ui.pages.look_back_finder import Finder
from logbook.ui.pages.look_back_home import HomeView
from logbook.ui.pages.look_back_looking import Looking
from logbook.ui.pages.look_back_lows import LowsView
from logbook.ui.pages.look_back_over_time import OverTimeView
from logbook.ui.pages.look_back_pairs import PairsView
from logbook.ui.pages.look_back_repeats import RepeatsView
from logbook.ui.pages.look_back_ways import WaysView
from logbook.ui.parts.marks import draw_readings
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _


class LookBack(ViewPage):
    """The page; its choices hold as long as the window is open."""

    name = "look_back"
    sign = staticmethod(draw_readings)

    def __init__(self, desk: Desk) -> None:
        super().__init__(desk)
        self.older_button = self.add_action(_("Older"), self._older)
        self.older_button.describe(_("Shows the readings before these"))
        self.newer_button = self.add_action(_("Newer"), self._newer)
        self.newer_button.describe(_("Shows the readings after these"))
        self.update_head()

    @staticmethod
    def label() -> str:
        return _("Look back")

    def view_makers(self) -> dict[str, Callable[[ViewPage], View]]:
        self.looking = looking = Looking()
        self.finder = finder = Finder(self.desk)
        self.files = files = FileState()
        return {
            "main": partial(HomeView, looking=looking, finder=finder),
            "days": partial(DaysView, looking=looking),
            "repeats": partial(RepeatsView, looking=looking, finder=finder),
            "lows": partial(LowsView, looking=looking),
            "figures": partial(FiguresView, looking=looking),
            "time": partial(OverTimeView, looking=looking),
            "kind": partial(KindView, looking=looking),
            "day": partial(DayView, looking=looking),
            "pairs": partial(PairsView, looking=looking),
            "a1c": A1CView,
            "average": AverageView,
            "catch_up": CatchUpView,
            "tally": TallyView,
            "import": partial(PickView, state=files),
            "import_columns": partial(ColumnsView, state=files),
            "import_column": partial(ColumnView, state=files),
            "import_unit": partial(UnitView, state=files),
            "import_order": partial(OrderView, state=files),
            "import_words": partial(WordsView, state=files),
            "import_form": partial(FormView, state=files),
            "import_preview": partial(PreviewView, state=files),
            "correct": partial(CorrectView, looking=looking),
            "cross_out": partial(CrossOutView, looking=looking),
            "erase_note": partial(EraseNoteView, looking=looking),
        }

    def refresh(self, changed: Changed | None) -> None:
        # What was read before the change is no longer what the Book holds.
        self.looking.forget()
        self.finder.forget()
        super().refresh(changed)

    def update_head(self) -> None:
        super().update_head()
        self._offer_rows()

    def _show_head(self) -> None:
        super()._show_head()
        # The keys of a number have a Back of their own; here it says what it does.
        view = self.view
        is_asking = isinstance(view, CorrectView) and view.is_asking
        leaves = isinstance(view, CorrectView | CrossOutView | EraseNoteView) and not is_asking
        self.back_button.setText(_("Leave as it is") if leaves else _("Back"))
        self._offer_rows()

    def _offer_rows(self) -> None:
        if not hasattr(self, "newer_button"):
            return  # while the first view is made
        view = self.view if isinstance(self.view, WaysView | CatchUpView) else None
        is_paged = view is not None and (view.has_newer or view.has_older)
        for button, is_there in (
            (self.newer_button, view is not None and view.has_newer),
            (self.older_button, view is not None and view.has_older),
        ):
            # The other one must not move to where the finger is.
            policy = button.sizePolicy()
            policy.setRetainSizeWhenHidden(is_paged)
            button.setSizePolicy(policy)
            button.setVisible(is_there)

    def typed(self, event: QKeyEvent) -> bool:
        if isinstance(self.view, CorrectView) and self.view.typed(event):
            return True
        return super().typed(event)

    def _older(self) -> None:
        if isinstance(self.view, WaysView | CatchUpView):
            self.view.turn_rows(1)

    def _newer(self) -> None:
        if isinstance(self.view, WaysView | CatchUpView):
            self.view.turn_rows(-1)
