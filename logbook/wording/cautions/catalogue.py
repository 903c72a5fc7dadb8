"""Every caution in one list: its code, its sentences, and where its facts come from."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, time

from logbook.domain.cautions import CautionCode
from logbook.wording.cautions import general, hands, highs, illness, lows
from logbook.wording.emergency import emergency_word

# How well a fact is known. Shown in the handbook, so these are sentences of the page.
PRACTICE = "common practice, no source"
MEMORY = "from memory, confirm with your provider"
ADA = "ADA, Standards of Care 2024, and its summary on treating lows, read at the source"
LEVELS = "ADA, Standards of Care 2024, section 6, read at the journal"
IHSG = "International Hypoglycaemia Study Group on treatment, in a secondary copy"
DRIVING = "doi 10.1186/s40842-015-0007-3, table 1, read at the journal"
LONG_TERM_CARE = "ADA statement on long-term care, in PMC7428662, table 4, read at the journal"
SHOCK = "Annals of Internal Medicine 1991;114:1020, read at the journal"
FDA = "FDA notice of August 13, 2009, in a secondary copy"
SGLT2 = "consensus report, Diabetes Care 2024;47:1257, in a secondary copy"
ENDOCRINE = "Endocrine Society 2019, table 3, in a secondary copy"
READINGS = "a study of 43 people, 2024, read at the source"
HANDS = "Diabetes Care 2011;34:556, read at the journal"
OTHER_SITES = "Diabetes Care 2002;25:956 and 961, read at the journal"
FASTING = "a practical guide on fasting, PMC7480213, table 3, read at the journal"
SECONDARY = "in a secondary copy, confirm with your provider"


@dataclass(frozen=True, slots=True)
class CautionFacts:
    """What a caution can name. `emergency` is what to call, `value` a number with its unit.

    `recheck_at` is on the wall clock; `treatments` is how many were taken so far.
    """

    emergency: str = ""
    contact: str = ""
    recheck_at: datetime | time | None = None
    value: str = ""
    treatments: int = 1


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution. `source` names where its facts come from, or says that there is none."""

    code: CautionCode
    words: Callable[[CautionFacts], str]
    source: str

    def text(self, facts: CautionFacts | None = None) -> str:
        """Its sentences, in the language that is spoken."""
        return self.words(facts or CautionFacts())


def _call(facts: CautionFacts) -> str:
    return facts.emergency or emergency_word("")


def _at(facts: CautionFacts) -> datetime | time:
    return time(12, 19) if facts.recheck_at is None else facts.recheck_at


