"""Words by which files from elsewhere name their columns, times of day and other entries.

Only for guessing: what is guessed is shown to the person, who may choose otherwise. The words are
those of spreadsheets people keep themselves, in a few languages; from memory, not checked.
"""

from __future__ import annotations

import re

from logbook.domain.glucose import Unit
from logbook.domain.slots import Slot
from logbook.exchange.layout import number_and_unit, plain_text

_HEADINGS = {
    "moment": ("date and time", "date/time", "datetime", "date time", "timestamp", "when taken"),
    "date": ("date", "day", "datum", "tag", "fecha", "data", "jour"),
    "time": ("time", "clock", "uhrzeit", "zeit", "hora", "heure", "ora", "tijd"),
    "value": (
        "glucose", "blood sugar", "sugar", "bg", "smbg", "value", "reading", "result", "meter",
        "glukose", "blutzucker", "bz", "wert", "glucosa", "glycémie", "glycemie", "glicemia",
        "mg/dl", "mmol/l", "mmol",
    ),
    "unit": ("unit", "units", "einheit", "unidad", "unité"),
    "slot": (
        "slot", "meal", "when", "time of day", "occasion", "marker", "tag", "context", "period",
        "code", "mahlzeit", "comida", "repas",
    ),
    "minutes_after": ("minutes after", "minutes", "min after", "after meal minutes"),
    "site": ("site", "finger", "side"),
    "note": (
        "note", "notes", "comment", "comments", "remark", "remarks", "bemerkung", "notiz", "nota",
        "notas", "remarque",
    ),
    "kind": ("kind", "type", "entry", "record", "event", "art", "tipo"),
}  # fmt: skip

_UNITS = {
    "mg/dl": Unit.MG_DL,
    "mg/dL": Unit.MG_DL,
    "mgdl": Unit.MG_DL,
    "mg per dl": Unit.MG_DL,
    "mmol/l": Unit.MMOL_L,
    "mmol": Unit.MMOL_L,
    "mmoll": Unit.MMOL_L,
    "mmol per l": Unit.MMOL_L,
}

_BEFORE = r"(?:before|pre|ac|vor)[ \-]*(?:the |dem )?"
_AFTER = r"(?:(?:1|1½|2|3) ?h(?:ours?)? )?(?:after|post|pc|nach)[ \-]*(?:the |dem )?"
_BREAKFAST = r"(?:breakfast|frühstück|morning meal)"
_LUNCH = r"(?:lunch|noon meal|mittagessen)"
_DINNER = r"(?:dinner|supper|evening meal|tea|abendessen)"
_SNACK = r"(?:snack)"
_SLOTS = (
    (rf"fasting|fasted|on waking|waking|wake[ \-]?up|nüchtern|{_BEFORE}{_BREAKFAST}", Slot.FASTING),
    (f"{_AFTER}{_BREAKFAST}", Slot.AFTER_BREAKFAST),
    (f"{_BEFORE}{_LUNCH}", Slot.BEFORE_LUNCH),
    (f"{_AFTER}{_LUNCH}", Slot.AFTER_LUNCH),
    (f"{_BEFORE}{_DINNER}", Slot.BEFORE_DINNER),
    (f"{_AFTER}{_DINNER}", Slot.AFTER_DINNER),
    (f"{_BEFORE}{_SNACK}", Slot.BEFORE_SNACK),
    (f"{_AFTER}{_SNACK}", Slot.AFTER_SNACK),
    (r"between meals", Slot.BETWEEN_MEALS),
    (r"bed|bed ?time|at bed ?time|before (?:bed|sleep)|vor dem schlafen", Slot.BEDTIME),
    (r"night|at night|during the night|overnight|nacht", Slot.NIGHT),
    (r"other|none|no marker|unmarked|random|-|–", Slot.OTHER),
)

_CONTROL = re.compile(r".*\b(?:control|ctrl|control solution|kontrolllösung)\b.*")
_READING = re.compile(
    r"(?:blood )?(?:glucose|sugar)(?: reading| test| value)?|bg|smbg|reading|check|fingerstick"
)
_BESIDE = re.compile(
    r".*\b(?:insulin|bolus|basal|units?|dose|medicine|medication|pills?|tablets?|metformin|meal|food|"
    r"ate|carbs?|carbohydrates?|exercise|activity|walk|sport|ketones?|weight|blood pressure|ill|"
    r"sick|stress|event|note|comment|symptoms?)\b.*"
)
# A check beside a meal, a walk or a dose is a check: "after meal", "2 h post food", "pre insulin".
_AROUND = re.compile(
    r"(?:[0-9]+[½¼]? ?(?:h|hrs?|hours?|min|minutes?) )?(?:before|after|pre|post|vor|nach)\b.*"
    r"|.*\b(?:glucose|sugar|bg|smbg)\b(?! (?:tab|gel|drink|water)).*"
)
_LOW = re.compile(r"(?:0?lo|low|reads low|under|< ?[0-9]{1,2}(?:[.,][0-9])?)")
_HIGH = re.compile(r"(?:0?hi|high|reads high|over|> ?[0-9]{1,3}(?:[.,][0-9])?)")


def heading_fit(heading: str, column: str) -> int:
    """How well a heading names a column: 2 for its very word, 1 for a word within it, else 0."""
    plain = plain_text(re.sub(r"[\(\[].*?[\)\]]", " ", heading).replace("_", " "))
    plain = " ".join(plain.split()) or plain_text(heading)
    words = _HEADINGS[column]
    if plain in words:
        return 2
    return int(any(re.search(rf"(?<!\w){re.escape(word)}(?!\w)", plain) for word in words))


def unit_named(text: str) -> Unit | None:
    """The unit that a text is or, for a heading, names; None for neither, or for both."""
    plain = plain_text(text)
    if plain in _UNITS:
        return _UNITS[plain]
    squeezed = plain.replace(" ", "")
    found = {unit for word, unit in _UNITS.items() if "/" in word and word in squeezed}
    if "mmol" in squeezed:
        found.add(Unit.MMOL_L)
    return found.pop() if len(found) == 1 else None


def parted_from_unit(text: str) -> tuple[str, str]:
    """A number and the unit that stands behind it; any other text as it is, with no unit."""
    found = number_and_unit(plain_text(text))
    return found if found is not None and found[1] in _UNITS else (text, "")


def slot_named(text: str) -> Slot | None:
    """The time of day that a text names, by its own code or in words."""
    plain = plain_text(text).replace("_", " ")
    for slot in Slot:
        if plain == slot.value.replace("_", " "):
            return slot
    return next((slot for words, slot in _SLOTS if re.fullmatch(words, plain)), None)


def is_control(text: str) -> bool:
    """Whether a text tells of a test with control solution, which is no reading."""
    return _CONTROL.fullmatch(plain_text(text)) is not None


def is_reading(text: str) -> bool:
    """Whether a text says that a line is a glucose reading."""
    return _READING.fullmatch(plain_text(text)) is not None


def is_beside(text: str) -> bool:
    """Whether a text tells of insulin, a meal or another thing that is no reading."""
    plain = plain_text(text)
    return _BESIDE.fullmatch(plain) is not None and _AROUND.fullmatch(plain) is None


def reads_low(text: str) -> bool:
    """Whether a text is how LO is spelled."""
    return _LOW.fullmatch(plain_text(text)) is not None


def reads_high(text: str) -> bool:
    """Whether a text is how HI is spelled."""
    return _HIGH.fullmatch(plain_text(text)) is not None
