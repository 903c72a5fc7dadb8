"""Checking a layout: every key is known, every value is right, and nothing is left to guess."""

from __future__ import annotations

from collections.abc import Mapping

from logbook.domain.errors import BadMoment, LayoutWrong, LogbookError
from logbook.domain.glucose import Unit
from logbook.domain.moments import find_zone
from logbook.domain.sites import Site
from logbook.domain.slots import Slot
from logbook.exchange.layout import COLUMNS, Layout, plain_text
from logbook.exchange.written_moments import Pattern, PatternWrong

MOST_COLUMNS = 1000
_NAMED_DELIMITERS = {"tab": "\t", "comma": ",", "semicolon": ";", "pipe": "|", "space": " "}
DELIMITERS = _NAMED_DELIMITERS | {sign: sign for sign in _NAMED_DELIMITERS.values()}
ENCODINGS = {
    "utf-8": "utf-8",
    "utf-8-sig": "utf-8-sig",
    "latin-1": "latin-1",
    "windows-1252": "cp1252",
    "utf-16": "utf-16",
    "utf-16-le": "utf-16-le",
    "utf-16-be": "utf-16-be",
    "windows-1250": "cp1250",
    "windows-1251": "cp1251",
    "windows-1253": "cp1253",
    "windows-1254": "cp1254",
    "latin-9": "iso8859-15",
    "mac-roman": "mac-roman",
    "shift-jis": "cp932",
    "gb18030": "gb18030",
    "big5": "big5",
    "euc-kr": "cp949",
}
QUOTES = {"none": "", "double": '"', "single": "'"}

# Columns that may only hold what the layout knows, so that leaving a line out can hang on them.
_SKIPPABLE = ("slot", "kind", "value", "unit")

KEYS = {
    "name": str,
    "delimiter": str,
    "encoding": str,
    "quote": str,
    "header": bool,
    "lines_before": int,
    "column_count": int,
    "unit": str,
    "zone": str,
    "columns": dict,
    "optional": list,
    "written": dict,
    "meter_shows": dict,
    "units": dict,
    "slots": dict,
    "sites": dict,
    "skip": dict,
    "notes": dict,
    "sheet": str,
    "kinds": list,
}


def check_layout(table: dict[str, object], file_name: str) -> Layout:
    """The layout of a table that was read from TOML.

    Raises `LayoutWrong` with the facts `key` (where, as `columns.value`), `why` and, where it
    helps, `value` and `known` (what would be right).
    """
    return _LayoutChecker(file_name).layout(table)


