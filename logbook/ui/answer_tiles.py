"""Yes, No and Not sure for one question about medicines and health, and keeping the answer."""

from __future__ import annotations

from dataclasses import replace
from uuid import uuid4

from PySide6.QtWidgets import QVBoxLayout

from logbook.domain.ticks import About, Tick, Told
from logbook.ui.desk import Desk
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.texts import Words
from logbook.wording.ticks import about_question, told_text


class AnswerTiles(Choice):
    """The three answers to the question `about`; a screen reader gets the question with each.

    With `shows_label` the question stands above them, and `help_text` below it.
    """

    def __init__(
        self, desk: Desk, about: About, *, shows_label: bool = False, help_text: str = ""
    ) -> None:
        super().__init__(
            desk.look,
            about_question(about),
            [(told, told_text(told)) for told in Told],
            columns=3,
            shows_label=shows_label,
        )
        self.about = about
        layout = self.layout()
        if help_text and isinstance(layout, QVBoxLayout):
            layout.insertWidget(1, Words(desk.look, help_text))


def write_tick(desk: Desk, about: About, told: Told) -> bool:
    """Keep an answer from today on; whether it could be kept."""
    now, today = desk.now().instant, desk.today()
    tick = desk.book.ticks().in_force(about, today)
    if tick is None or tick.holds_from < today:
        return desk.write(desk.book.add, Tick(uuid4(), about, told, today, now)) is not None
    # A second answer on one day puts the first one right.
    return desk.write(desk.book.replace, replace(tick, told=told, written_at=now)) is not None
