"""A view with fields to fill in: what was typed waits while another view is up."""

from __future__ import annotations

from logbook.ui.parts.view_page import View, ViewPage


class EditedView(View):
    """What a field tells of the person's changes is connected to `_edit`.

    `_is_edited` is set to false again once they are kept.
    """

    def __init__(self, page: ViewPage) -> None:
        super().__init__(page)
        self._is_edited = False

    @property
    def is_changed(self) -> bool:
        return self._is_edited

    def _edit(self) -> None:
        self._is_edited = True