class _LayoutChecker:
    """Checks one table. Every complaint carries the file's name and the key."""

    def __init__(self, file_name: str) -> None:
        self.file_name = file_name

    def wrong(self, why: str, key: str, **facts: object) -> LayoutWrong:
        return LayoutWrong(self.file_name, why=why, key=key, **facts)

    def layout(self, table: dict[str, object]) -> Layout:
        for key, value in table.items():
            if key not in KEYS:
                raise self.wrong("unknown_key", key, known=sorted(KEYS))
            self.check_type(key, value, KEYS[key])
        columns = self.columns(table)
        written = self.texts(table, "written")
        for key in written:
            if key not in ("date", "time", "moment"):
                raise self.wrong("unknown_key", f"written.{key}", known=["date", "moment", "time"])
        has_header = bool(table.get("header", False))
        if not has_header:
            for key, place in columns.items():
                if isinstance(place, str):
                    raise self.wrong("heading_without_header", f"columns.{key}", value=place)
        unit = self.unit_named(table["unit"], "unit") if "unit" in table else None
        if unit is None and "unit" not in columns:
            raise self.wrong("missing_key", "unit")
        shows = self.meter_shows(table)
        return Layout(
            name=str(table.get("name", self.file_name)),
            delimiter=self.delimiter(table),
            encoding=self.one_of(table, "encoding", ENCODINGS, "utf-8"),
            quote=self.one_of(table, "quote", QUOTES, "double"),
            has_header=has_header,
            lines_before=self.count(table, "lines_before", 0),
            column_count=self.column_count(table, columns),
            unit=unit,
            zone=self.zone(table),
            columns=columns,
            optional=self.optional(table, columns),
            date=self.pattern(written, columns, "date"),
            time=self.pattern(written, columns, "time"),
            moment=self.pattern(written, columns, "moment"),
            low_texts=shows["low"],
            high_texts=shows["high"],
            units=self.units(table),
            slots=self.slots(table),
            sites=self.sites(table),
            skip=self.left_out(table, columns, "skip"),
            notes=self.left_out(table, columns, "notes"),
            sheet=str(table.get("sheet", "")),
            kinds=self.kinds(table, columns),
        )

    # --- single values ---------------------------------------------------------------------------

    def check_type(self, key: str, value: object, wanted: type) -> None:
        if not isinstance(value, wanted) or (wanted is int and isinstance(value, bool)):
            raise self.wrong("wrong_type", key, wanted=wanted.__name__)

    def one_of(self, table: dict[str, object], key: str, known: dict[str, str], usual: str) -> str:
        text = str(table.get(key, usual))
        if text not in known:
            raise self.wrong("unknown_value", key, value=text, known=sorted(known))
        return known[text]

    def delimiter(self, table: dict[str, object]) -> str:
        if "delimiter" not in table and "sheet" not in table:
            raise self.wrong("missing_key", "delimiter")
        return self.one_of(table, "delimiter", DELIMITERS, "comma")

    def count(self, table: dict[str, object], key: str, usual: int) -> int:
        number = table.get(key, usual)
        assert isinstance(number, int)
        if not 0 <= number <= MOST_COLUMNS:
            raise self.wrong("number_outside", key, value=number, least=0, most=MOST_COLUMNS)
        return number

    def column_count(
        self, table: dict[str, object], columns: Mapping[str, int | str]
    ) -> int | None:
        if "column_count" not in table:
            return None
        number = self.count(table, "column_count", 0)
        for key, place in columns.items():
            if isinstance(place, int) and place > number:
                raise self.wrong("number_outside", f"columns.{key}", value=place, most=number)
        return number

    def zone(self, table: dict[str, object]) -> str:
        name = str(table.get("zone", ""))
        if name:
            try:
                find_zone(name)
            except BadMoment as error:
                raise self.wrong("unknown_value", "zone", value=name) from error
        return name

    def unit_named(self, value: object, key: str) -> Unit:
        try:
            return Unit(str(value))
        except ValueError as error:
            known = [unit.value for unit in Unit]
            raise self.wrong("unknown_value", key, value=value, known=known) from error

    def pattern(
        self, written: dict[str, str], columns: Mapping[str, int | str], key: str
    ) -> Pattern | None:
        if key not in columns:
            if key in written:
                raise self.wrong("column_missing", f"written.{key}")
            return None
        if key not in written:
            raise self.wrong("missing_key", f"written.{key}")
        try:
            pattern = Pattern.compile(written[key])
        except PatternWrong as error:
            raise self.wrong("pattern_wrong", f"written.{key}", value=str(error)) from error
        wants_date, wants_time = key != "time", key != "date"
        has_right_date = pattern.has_date if wants_date else not pattern.has_any_date
        has_right_time = pattern.has_time if wants_time else not pattern.has_any_time
        has_right_offset = key == "moment" or not pattern.has_offset
        if not (has_right_date and has_right_time and has_right_offset):
            raise self.wrong("pattern_wrong", f"written.{key}", value=written[key])
        return pattern

    # --- tables ----------------------------------------------------------------------------------

    def texts(self, table: dict[str, object], key: str) -> dict[str, str]:
        """A table of texts; empty when it is not there."""
        found = table.get(key, {})
        assert isinstance(found, dict)
        for name, value in found.items():
            self.check_type(f"{key}.{name}", value, str)
        return found

    def columns(self, table: dict[str, object]) -> dict[str, int | str]:
        found = table.get("columns")
        if not isinstance(found, dict):
            raise self.wrong("missing_key", "columns")
        columns: dict[str, int | str] = {}
        for key, place in found.items():
            where = f"columns.{key}"
            if key not in COLUMNS:
                raise self.wrong("unknown_key", where, known=sorted(COLUMNS))
            columns[key] = self.column_place(where, place)
            if list(columns.values()).count(columns[key]) > 1:
                raise self.wrong("column_twice", where, value=place)
        if "moment" in columns:
            if unwanted := {"date", "time"} & columns.keys():
                raise self.wrong("moment_and_date", f"columns.{min(unwanted)}")
            columns_needed = ["value"]
        else:
            columns_needed = ["date", "time", "value"]
        for key in columns_needed:
            if key not in columns:
                raise self.wrong("missing_key", f"columns.{key}")
        return columns

    def column_place(self, where: str, place: object) -> int | str:
        """A number from 1, or a heading."""
        if isinstance(place, bool) or not isinstance(place, int | str):
            raise self.wrong("wrong_type", where, wanted="int")
        if isinstance(place, int) and not 1 <= place <= MOST_COLUMNS:
            raise self.wrong("number_outside", where, value=place, least=1, most=MOST_COLUMNS)
        if isinstance(place, str) and not place.strip():
            raise self.wrong("unknown_value", where, value=place)
        return place if isinstance(place, int) else plain_text(place)

    def optional(
        self, table: dict[str, object], columns: Mapping[str, int | str]
    ) -> frozenset[str]:
        """Columns named by a heading that a file may do without."""
        found = table.get("optional", [])
        assert isinstance(found, list)
        for column in found:
            self.check_type("optional", column, str)
            if column not in columns:
                raise self.wrong("column_missing", "optional")
            is_needed = column in ("date", "time", "moment", "value") or (
                column == "unit" and "unit" not in table
            )
            if is_needed or isinstance(columns[column], int):
                raise self.wrong("unknown_value", "optional", value=column)
        return frozenset(found)

    def meter_shows(self, table: dict[str, object]) -> dict[str, frozenset[str]]:
        found = table.get("meter_shows", {})
        assert isinstance(found, dict)
        shows = {"low": frozenset({"lo"}), "high": frozenset({"hi"})}
        for key, value in found.items():
            where = f"meter_shows.{key}"
            if key not in shows:
                raise self.wrong("unknown_key", where, known=sorted(shows))
            if not isinstance(value, list) or not all(isinstance(text, str) for text in value):
                raise self.wrong("wrong_type", where, wanted="list")
            texts = frozenset(plain_text(text) for text in value)
            if any(not text or text.isdecimal() for text in texts):
                raise self.wrong("unknown_value", where, value=", ".join(sorted(texts)))
            shows[key] = texts
        if both := shows["low"] & shows["high"]:
            raise self.wrong("text_twice", "meter_shows", value=min(both))
        return shows

    def units(self, table: dict[str, object]) -> dict[str, Unit]:
        units = {plain_text(unit.value): unit for unit in Unit}
        for text, value in self.texts(table, "units").items():
            units[plain_text(text)] = self.unit_named(value, f"units.{text}")
        return units

    def slots(self, table: dict[str, object]) -> dict[str, Slot]:
        if "slots" not in table:
            return {slot.value: slot for slot in Slot} | {"": Slot.OTHER}
        slots = {}
        for text, value in self.texts(table, "slots").items():
            try:
                slots[plain_text(text)] = Slot(value)
            except ValueError as error:
                known = [slot.value for slot in Slot]
                where = f"slots.{text}"
                raise self.wrong("unknown_value", where, value=value, known=known) from error
        return slots

    def sites(self, table: dict[str, object]) -> dict[str, Site]:
        sites = {}
        for text, value in self.texts(table, "sites").items():
            try:
                sites[plain_text(text)] = Site.from_code(value)
            except LogbookError as error:
                raise self.wrong("unknown_value", f"sites.{text}", value=value) from error
        return sites

    def kinds(
        self, table: dict[str, object], columns: Mapping[str, int | str]
    ) -> frozenset[str] | None:
        """The kinds of line that are readings; None where that is not said."""
        found = table.get("kinds")
        if found is None:
            return None
        assert isinstance(found, list)
        if "kind" not in columns:
            raise self.wrong("column_missing", "kinds")
        for text in found:
            self.check_type("kinds", text, str)
        return frozenset(plain_text(text) for text in found)

    def left_out(
        self, table: dict[str, object], columns: Mapping[str, int | str], key: str
    ) -> dict[str, dict[str, str]]:
        """The texts of `skip` or `notes`: lines that are no readings, with a word for each."""
        found = table.get(key, {})
        assert isinstance(found, dict)
        left_out = {}
        for column, texts in found.items():
            where = f"{key}.{column}"
            if column not in _SKIPPABLE:
                raise self.wrong("unknown_key", where, known=sorted(_SKIPPABLE))
            if column not in columns:
                raise self.wrong("column_missing", where)
            self.check_type(where, texts, dict)
            assert isinstance(texts, dict)
            for text, word in texts.items():
                self.check_type(f"{where}.{text}", word, str)
                if column == "slot" and plain_text(text) in self.slots(table):
                    raise self.wrong("text_twice", f"{where}.{text}", value=text)
            left_out[column] = {plain_text(text): str(word) for text, word in texts.items()}
        return left_out
