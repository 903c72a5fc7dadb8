"""What the columns of a file mean: guessed, shown, and changed by the person, until it is certain.

A `Draft` becomes a layout, the same as one that a person writes as a file, and so can be kept.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum

from logbook.domain.glucose import Unit
from logbook.domain.slots import Slot
from logbook.exchange import known_words
from logbook.exchange.column_guess import guess_columns
from logbook.exchange.first_look import FirstLook
from logbook.exchange.layout import COLUMNS, Layout, plain_text
from logbook.exchange.layout_check import check_layout
from logbook.exchange.pattern_guess import (
    Written,
    dates_written,
    moments_written,
    times_written,
)
from logbook.exchange.unit_guess import UnitDoubt, UnitEvidence, unit_evidence

NOT_WANTED = ""
CONTROL_TEST = "control test"
# A column of times of day has few different texts; one with more is something else.
MOST_MEANINGS = 60
_AS_TYPED = {"date": "%Y-%m-%d", "time": "%H:%M", "moment": "%Y-%m-%d %H:%M"}


class Lack(StrEnum):
    """What a draft needs before it can become a layout."""

    DATE = "date"
    TIME = "time"
    VALUE = "value"
    UNIT = "unit"
    DATE_UNREADABLE = "date_unreadable"
    TIME_UNREADABLE = "time_unreadable"
    DAY_ORDER = "day_order"
    TOO_MANY_WORDS = "too_many_words"


class Beside(StrEnum):
    """What becomes of a line that is no reading."""

    NOTE = "note"
    LEFT_OUT = "left_out"


Meaning = Slot | Beside


@dataclass(frozen=True, slots=True)
class Draft:
    """The columns' meanings as they stand.

    `columns` has for each column of the look one of `layout.COLUMNS`, or `NOT_WANTED`. `unit` is
    what the person said of it and `is_day_first` what they said of dates such as 03/04/2026; None
    while they said nothing. `meanings` are what the person said of words in the columns of times
    and kinds, by the plain text.
    """

    look: FirstLook
    columns: tuple[str, ...]
    unit: Unit | None = None
    is_day_first: bool | None = None
    meanings: Mapping[str, Meaning] = field(default_factory=dict)

    @classmethod
    def of(cls, look: FirstLook) -> Draft:
        """What the file itself tells."""
        return cls(look, guess_columns(look))

    # --- what the person changes -----------------------------------------------------------------

    def with_column(self, place: int, column: str) -> Draft:
        """The same with another meaning of one column; whichever had it before is not wanted."""
        assert column in (*COLUMNS, NOT_WANTED)
        columns = [NOT_WANTED if column and one == column else one for one in self.columns]
        columns[place] = column
        if column in ("date", "time"):
            columns = [NOT_WANTED if one == "moment" else one for one in columns]
        if column == "moment":
            columns = [NOT_WANTED if one in ("date", "time") else one for one in columns]
        return replace(self, columns=tuple(columns))

    def with_meaning(self, text: str, meaning: Meaning) -> Draft:
        """The same with another meaning of a word."""
        return replace(self, meanings={**self.meanings, plain_text(text): meaning})

    # --- what is known ---------------------------------------------------------------------------

    def place(self, column: str) -> int | None:
        """Where a column stands, from 0."""
        return self.columns.index(column) if column in self.columns else None

    def written(self, column: str) -> Written | None:
        """How the dates, times or moments of a column are written; None where that is not told."""
        place = self.place(column)
        if place is None:
            return None
        typed = {type(row.moments[place]) for row in self.look.rows if place in row.moments}
        cells = [
            row.fields[place]
            for row in self.look.rows
            if row.reason is None and place < len(row.fields) and place not in row.moments
        ]
        if column == "date":
            found = dates_written(cells, is_day_first=self.is_day_first, is_said=True)
        elif column == "time":
            found = times_written(cells, is_said=True)
        else:
            found = moments_written(cells, is_day_first=self.is_day_first, is_said=True)
        if found is None and typed:
            return Written(_AS_TYPED[column], 1.0)
        return found

    @property
    def evidence(self) -> UnitEvidence:
        """What the file tells of the unit."""
        return unit_evidence(self.look, self.place("value"), self.place("unit"), self._is_beside)

    @property
    def unit_doubt(self) -> UnitDoubt | None:
        """Why the unit has to be asked; None when it is certain, or the person said it."""
        if self.place("value") is None or self.unit is not None:
            return None
        return self.evidence.doubt

    @property
    def unit_in_force(self) -> Unit | None:
        """The unit of lines that name none; None while it is to be asked."""
        if self.unit is not None:
            return self.unit
        return None if self.unit_doubt is not None else self.evidence.certain

    def words(self, column: str) -> list[str]:
        """The different texts of a column, the most usual first."""
        place = self.place(column)
        if place is None:
            return []
        counts: dict[str, int] = {}
        for cell in self.look.cells(place):
            counts[plain_text(cell)] = counts.get(plain_text(cell), 0) + 1
        return sorted(filter(None, counts), key=lambda text: -counts[text])

    def meaning(self, column: str, text: str) -> Meaning | None:
        """What a word of a column means: as the person said, else as it is known.

        None in the column of kinds: the line is a reading like others.
        """
        plain = plain_text(text)
        if plain in self.meanings:
            return self.meanings[plain]
        if known_words.is_control(plain):
            return Beside.LEFT_OUT
        slot = known_words.slot_named(plain)
        if column == "kind":
            is_other = not known_words.is_reading(plain) and known_words.is_beside(plain)
            return Beside.NOTE if is_other else None
        if slot is not None:
            return slot
        return Beside.NOTE if known_words.is_beside(plain) else Slot.OTHER

    def is_known(self, column: str, text: str) -> bool:
        """Whether a word's meaning is more than a way out."""
        plain = plain_text(text)
        return (
            plain in self.meanings
            or known_words.is_control(plain)
            or known_words.is_beside(plain)
            or (column == "kind" and known_words.is_reading(plain))
            or known_words.slot_named(plain) is not None
        )

    def lacks(self) -> tuple[Lack, ...]:
        """What is still to be said, the first first."""
        found = [*self._lacks_of_when()]
        if self.place("value") is None:
            found.append(Lack.VALUE)
        elif self.unit_in_force is None:
            found.append(Lack.UNIT)
        if any(len(self.words(column)) > MOST_MEANINGS for column in ("slot", "kind")):
            found.append(Lack.TOO_MANY_WORDS)
        return tuple(found)

    def _lacks_of_when(self) -> list[Lack]:
        if self.place("moment") is not None:
            needed = [("moment", Lack.DATE, Lack.DATE_UNREADABLE)]
        else:
            needed = [
                ("date", Lack.DATE, Lack.DATE_UNREADABLE),
                ("time", Lack.TIME, Lack.TIME_UNREADABLE),
            ]
        found = []
        for column, missing, unreadable in needed:
            written = self.written(column)
            if self.place(column) is None:
                found.append(missing)
            elif written is None:
                found.append(unreadable)
            elif written.is_order_open:
                found.append(Lack.DAY_ORDER)
        return found

    def _is_beside(self, fields: Sequence[str]) -> bool:
        """Whether a row is no reading, by its words."""
        for column in ("kind", "slot"):
            place = self.place(column)
            if place is not None and place < len(fields):
                meaning = self.meaning(column, fields[place])
                if isinstance(meaning, Beside):
                    return True
        return False

    # --- the layout ------------------------------------------------------------------------------

    def table(self, name: str) -> dict[str, object]:
        """The layout as the table that stands in its file. Only when nothing is lacking."""
        look = self.look
        unit = self.unit_in_force
        assert unit is not None
        table: dict[str, object] = {"name": name, "unit": unit.value}
        if look.form is None:
            table["sheet"] = look.sheet
        else:
            table |= {
                "delimiter": look.form.delimiter,
                "encoding": look.form.encoding,
                "quote": look.form.quote,
            }
        table["header"] = look.has_header
        table["lines_before"] = look.lines_before
        table["columns"] = {column: self._named(place) for column, place in self._wanted()}
        table["written"] = {
            column: written.pattern
            for column in ("date", "time", "moment")
            if (written := self.written(column)) is not None
        }
        table["meter_shows"] = self._meter_shows()
        table |= self._words_table()
        return {key: value for key, value in table.items() if value != {}}

    def layout(self, name: str) -> Layout:
        """The layout itself. Raises `LayoutWrong` for one that can't be."""
        return check_layout(self.table(name), name)

    def _wanted(self) -> list[tuple[str, int]]:
        places = [(column, place) for place, column in enumerate(self.columns) if column]
        return sorted(places, key=lambda item: COLUMNS.index(item[0]))

    def _named(self, place: int) -> int | str:
        """The heading of a column where it names one alone, else its number from 1."""
        titles = [plain_text(heading) for heading in self.look.headings]
        title = titles[place]
        if self.look.has_header and title and titles.count(title) == 1:
            return title
        return place + 1

    def _meter_shows(self) -> dict[str, list[str]]:
        place = self.place("value")
        assert place is not None
        texts = {plain_text(cell) for cell in self.look.cells(place)}
        low = {"lo", "low"} | {text for text in texts if known_words.reads_low(text)}
        high = {"hi", "high"} | {text for text in texts if known_words.reads_high(text)}
        return {"low": sorted(low), "high": sorted(high)}

    def _words_table(self) -> dict[str, object]:
        slots: dict[str, str] = {}
        notes: dict[str, dict[str, str]] = {}
        skip: dict[str, dict[str, str]] = {}
        for column in ("slot", "kind"):
            for text in self.words(column):
                meaning = self.meaning(column, text)
                if meaning is Beside.NOTE:
                    notes.setdefault(column, {})[text] = text
                elif meaning is Beside.LEFT_OUT:
                    word = CONTROL_TEST if known_words.is_control(text) else text
                    skip.setdefault(column, {})[text] = word
                elif column == "slot" and isinstance(meaning, Slot):
                    slots[text] = meaning.value
        if self.place("slot") is not None:
            slots[""] = Slot.OTHER.value
        # A kind that only comes after the rows looked at must not come in as a reading.
        kinds = [
            text
            for text in self.words("kind")
            if not isinstance(self.meaning("kind", text), Beside)
        ]
        behind = {known_words.parted_from_unit(text)[1] for text in self.words("value")}
        units = {
            text: unit.value
            for text in (*self.words("unit"), *sorted(behind))
            if (unit := known_words.unit_named(text)) is not None
        }
        found: dict[str, object] = {"units": units, "slots": slots, "notes": notes, "skip": skip}
        return found if self.place("kind") is None else {"kinds": ["", *kinds], **found}
