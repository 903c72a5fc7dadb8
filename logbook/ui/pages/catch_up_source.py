"""Where the rows of catching up stand: in which meter's memory, or on paper."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from logbook.domain.catch_up import From
from logbook.domain.kit.meters import Meter
from logbook.ui.parts.big_button import ButtonKind
from logbook.ui.parts.form_rows import Choice
from logbook.ui.theme import GAP, Look
from logbook.wording import _
from logbook.wording.catch_up import from_text


class RowSource(QWidget):
    """Two choices, the second only with several meters. Emits `changed`."""

    changed = Signal()

    def __init__(self, look: Look, meters: Sequence[Meter], in_use: Meter | None) -> None:
        super().__init__()
        self._meters = tuple(meters)
        self._origin = Choice(
            look,
            _("Where do the numbers stand?"),
            [(origin, from_text(origin)) for origin in From],
            kind=ButtonKind.CHIP,
            shows_label=False,
        )
        self._origin.choose(From.METER)
        self._which = Choice(
            look,
            _("Which meter?"),
            [(meter.id, meter.name) for meter in meters],
            columns=3,
            kind=ButtonKind.CHIP,
        )
        self._which.choose(in_use.id if in_use else None)
        if len(self._meters) < 2:
            self._which.hide()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GAP)
        for choice in (self._origin, self._which):
            choice.chosen.connect(self.changed)
            column.addWidget(choice)

    @property
    def origin(self) -> From:
        """Where the rows are copied from."""
        origin: From = self._origin.value
        return origin

    def choose(self, origin: From) -> None:
        """Show this as chosen; emits nothing."""
        self._origin.choose(origin)

    @property
    def meter(self) -> Meter | None:
        """The meter whose memory is copied; for paper the one in use."""
        return next((one for one in self._meters if one.id == self._which.value), None)

    @property
    def clock_ahead(self) -> timedelta:
        """How far the clock that the rows are told by runs ahead; paper has none."""
        is_meter = self.origin is From.METER
        return self.meter.clock_ahead if is_meter and self.meter is not None else timedelta(0)
