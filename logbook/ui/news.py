"""What changed in the Book, as a signal: the one way in which pages hear of it."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from logbook.book import Book, Changed


class News(QObject):
    """Emits `changed` (a `Changed`) after each change of the Book."""

    changed = Signal(object)

    def __init__(self, book: Book, parent: QObject | None = None) -> None:
        super().__init__(parent)
        book.listen(self._tell)

    def _tell(self, changed: Changed) -> None:
        self.changed.emit(changed)
