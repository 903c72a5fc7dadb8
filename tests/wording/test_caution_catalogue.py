"""The catalogue of cautions: whole, plain, sourced, without a dose, and on the handbook's page."""

from __future__ import annotations

import re
from datetime import time
from pathlib import Path

import pytest

from logbook.domain.cautions import CautionCode
from logbook.wording import cautions
from logbook.wording.cautions import Caution, CautionFacts, all_cautions, caution_text
from tests.wording.plain_words import faults
from tests.wording.reading_age import HIGHEST_GRADE, grade, syllables

_PAGE = Path(__file__).resolve().parents[2] / "docs" / "handbook" / "cautions.md"
_FACTS = CautionFacts("911", "Anna", time(12, 19), "318 mg/dL")

# An amount of a medicine, or a change of one. "Do not take extra" and "ask before you stop" are the
# only two that may be said, and both are against it.
_DOSE = re.compile(
    r"\b\d+([.,]\d+)? ?(units?|mg|ml|mcg|iu|tablets?|pills?)\b(?!/)"
    r"|\b(increase|raise|reduce|lower|double|halve|skip|inject|adjust|stop)\b"
    r"|\btake (more|less|extra)\b",
    re.IGNORECASE,
)
_ALLOWED = ("Do not take extra medicine unless", "Ask before you stop any medicine.")


def dose_words(text: str) -> list[str]:
    """What in a text names an amount or a change of a medicine."""
    for allowed in _ALLOWED:
        text = text.replace(allowed, "")
    return [found[0] for found in _DOSE.finditer(text)]


def on_page(page: str) -> list[tuple[str, str]]:
    """Sentences and source of each row of the handbook's table of cautions."""
    rows = re.findall(r"^\| (.+?) \| (.+?) \|$", page, re.MULTILINE)
    return [row for row in rows if row[0] != "what is said" and not row[0].startswith("---")]


@pytest.fixture(params=all_cautions(), ids=lambda caution: str(caution.code))
def caution(request: pytest.FixtureRequest) -> Caution:
    found: Caution = request.param
    return found


def test_it_is_plain(caution: Caution) -> None:
    text = caution.text(_FACTS)
    assert list(faults(text)) == []
    assert text[-1] in ".?"
    assert "{" not in text


def test_it_is_read_at_eleven(caution: Caution) -> None:
    assert grade(caution.text(_FACTS)) <= HIGHEST_GRADE


def test_it_names_no_dose_and_no_change_of_medicine(caution: Caution) -> None:
    assert dose_words(caution.text(_FACTS)) == []


def test_it_names_its_source_or_says_that_there_is_none(caution: Caution) -> None:
    is_known = re.search(r"read at the (source|journal)|in a secondary copy", caution.source)
    is_unknown = caution.source in (
        "common practice, no source",
        "from memory, confirm with your provider",
    )
    assert bool(is_known) != is_unknown


def test_numbers_of_glucose_stand_with_their_unit(caution: Caution) -> None:
    # 318 is the only glucose number that a caution is given; no limit may stand bare.
    text = caution.text(_FACTS).replace("318 mg/dL", "")
    assert not re.search(r"\b(54|70|80|100|250|300|318)\b(?! ?(mg/dL|mmol/L))", text)


def test_every_code_has_one_caution() -> None:
    codes = [caution.code for caution in all_cautions()]
    assert sorted(codes) == sorted(CautionCode)
    assert caution_text(CautionCode.HANDS) == cautions.hands()


def test_every_sentence_of_the_package_is_in_the_list() -> None:
    whole = "\n".join(caution.text(_FACTS) for caution in all_cautions())
    no_one = CautionFacts("911", "", time(12, 19), "318 mg/dL")
    whole += "\n".join(caution.text(no_one) for caution in all_cautions())
    of_package = [
        getattr(cautions, name)
        for name in cautions.__all__
        if name.islower() and name not in ("all_cautions", "caution_text", "low_first_steps")
    ]
    needs = {
        "recheck": (time(12, 19),),
        "still_low": (1, time(12, 19)),
        "surprising_high": ("318 mg/dL",),
        "for_a_helper": ("911",),
        "still_low_after_three": ("911",),
        "meter_shows_hi_again": ("911",),
        "call_emergency_if": ("911",),
        "number_not_trusted": ("911",),
    }
    assert len(of_package) > 30
    missing = [
        words.__name__ for words in of_package if words(*needs.get(words.__name__, ())) not in whole
    ]
    assert missing == []


def test_the_page_lists_every_caution_with_its_source() -> None:
    listed = on_page(_PAGE.read_text("utf-8"))
    example = CautionFacts("the emergency number", "", time(12, 19), "318 mg/dL")
    assert listed == [(caution.text(example), caution.source) for caution in all_cautions()]


def test_the_page_says_whose_word_comes_first() -> None:
    page = " ".join(_PAGE.read_text("utf-8").split())
    assert "Your own written plan comes first, then your provider, then your local rules." in page


class TestControls:
    def test_a_hard_text_is_found(self) -> None:
        hard = "Hypoglycaemia necessitates immediate administration of carbohydrates."
        assert grade(hard) > HIGHEST_GRADE

    def test_a_dose_is_found(self) -> None:
        assert dose_words("Take 2 units of it.") == ["2 units"]
        assert dose_words("Take extra medicine tonight.") == ["Take extra"]
        assert dose_words("Skip the next one.") == ["Skip"]

    def test_a_changed_row_of_the_page_is_found(self) -> None:
        page = _PAGE.read_text("utf-8")
        assert on_page(page.replace("Sit down.", "Stand up.")) != on_page(page)

    # From a dictionary's hyphenation.
    @pytest.mark.parametrize(
        ("word", "count"),
        [
            ("low", 1),
            ("sugar", 2),
            ("provider", 3),
            ("emergency", 4),
            ("agreed", 2),
            ("treated", 2),
            ("take", 1),
            ("doses", 2),
        ],
    )
    def test_syllables(self, word: str, count: int) -> None:
        assert syllables(word) == count
