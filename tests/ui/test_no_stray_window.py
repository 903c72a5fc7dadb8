"""No view comes up as a window of its own: it would take the keyboard away and never go."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from logbook.demo.making import make_demo_log
from logbook.domain.moments import Moment
from logbook.ui.main_window import MainWindow
from logbook.ui.page import Page
from logbook.ui.pages.fingers import Fingers
from logbook.ui.pages.kit import Kit
from logbook.ui.pages.look_back import LookBack
from logbook.ui.pages.my_plan import MyPlan
from logbook.ui.pages.visit import Visit
from logbook.ui.pages.write_down import WriteDown
from logbook.ui.parts.view_page import ViewPage
from tests.ui.writing_window import NOON, ZONE, settle, writing_window

PAGES: tuple[type[Page], ...] = (WriteDown, Fingers, Kit, LookBack, Visit, MyPlan)
# These need something that was chosen or read before.
NEED_MORE = ("import_", "correct", "cross_out", "erase_note")


class Strays(QObject):
    """Notes every window that is shown besides the program's own."""

    def __init__(self) -> None:
        super().__init__()
        self.found: set[str] = set()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:  # noqa: N802 (Qt's name)
        is_window = isinstance(watched, QWidget) and watched.isWindow()
        if event.type() is QEvent.Type.Show and is_window and not isinstance(watched, MainWindow):
            self.found.add(type(watched).__name__)
        return False


@pytest.fixture
def strays() -> Iterator[Strays]:
    application = QApplication.instance()
    assert application is not None
    watch = Strays()
    application.installEventFilter(watch)
    yield watch
    application.removeEventFilter(watch)


@pytest.mark.parametrize("name", [page.name for page in PAGES[1:]])
def test_no_view_opens_a_window(qtbot: QtBot, tmp_path: Path, strays: Strays, name: str) -> None:
    make_demo_log(tmp_path / "my.logbook", Moment.at(NOON, ZONE))
    with writing_window(tmp_path, pages=PAGES) as person:
        person.window.show_page(name)
        settle()
        page = person.window.page
        assert isinstance(page, ViewPage)
        if isinstance(page, Kit):
            page.meter_id = next(one.id for one in person.book.meters() if one.is_own)
        for view in page.makers:
            if not view.startswith(NEED_MORE):
                page.turn_to(view)
                settle()
        assert strays.found == set()


def test_a_window_of_its_own_is_noticed(qtbot: QtBot, strays: Strays) -> None:
    """The control."""
    stray = QWidget()
    qtbot.addWidget(stray)
    stray.show()
    assert strays.found == {"QWidget"}
