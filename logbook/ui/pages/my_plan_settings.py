"""What the views of *My plan* share: one press on a tile changes one setting, at once."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from logbook.book import Changed
from logbook.domain.settings import LogSettings
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage


class SettingsView(View):
    """A view of settings of the log: `add_setting` for each, `save` for the rest."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows = Form(self.look)
        self.column.addWidget(self.rows)
        self.column.addStretch(1)
        self.choices: dict[str, Choice] = {}

    @property
    def settings(self) -> LogSettings:
        """The settings of the log as they are now."""
        return self.desk.book.settings

    def add_setting(
        self,
        field: str,
        label: str,
        options: Sequence[tuple[Any, str]],
        *,
        columns: int = 2,
        several: bool = False,
    ) -> Choice:
        """Tiles for one field of the settings; `saved_text` tells what a press did."""
        choice = self.rows.add_choice(label, options, columns=columns, several=several)
        choice.setProperty("field", field)
        choice.chosen.connect(self._take)
        self.choices[field] = choice
        return choice

    def wanted(self, field: str, value: Any) -> LogSettings:
        """The settings after a press."""
        given: dict[str, Any] = {field: value}
        return replace(self.settings, **given)

    def saved_text(self, field: str) -> str:
        """What is said after `field` was changed."""
        raise NotImplementedError

    def save(self, message: str, **fields: Any) -> bool:
        """Keep other settings and say so; False when that did not work."""
        wanted = replace(self.settings, **fields)
        is_saved = self.desk.write(self.desk.book.save_settings, wanted) is not None
        if is_saved:
            self.desk.say(message)
        return is_saved

    def refresh(self, changed: Changed | None) -> None:
        settings = self.settings
        for field, choice in self.choices.items():
            choice.choose(getattr(settings, field))

    def _take(self, value: object) -> None:
        field = str(self.sender().property("field"))
        wanted = self.wanted(field, value)
        if self.desk.write(self.desk.book.save_settings, wanted) is not None:
            self.desk.say(self.saved_text(field))
        else:
            self.refresh(None)
