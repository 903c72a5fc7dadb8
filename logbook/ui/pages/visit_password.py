"""Views of the page *Visit*: the report with a password, for e-mail."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from logbook.domain.visit_data import VisitData
from logbook.exchange.phrases import WORDS_FOR_PDF, make_phrase
from logbook.report.locked import LEAST_LETTERS
from logbook.report.options import ReportOptions
from logbook.ui.desk import Desk
from logbook.ui.pages.visit_out import SaveView
from logbook.ui.pages.visit_paper import ReportPaper
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.view_page import View, ViewPage
from logbook.ui.work import Course
from logbook.wording import _
from logbook.wording.numbers import number_text

if TYPE_CHECKING:
    from logbook.ui.pages.visit import Visit


def locked_of(page: ViewPage) -> LockedReport:
    """The report with a password, of the page *Visit*."""
    visit: Visit = page  # type: ignore[assignment]
    return visit.locked


class LockedReport(ReportPaper):
    """The report of another paper, with `password`."""

    def __init__(self, desk: Desk, plain: ReportPaper, parent: QObject | None = None) -> None:
        super().__init__(desk, parent)
        self._plain = plain
        self.password = ""

    @property
    def name(self) -> str:
        return _("{report} locked").format(report=self._plain.name)

    def lock_with(self, password: str) -> None:
        """The plain report's choices, and this password."""
        self.choices = self._plain.choices
        self.password = password
        self.spoil()

    def job(self) -> Callable[[Course], bytes]:
        data = self._desk.book.visit_data(self.period, self._desk.now())
        return partial(_make, data, self.options, self.password)


class ReportSaveView(SaveView):
    """The report to a file, or first a password for it."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.lock = BigButton(self.look, _("Save with a password, for e-mail"))
        self.lock.clicked.connect(self._to_password)
        self.column.insertWidget(self.column.count() - 1, self.lock)

    def _to_password(self) -> None:
        self.page.turn_to("password")


class PasswordView(View):
    """Words drawn by chance, which the person may change, and what a password does."""

    back = "save"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._drawn = make_phrase(WORDS_FOR_PDF)
        self._told = Sentences(self.look)
        self.column.addWidget(self._told)
        self._told.say(
            (
                _("The file then opens only with these words. Write them down."),
                _("Tell them to your provider by phone, never in the same e-mail."),
                _("If they are lost, save the report once more with others."),
            )
        )
        form = Form(self.look)
        self.words = form.add_text(
            _("Words, or a password of your own"),
            self._drawn,
            help_text=_("Capital and small letters count, and so do spaces."),
        )
        self.column.addWidget(form)
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Which words should open the report?")

    def main_text(self) -> str:
        return _("Save with these words")

    @property
    def is_changed(self) -> bool:
        return self.words.text() != self._drawn

    def do_main(self) -> None:
        password = self.words.text().strip()
        problem = ""
        if len(password) < LEAST_LETTERS:
            problem = _("Use at least {n} letters, so that nobody guesses them.").format(
                n=number_text(LEAST_LETTERS)
            )
        fields = [self.words]
        if self.show_problems(fields, [(self.words, problem)] if problem else []):
            self._drawn = self.words.text()
            locked_of(self.page).lock_with(password)
            self.page.turn_to("password_save")


class PasswordSaveView(SaveView):
    """The report with its password to a file."""

    back = "home"

    def find_paper(self, page: ViewPage) -> ReportPaper:
        locked = locked_of(page)
        if not locked.password:
            locked.lock_with(make_phrase(WORDS_FOR_PDF))
        return locked

    def name_text(self) -> str:
        words = _("It opens with: {words}").format(words=locked_of(self.page).password)
        return super().name_text() + "\n" + words.replace("{", "{{").replace("}", "}}")


def _make(data: VisitData, options: ReportOptions, password: str, _course: Course) -> bytes:
    from logbook.report.locked import with_password
    from logbook.report.visit import visit_report

    return with_password(visit_report(data, options), password)
