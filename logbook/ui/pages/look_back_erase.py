"""Erasing the words of a note for good: what goes, what stays, and two presses on the same place.

It is the one thing that can't be undone, so the second press is asked for in other words.
"""

from __future__ import annotations

from logbook.domain.readings import Reading
from logbook.ui.pages.look_back_entry_words import reading_name, told_name, told_note
from logbook.ui.pages.look_back_looking import Looking, WithoutNumber, find_told
from logbook.ui.parts.paragraph import Paragraph
from logbook.ui.parts.sentences import Sentences
from logbook.ui.parts.view_page import View, ViewPage
from logbook.wording import _
from logbook.wording.copies import older_copies_text


class EraseNoteView(View):
    """The note of a reading, or of what was written down without a number."""

    back = "time"

    def __init__(self, page: ViewPage, looking: Looking) -> None:
        super().__init__(page)
        assert looking.subject is not None
        self._is_asked_again = False
        self.record: Reading | WithoutNumber
        book = self.desk.book
        without_number = find_told(book, looking.subject)
        if without_number is None:
            self.record = book.reading(looking.subject)
            self._name = reading_name(self.record, book.settings.day_starts_at)
            words = " ".join(self.record.note.split())
        else:
            self.record = without_number
            self._name = told_name(without_number, book.settings.day_starts_at)
            words = told_note(without_number)
        self.column.addWidget(Paragraph(self.look, self._name, "heading"))
        self.column.addWidget(Paragraph(self.look, words))
        told = Sentences(self.look)
        self.column.addWidget(told)
        told.say(
            (
                _("The words go from the log, from its journal and from what Undo can bring back."),
                _("The entry itself stays, with its number and its time."),
                *older_copies_text(book.older_copies(self.record.written_at)),
            )
        )
        self.column.addStretch(1)

    def title(self) -> str:
        return _("Erase the words of this note?")

    def main_text(self) -> str:
        return _("Yes, erase them for good") if self._is_asked_again else _("Erase these words")

    def do_main(self) -> None:
        if not self._is_asked_again:
            self._is_asked_again = True
            self.page.update_head()
            # In the bar, where it is in sight at every text size.
            self.desk.say(_("This can't be undone. Press once more to erase them for good."))
            return
        if self.desk.write(self.desk.book.erase_words, self.record) is not None:
            self.page.turn_to(
                "time",
                message=_("The words of the note are erased: {entry}.").format(entry=self._name),
            )
