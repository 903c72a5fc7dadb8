"""More about a reading: feelings, what was different, hands, which meter, a note. All can wait."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.kit.meters import Meter
from logbook.domain.readings import Difference, Feeling
from logbook.ui.desk import Desk
from logbook.ui.draft import Draft
from logbook.ui.entry.step import Step
from logbook.ui.parts.form_rows import Choice, FormRows
from logbook.ui.parts.texts import Words
from logbook.wording import _, cautions
from logbook.wording.terms import difference_text, feeling_text


class MoreStep(Step):
    """Fills the draft; `changed` after each touch."""

    changed = Signal()

    def __init__(self, desk: Desk, title: str = "", main: str = "") -> None:
        super().__init__(desk)
        self.title.setText(title or _("More about this check"))
        self._main = main or _("Back to the number")
        self._draft = Draft()
        rows = FormRows(desk.look)
        self.feelings = rows.add_choice(
            _("How did you feel?"),
            [(feeling, feeling_text(feeling)) for feeling in Feeling],
            (),
            columns=4,
            several=True,
        )
        self.differences = rows.add_choice(
            _("What was different?"),
            [(difference, difference_text(difference)) for difference in Difference],
            (),
            columns=4,
            several=True,
        )
        self.washing = rows.add_choice(
            _("Hands"), [(True, _("Could not wash"))], (), columns=2, several=True
        )
        self.wipe = Words(desk.look, cautions.could_not_wash())
        rows.add_widget(self.wipe)
        self.meters: Choice | None = None
        self._of_meters = QWidget()
        QVBoxLayout(self._of_meters).setContentsMargins(0, 0, 0, 0)
        rows.add_widget(self._of_meters)
        self.note = rows.add_note(_("Note"), lines=2)
        for choice in (self.feelings, self.differences, self.washing):
            choice.chosen.connect(self._take)
        self.note.textChanged.connect(self._take)
        self.column.addWidget(rows)
        self.column.addStretch(1)

    def fill(self, draft: Draft) -> None:
        """Show what this draft holds and fill it from now on."""
        self._draft = Draft()
        self.feelings.choose(draft.feelings)
        self.differences.choose(draft.differences)
        self.washing.choose((True,) if draft.could_not_wash else ())
        self.note.setPlainText(draft.note)
        self.wipe.setVisible(draft.could_not_wash)
        self._draft = draft

    def offer_meters(self, meters: Sequence[Meter], in_use: Meter | None) -> None:
        """Ask which of several meters it was; with one there is nothing to ask."""
        if self.meters is not None:
            self.meters.hide()
            self.meters.deleteLater()
        self.meters = None
        self._of_meters.setVisible(len(meters) > 1)
        if len(meters) > 1:
            named = [(meter.id, meter.name) for meter in meters]
            self.meters = Choice(self.desk.look, _("Which meter?"), named, columns=4)
            self.meters.choose(self._draft.meter_id or (in_use and in_use.id))
            self.meters.chosen.connect(self._take_meter)
            layout = self._of_meters.layout()
            assert layout is not None
            layout.addWidget(self.meters)

    def back_text(self) -> str:
        return ""

    def main_text(self) -> str:
        return self._main

    def main(self) -> None:
        self.left.emit()

    def _take_meter(self, meter_id: UUID) -> None:
        self._draft.meter_id = meter_id
        self.changed.emit()

    def _take(self) -> None:
        draft = self._draft
        draft.feelings = self.feelings.value
        draft.differences = self.differences.value
        draft.could_not_wash = bool(self.washing.value)
        draft.note = self.note.toPlainText()
        self.wipe.setVisible(draft.could_not_wash)
        self.changed.emit()
