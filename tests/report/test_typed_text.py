"""Whatever a person types: it prints, or it is replaced visibly; it never stops the report."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.domain.moments import Period
from logbook.domain.slots import Slot
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Question
from logbook.report.right_to_left import visual_order
from logbook.report.visit import Print, ReportOptions, visit_report
from tests.report.invented import LAST_DAY, invented_id, reading, visit_data
from tests.report.reading_back import Printed

HARD_TEXTS = (
    "<b>bold</b> & <i>half & <para>",
    "brackets ) ( \\ and \\\\ and %s {x} {}",
    "arrows → ⇒, fractions ½, degrees °C, µg, ≥ 70",
    "Ελληνικά, русский, Türkçe, Tiếng Việt",
    "emoji \N{GRINNING FACE}\N{MAN}\u200d\N{WOMAN} and one plane up \U000200d0",
    "\u05e9\u05dc\u05d5\u05dd 123 \u05e2\u05d5\u05dc\u05dd",
    "\u0645\u0631\u062d\u0628\u0627",
    "control \x00\x01\x1b[31m\x7f\x85 and half a pair \ud83d end",
    "private \ue000 unassigned \u0378 noncharacter \uffff",
    "x" * 3_000,
    "\n\n\r\n\t  \u2028 \u00a0",
    "e\u0301\u0301\u0301\u0301 zero\u200bwidth \u202eturned round",
    "",
)


def data_with(notes: list[str]) -> VisitData:
    period = Period.ending(LAST_DAY, 3)
    one = reading(LAST_DAY, 7, 120, Slot.FASTING)
    noted = tuple(replace(one, note=note) for note in notes)
    return replace(visit_data([one], period), noted=noted)


def test_hard_texts_print_everywhere_a_person_can_type() -> None:
    for of_print in Print:
        for text in HARD_TEXTS:
            data = data_with([text])
            data = replace(
                data,
                settings=replace(data.settings, person_name=text, born=text, low_plan=text),
                questions=(Question(invented_id(text[:5]), text, data.made_at.instant),),
            )
            made = Printed(visit_report(data, ReportOptions(print=of_print, appendix=True)))
            assert made.undefined_glyphs() == [], text
            assert made.page_count >= 2
            made.close()


# 200 notes, the same on every run.
@settings(max_examples=10)
@given(st.lists(st.text(max_size=300), min_size=20, max_size=20))
def test_random_notes_never_stop_the_report(notes: list[str]) -> None:
    made = Printed(visit_report(data_with(notes), ReportOptions(appendix=True)))
    assert made.undefined_glyphs() == []
    made.close()


def test_what_prints_reads_back_as_it_was_typed() -> None:
    note = "Peeled an orange → tested again; 7½ hours’ sleep, Ελληνικά & <b>русский</b> (½)"
    made = Printed(visit_report(data_with([note]), ReportOptions(appendix=True)))
    text = " ".join(made.whole_text.split())
    assert note in text
    assert "boxed" not in text
    made.close()


def test_a_replaced_character_is_boxed_and_told_under_that_page_alone() -> None:
    made = Printed(
        visit_report(data_with(["here \N{MELTING FACE} it is"]), ReportOptions(appendix=True))
    )
    told = [
        "A boxed ? stands for a character that can’t be printed here." in made.text(page)
        for page in range(made.page_count)
    ]
    assert told == [*[False] * (made.page_count - 1), True]
    assert any(
        "here ? it is" in line.replace("  ", " ") for line in made.lines(made.page_count - 1)
    )
    made.close()


def test_a_note_of_6000_words_runs_over_pages_and_loses_none() -> None:
    note = " ".join(f"w{number}" for number in range(6_000))
    made = Printed(visit_report(data_with([note]), ReportOptions(appendix=True)))
    assert made.page_count > 10
    words = set(made.whole_text.split())
    assert {f"w{number}" for number in range(6_000)} <= words
    made.close()


def test_hebrew_stands_from_right_to_left_and_numbers_do_not() -> None:
    shalom, olam = "\u05e9\u05dc\u05d5\u05dd", "\u05e2\u05d5\u05dc\u05dd"
    assert visual_order(f"I said {shalom}.") == f"I said {shalom[::-1]}."
    assert visual_order(f"{shalom} 128 {olam}") == f"{olam[::-1]} 128 {shalom[::-1]}"
    assert visual_order("plain (text) 128") == "plain (text) 128"


def test_arabic_letters_are_joined() -> None:
    # Expected by hand from the Unicode charts: meem initial, reh final, hah initial, beh medial,
    # alef final; written from right to left.
    marhaba = "\u0645\u0631\u062d\u0628\u0627"
    assert visual_order(marhaba) == "\ufe8e\ufe92\ufea3\ufeae\ufee3"
