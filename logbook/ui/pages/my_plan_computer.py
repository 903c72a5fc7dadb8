"""Views of *My plan*: how this computer shows and prints things. They change no log."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import time
from typing import Any

from logbook.book import Changed
from logbook.preferences import CONTRASTS, TEXT_SIZES
from logbook.report.options import Paper
from logbook.resources import resource_path
from logbook.ui.pages.visit_paper import chosen_paper
from logbook.ui.parts.big_button import BigButton
from logbook.ui.parts.form_rows import Choice
from logbook.ui.parts.paragraph import Form
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import DOMAIN, _, mark
from logbook.wording.dates import clock_text
from logbook.wording.manner import SOURCE_LANGUAGE, find_locale, manner
from logbook.wording.numbers import percent_text

_CONTRAST = {
    "light": mark("Light: dark letters on light paper"),
    "dark": mark("Dark: light letters on dark paper"),
    "strong": mark("Strong: black, white and yellow"),
}
_CONTRAST_NAME = {"light": mark("light"), "dark": mark("dark"), "strong": mark("strong")}


def contrast_text(contrast: str) -> str:
    """The theme's name inside a sentence."""
    return _(_CONTRAST_NAME[contrast])


class PreferencesView(View):
    """A view of this computer's choices; a press on a tile holds at once."""

    back = "home"

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.rows = Form(self.look)
        self.column.addWidget(self.rows)
        self.column.addStretch(1)
        self.choices: dict[str, Choice] = {}

    def add_preference(
        self, field: str, label: str, options: Sequence[tuple[Any, str]], *, columns: int = 3
    ) -> None:
        """Tiles for one field of the preferences."""
        choice = self.rows.add_choice(label, options, columns=columns)
        choice.setProperty("field", field)
        choice.chosen.connect(self._take)
        self.choices[field] = choice

    def value(self, field: str) -> object:
        """The value in use."""
        return getattr(self.desk.preferences, field)

    def said_text(self, field: str) -> str:
        """What is said after a change."""
        raise NotImplementedError

    def refresh(self, changed: Changed | None) -> None:
        for field, choice in self.choices.items():
            choice.choose(self.value(field))

    def _take(self, value: Any) -> None:
        field = str(self.sender().property("field"))
        is_kept = self.desk.prefer(**{field: value})
        self.refresh(None)
        if is_kept:
            self.desk.say(self.said_text(field))


class TextView(PreferencesView):
    """How large text and keys are, and their contrast."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self.add_preference(
            "text_percent",
            _("Text size"),
            [(size, percent_text(size)) for size in TEXT_SIZES],
            columns=len(TEXT_SIZES),
        )
        self.add_preference(
            "has_large_keys",
            _("Keys of the number, Save and Undo"),
            [(False, _("Usual, 2 centimetres")), (True, _("Extra large, 3 centimetres"))],
        )
        options = [(contrast, _(_CONTRAST[contrast])) for contrast in CONTRASTS]
        self.add_preference("contrast", _("Contrast"), options)

    def title(self) -> str:
        return _("What can you read best?")

    def said_text(self, field: str) -> str:
        preferences = self.desk.preferences
        if field == "text_percent":
            percent = percent_text(preferences.text_percent)
            return _("Text size is {percent} now.").format(percent=percent)
        if field == "contrast":
            contrast = contrast_text(preferences.contrast)
            return _("The contrast is {contrast} now.").format(contrast=contrast)
        if preferences.has_large_keys:
            return _("The keys are extra large now.")
        return _("The keys have their usual size now.")


class ClockView(PreferencesView):
    """Whether clock times run to 12 or to 24, and which paper the printer holds."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        options = [
            (False, _("12 hours, such as 7:30 PM")),
            (True, _("24 hours, such as 19:30")),
        ]
        self.add_preference("hours_24", _("Clock"), options)
        elsewhere = BigButton(self.look, _("The clock of another place"))
        elsewhere.clicked.connect(self._to_zone)
        self.rows.add_widget(elsewhere)
        self.add_preference(
            "paper",
            _("Paper"),
            [
                (Paper.LETTER.value, _("Letter, 8½ by 11 inches")),
                (Paper.A4.value, _("A4, 210 by 297 millimetres")),
            ],
        )

    def title(self) -> str:
        return _("Which clock and which paper do you use?")

    def value(self, field: str) -> object:
        if field == "paper":
            return chosen_paper(self.desk.preferences.paper).value
        return manner().has_24_hours

    def said_text(self, field: str) -> str:
        if field != "paper":
            return clock_kind_text(with_sample=True)
        is_letter = self.value(field) == Paper.LETTER.value
        return _("Reports come on letter paper.") if is_letter else _("Reports come on A4 paper.")

    def _to_zone(self) -> None:
        self.page.turn_to("zone")


class LanguageView(PreferencesView):
    """Offered only when there is more than one catalogue of sentences."""

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        options = [(language, language_text(language)) for language in found_languages()]
        self.add_preference("language", _("Language"), options)

    def title(self) -> str:
        return _("Which language do you read best?")

    def value(self, field: str) -> object:
        return self.desk.preferences.language or SOURCE_LANGUAGE

    def said_text(self, field: str) -> str:
        return _("The language changes when you open the window again.")


def clock_kind_text(*, with_sample: bool = False) -> str:
    """The clock in use, for the list of subjects or as a sentence."""
    hours = 24 if manner().has_24_hours else 12
    if not with_sample:
        return _("{hours} hours").format(hours=hours)
    return _("Half past seven in the evening is {time} now.").format(time=clock_text(time(19, 30)))


def found_languages() -> list[str]:
    """The languages there are sentences in: English, and every catalogue that came along."""
    try:
        folders = sorted(resource_path("locale").iterdir())
    except OSError:
        folders = []
    found = [one.name for one in folders if (one / "LC_MESSAGES" / f"{DOMAIN}.mo").is_file()]
    return [SOURCE_LANGUAGE, *(one for one in found if one != SOURCE_LANGUAGE)]


def language_text(language: str) -> str:
    """A language by its own name: "English", "Deutsch"."""
    name = find_locale(language or SOURCE_LANGUAGE).get_display_name()
    return (name or language).capitalize()