_ALL = (
    Caution(CautionCode.NO_ADVICE, lambda _facts: general.no_advice(), PRACTICE),
    Caution(CautionCode.CANNOT_CALL, lambda _facts: general.cannot_call(), PRACTICE),
    Caution(CautionCode.YOUR_PLAN_FIRST, lambda _facts: general.your_plan_first(), PRACTICE),
    Caution(
        CautionCode.SHARES_ARE_OF_READINGS,
        lambda _facts: general.shares_are_of_readings(),
        READINGS,
    ),
    Caution(CautionCode.TARGET_NOT_AGREED, lambda _facts: general.target_not_agreed(), PRACTICE),
    Caution(CautionCode.ROW_WITHOUT_LOWS, lambda _facts: general.row_without_lows(), ENDOCRINE),
    Caution(CautionCode.HANDS, lambda _facts: hands.hands(), HANDS),
    Caution(CautionCode.COULD_NOT_WASH, lambda _facts: hands.could_not_wash(), HANDS),
    Caution(CautionCode.BLUNT_LANCET, lambda _facts: hands.blunt_lancet(), PRACTICE),
    Caution(CautionCode.SORE_FINGER, lambda _facts: hands.sore_finger(), PRACTICE),
    Caution(CautionCode.BLOOD_THINNER, lambda _facts: hands.blood_thinner(), MEMORY),
    Caution(CautionCode.OTHER_SITE, lambda _facts: hands.other_site(), OTHER_SITES),
    Caution(CautionCode.LOW_FIRST, lambda _facts: lows.low_first(), LEVELS),
    Caution(CautionCode.FAST_SUGAR, lambda _facts: lows.fast_sugar(), ADA),
    Caution(CautionCode.GLUCOSE_ONLY, lambda _facts: lows.fast_sugar(only_glucose=True), SECONDARY),
    Caution(CautionCode.RECHECK, lambda facts: lows.recheck(_at(facts)), ADA),
    Caution(CautionCode.SUGAR_ONCE, lambda _facts: lows.sugar_once(), ADA),
    Caution(CautionCode.WIPE_FIRST, lambda _facts: lows.wipe_first(), HANDS),
    Caution(CautionCode.FINGERTIP_ONLY, lambda _facts: lows.fingertip_only(), OTHER_SITES),
    Caution(CautionCode.LOW_WITHOUT_SIGNS, lambda _facts: lows.low_without_signs(), PRACTICE),
    Caution(CautionCode.BETA_BLOCKER, lambda _facts: lows.beta_blocker(), MEMORY),
    Caution(CautionCode.VERY_LOW, lambda facts: lows.very_low(facts.contact), LEVELS),
    Caution(CautionCode.FOR_A_HELPER, lambda facts: lows.for_a_helper(_call(facts)), IHSG),
    Caution(CautionCode.STILL_LOW, lambda facts: lows.still_low(facts.treatments, _at(facts)), ADA),
    Caution(
        CautionCode.STILL_LOW_AFTER_THREE,
        lambda facts: lows.still_low_after_three(_call(facts)),
        IHSG,
    ),
    Caution(CautionCode.CANNOT_RING, lambda _facts: lows.cannot_ring(), PRACTICE),
    Caution(CautionCode.UNANSWERED, lambda facts: lows.unanswered(facts.contact), PRACTICE),
    Caution(CautionCode.IF_IN_DOUBT, lambda _facts: lows.if_in_doubt(), MEMORY),
    Caution(CautionCode.BREAK_FAST, lambda _facts: lows.break_fast(), FASTING),
    Caution(CautionCode.RECOVERED, lambda _facts: lows.recovered(), DRIVING),
    Caution(CautionCode.WATCH, lambda _facts: lows.watch(), SECONDARY),
    Caution(
        CautionCode.SURPRISING_HIGH, lambda facts: highs.surprising_high(facts.value), PRACTICE
    ),
    Caution(
        CautionCode.TEST_AGAIN_IF_SURPRISED, lambda _facts: highs.again_if_surprised(), PRACTICE
    ),
    Caution(CautionCode.NO_EXTRA_MEDICINE, lambda _facts: highs.no_extra_medicine(), PRACTICE),
    Caution(CautionCode.DRINK_WATER, lambda _facts: highs.drink_water(), PRACTICE),
    Caution(CautionCode.HI_FIRST, lambda _facts: highs.meter_shows_hi(), PRACTICE),
    Caution(
        CautionCode.HI_AGAIN,
        lambda facts: highs.meter_shows_hi_again(_call(facts)),
        LONG_TERM_CARE,
    ),
    Caution(CautionCode.UNWELL_NOT_LOW, lambda _facts: illness.unwell_not_low(), PRACTICE),
    Caution(
        CautionCode.CALL_EMERGENCY_IF,
        lambda facts: illness.call_emergency_if(_call(facts)),
        MEMORY,
    ),
    Caution(
        CautionCode.NUMBER_NOT_TRUSTED,
        lambda facts: illness.number_not_trusted(_call(facts)),
        SHOCK,
    ),
    Caution(CautionCode.SICK_DAY_SIPS, lambda _facts: illness.sick_day_sips(), PRACTICE),
    Caution(CautionCode.SICK_DAY_CALL, lambda _facts: illness.sick_day_call(), LONG_TERM_CARE),
    Caution(CautionCode.SICK_DAY_DRY, lambda _facts: illness.sick_day_dry(), MEMORY),
    Caution(CautionCode.KETOACIDOSIS, lambda _facts: illness.ketoacidosis(), SGLT2),
    Caution(CautionCode.ICODEXTRIN, lambda _facts: illness.icodextrin(), FDA),
)

_BY_CODE = {caution.code: caution for caution in _ALL}


def all_cautions() -> tuple[Caution, ...]:
    """Every caution, in the order of the handbook's page."""
    return _ALL


def caution_text(code: CautionCode, facts: CautionFacts | None = None) -> str:
    """The sentences of one caution."""
    return _BY_CODE[code].text(facts)
