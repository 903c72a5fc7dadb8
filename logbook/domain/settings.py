"""What belongs to the log and travels with it: declared once, with type and default.

What belongs to the computer (text size, contrast, language) is in `logbook.preferences`.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, time
from enum import StrEnum

from logbook.domain.glucose import Unit
from logbook.domain.kit.lancets import LancetHabit
from logbook.domain.moments import DAY_STARTS_AT
from logbook.domain.sites import Hand, Place


class RotationHabit(StrEnum):
    """How the person wants the work shared among the fingers."""

    LONGEST_REST = "longest_rest"
    ONE_FINGER_A_DAY = "one_finger_a_day"
    ONE_HAND_A_WEEK = "one_hand_a_week"


class HandsPricked(StrEnum):
    """One hand (the one that does not hold the device) or both."""

    OTHER_HAND = "other_hand"
    BOTH = "both"


@dataclass(frozen=True, slots=True)
class LogSettings:
    """All settings of a log.

    `unit` is the unit of the person's meter and is chosen once; changing it converts nothing.
    `home_zone` is the IANA zone of imported files that name none. `very_high_above` is in steps of
    `unit`; None means 300 mg/dL (16.7 mmol/L). `country` is a two-letter code of ISO 3166 ("ZZ" for
    any other), `emergency_number` what the person wrote over its number. `left_out` are fingers
    never pricked, as codes of `Site`; `sore` are those sore since a day (code and ISO day; a second
    entry of a code is the day on which it was said to be sore still).

    Kit: `control_interval_days` asks for a control test at least so often, None for no such rule;
    `strip_reserve` strips are kept back for a sick day; `delivery_days` from ordering to having.

    Findings: how often within how many days, and by how much. `high_margin`, `meal_rise_above` and
    `overnight_fall_from` are in steps of `unit`; None means 20, 50 and 50 mg/dL (1.1, 2.8 and 2.8
    mmol/L). `weekend` are weekdays from 0 for Monday; `day_groups` are groups of days the person
    named, each a name and its weekdays as figures ("024" for Monday, Wednesday, Friday).

    `helpers` are others who write in this log, each initials and name; the initials stand with what
    they wrote. `has_simple_page` shows a finger, the keys, Save and a phone number alone, until a
    helper opens the rest. `tells_how_kept` puts counts of how the log is kept on screen and paper.
    """

    unit: Unit = Unit.MG_DL
    home_zone: str = "UTC"
    person_name: str = ""
    born: str = ""
    day_starts_at: time = DAY_STARTS_AT
    very_high_above: int | None = None
    country: str = ""
    emergency_number: str = ""
    can_have_lows: bool | None = None

    tracks_fingers: bool = True
    always_follows_advice: bool = False
    hand_with_device: Hand = Hand.RIGHT
    hands_pricked: HandsPricked = HandsPricked.OTHER_HAND
    fingers_in_use: tuple[Place, ...] = (Place.MIDDLE, Place.RING, Place.LITTLE)
    other_places_in_use: tuple[Place, ...] = ()
    rotation_habit: RotationHabit = RotationHabit.LONGEST_REST
    left_out: tuple[tuple[str, str], ...] = ()
    sore: tuple[tuple[str, str], ...] = ()
    lancet_habit: LancetHabit = LancetHabit.NEW_EACH_TIME

    has_control_solution: bool = True
    control_interval_days: int | None = None
    strip_reserve: int = 12
    delivery_days: int = 7
    earliest_refill: date | None = None
    pen_needles_a_day: int = 0

    finding_days: int = 28
    low_repeat_count: int = 2
    low_repeat_days: int = 14
    near_low_count: int = 3
    near_low_days: int = 7
    high_least_readings: int = 5
    high_margin: int | None = None
    pairs_needed: int = 3
    meal_rise_above: int | None = None
    overnight_fall_from: int | None = None
    after_meal_from_minutes: int = 90
    weekend: tuple[int, ...] = (5, 6)
    day_groups: tuple[tuple[str, str], ...] = ()

    low_plan: str = ""
    high_plan: str = ""
    sick_day_plan: str = ""

    helpers: tuple[tuple[str, str], ...] = ()
    has_simple_page: bool = False
    tells_how_kept: bool = False
