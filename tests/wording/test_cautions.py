"""The standing cautions: plain, in their order, and never a dose."""

from __future__ import annotations

import re
from datetime import datetime, time

import pytest

from logbook.wording import cautions
from logbook.wording.emergency import emergency_number, emergency_word
from logbook.wording.manner import Manner, set_manner
from tests.wording.plain_words import faults

AT = time(12, 19)

ALL = [
    cautions.no_advice(),
    cautions.cannot_call(),
    cautions.shares_are_of_readings(),
    cautions.your_plan_first(),
    cautions.hands(),
    cautions.could_not_wash(),
    cautions.blunt_lancet(),
    cautions.sore_finger(),
    cautions.blood_thinner(),
    cautions.other_site(),
    *cautions.low_first_steps(AT),
    *cautions.low_first_steps(AT, only_glucose=True),
    cautions.very_low(),
    cautions.very_low("Anna"),
    cautions.for_a_helper("911"),
    cautions.still_low(1, AT),
    cautions.still_low(2, AT),
    cautions.still_low_after_three("911"),
    cautions.recovered(),
    cautions.surprising_high("318 mg/dL"),
    cautions.no_extra_medicine(),
    cautions.drink_water(),
    cautions.meter_shows_hi_again("the emergency number"),
]


@pytest.mark.parametrize("text", ALL)
def test_is_plain(text: str) -> None:
    assert list(faults(text)) == []
    assert text[-1] == "."


@pytest.mark.parametrize("text", ALL)
def test_names_no_dose_and_no_medicine_to_take(text: str) -> None:
    assert not re.search(r"\b(units?|insulin|tablet of|\d+ ?(mg|ml|IU))\b(?!/)", text)


class TestLow:
    def test_says_what_to_do_first_and_when_to_check_again(self) -> None:
        sit, sugar, recheck = cautions.low_first_steps(datetime(2026, 3, 31, 12, 19))
        assert sit.startswith("This is low. Sit down.")
        # 15 grams, then a check after 15 minutes: ADA Standards of Care 2024, section 6, read at
        # the journal.
        assert "15 grams of fast sugar" in sugar
        assert "12:19 PM" in recheck
        assert "fingers first" in recheck

    def test_follows_the_clock_of_the_person(self) -> None:
        set_manner(Manner("en_US", hours_24=True))
        assert "at 12:19." in cautions.recheck(AT)

    def test_offers_no_juice_where_tablets_slow_it_down(self) -> None:
        _, sugar, _ = cautions.low_first_steps(AT, only_glucose=True)
        assert "glucose gel" in sugar
        assert "half a cup of juice" not in sugar

    def test_counts_the_treatments(self) -> None:
        assert "a second time" in cautions.still_low(1, AT)
        assert "a third time" in cautions.still_low(2, AT)

    def test_names_whom_to_phone(self) -> None:
        assert "phone Anna and stay on the line" in cautions.very_low("Anna")
        assert "phone someone and stay on the line" in cautions.very_low()


class TestEmergency:
    # Of the European Union by its directive, of the others common knowledge; from memory.
    @pytest.mark.parametrize(
        ("country", "number"),
        [("US", "911"), ("gb", "999"), (" de ", "112"), ("AU", "000"), ("NZ", "111")],
    )
    def test_number_of_a_country(self, country: str, number: str) -> None:
        assert emergency_number(country) == number
        assert emergency_word(country) == number

    @pytest.mark.parametrize("country", ["", "XX", "USA", "Atlantis"])
    def test_no_number_is_guessed(self, country: str) -> None:
        assert emergency_number(country) is None
        assert emergency_word(country) == "the emergency number"

    def test_the_persons_own_number_goes_first(self) -> None:
        assert emergency_word("US", " 112 ") == "112"
