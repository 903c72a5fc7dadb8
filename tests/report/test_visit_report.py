"""The whole report, read back by readers that know nothing of how it was written."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from io import BytesIO
from itertools import product

import pytest
from reportlab.pdfgen.canvas import Canvas

from logbook.domain.glucose import Unit
from logbook.domain.moments import Period
from logbook.domain.settings import LogSettings
from logbook.domain.slots import Slot
from logbook.domain.summary import summarise
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Medicine, Question
from logbook.report.visit import Paper, Print, ReportOptions, visit_report
from logbook.wording.manner import Manner
from tests.report.invented import (
    FOUR_A_DAY,
    LAST_DAY,
    SEVEN_A_DAY,
    USUAL,
    invented_id,
    invented_visit,
    long_series,
    reading,
    visit_data,
)
from tests.report.reading_back import MM, Printed

PAPERS = list(product(Paper, Print))


def printed(data: VisitData, **options: object) -> Printed:
    return Printed(visit_report(data, ReportOptions(**options)))  # type: ignore[arg-type]


def crowded_visit() -> VisitData:
    """A log with more of everything than page 1 holds."""
    data = invented_visit(slots=list(USUAL))
    name = "Maria-Magdalena Anastasia von und zu Invented-Longname, widowed Demonstration, 😀 שלום"
    long_question = "What about this question, which is far longer than anybody would ask? " * 4
    early = data.period.first - timedelta(days=300)
    return replace(
        data,
        settings=replace(data.settings, person_name=name),
        medicines=tuple(
            Medicine(
                invented_id(("m", n)), f"Invented medicine {n}, 500 mg, one every morning", early
            )
            for n in range(14)
        ),
        questions=tuple(
            Question(invented_id(("q", n)), f"{n} {long_question}", data.made_at.instant)
            for n in range(9)
        ),
        noted=(*data.noted, replace(data.noted[0], note="word " * 6_000)),
    )


def few_readings(count: int) -> VisitData:
    readings = [reading(LAST_DAY, 7 + 4 * n, 101 + n, slot) for n, slot in enumerate(FOUR_A_DAY)]
    return visit_data(readings[:count], Period.ending(LAST_DAY, 90))


LOGS: dict[str, Callable[[], VisitData]] = {
    "ordinary": invented_visit,
    "seven a day": lambda: invented_visit(slots=SEVEN_A_DAY),
    "crowded": crowded_visit,
    "no reading": lambda: few_readings(0),
    "one reading": lambda: few_readings(1),
    "three readings": lambda: few_readings(3),
}


@pytest.fixture(scope="module", params=[(log, *paper) for log in LOGS for paper in PAPERS], ids=str)
def report(request: pytest.FixtureRequest) -> Iterator[Printed]:
    """Every kind of log on every paper in every print, with grid and appendix."""
    log, paper, of_print = request.param
    made = printed(LOGS[log](), paper=paper, print=of_print, appendix=True)
    made.print = of_print
    yield made
    made.close()


def test_nothing_stands_in_the_margins(report: Printed) -> None:
    # 20 mm on every side; PDFium adds a line’s thickness, up to 1.8 points, to its ends.
    for number in range(report.page_count):
        width, height = report.size(number)
        for left, bottom, right, top in report.drawn_boxes(number):
            assert left >= 20 * MM - 2, (number, left)
            assert bottom >= 20 * MM - 2, (number, bottom)
            assert right <= width - 20 * MM + 2, (number, right)
            assert top <= height - 20 * MM + 2, (number, top)


def test_the_checks_of_margins_and_sizes_can_fail() -> None:
    buffer = BytesIO()
    canvas = Canvas(buffer)
    canvas.setFont("Helvetica", 8)
    canvas.drawString(20, 100, "in the margin, and small")
    canvas.save()
    made = Printed(buffer.getvalue())
    assert min(left for left, *_rest in made.drawn_boxes(0)) < 20 * MM - 2
    assert {character.size for character in made.characters(0)} == {8.0}
    made.close()


def test_no_text_is_smaller_than_promised(report: Printed) -> None:
    least = 11 if report.print is Print.STANDARD else 16
    for number in range(report.page_count):
        sizes = {character.size for character in report.characters(number)}
        assert min(sizes) >= least, (number, sizes)


def test_letters_never_lie_over_each_other(report: Printed) -> None:
    for number in range(report.page_count):
        assert overlaps(report, number) == []


def overlaps(report: Printed, page: int) -> list[tuple[str, str]]:
    """Characters whose middles lie inside one another, combining marks aside."""
    found = []
    cells: dict[tuple[int, int], list[tuple[float, float, str]]] = {}
    for c in report.characters(page):
        x, y = (c.left + c.right) / 2, (c.bottom + c.top) / 2
        for dx, dy in product((-1, 0, 1), repeat=2):
            for other_x, other_y, other in cells.get((int(x / 8) + dx, int(y / 8) + dy), ()):
                # Thin letters stand close; a narrow i and l are 2 points apart at 11 points.
                if abs(x - other_x) < 1.2 and abs(y - other_y) < 5 and c.text.isalnum():
                    found.append((other, c.text))
        cells.setdefault((int(x / 8), int(y / 8)), []).append((x, y, c.text))
    return found


def test_the_check_for_letters_over_each_other_can_fail() -> None:
    buffer = BytesIO()
    canvas = Canvas(buffer)
    canvas.drawString(100, 100, "128")
    canvas.drawString(100.4, 101, "394")
    canvas.save()
    made = Printed(buffer.getvalue())
    assert overlaps(made, 0) != []
    made.close()


def test_fonts_are_embedded_and_every_character_has_a_shape(report: Printed) -> None:
    fonts = report.fonts()
    assert fonts
    assert all(fonts.values()), fonts
    assert not any("Helvetica" in name for name in fonts)
    assert report.undefined_glyphs() == []


def test_the_checks_for_fonts_and_shapes_can_fail() -> None:
    """What ReportLab does by itself: Helvetica, not embedded, and nothing for an arrow."""
    from logbook.report.fonts import registered_font  # the face without the arrow below

    registered_font("LogbookFigures-Regular")
    buffer = BytesIO()
    canvas = Canvas(buffer)
    canvas.drawString(100, 100, "plain")
    canvas.setFont("LogbookFigures-Regular", 12)
    canvas.drawString(100, 200, "no shape: \N{CJK UNIFIED IDEOGRAPH-4E00}")
    canvas.save()
    made = Printed(buffer.getvalue())
    assert made.fonts()["/Helvetica"] is False
    assert any("+" in name for _page, name, _code in made.undefined_glyphs())
    made.close()


def test_the_document_says_what_it_is(report: Printed) -> None:
    root, about = report.root, report.reader.metadata
    assert about is not None
    assert root["/Lang"] == "en-US"
    assert root["/ViewerPreferences"].get_object()["/DisplayDocTitle"].value is True
    assert "January 1 to March 31, 2026" in str(about.title)
    assert about.author
    assert about.creation_date_raw == "D:20260331200000+00'00'"
    assert len(report.bookmarks) >= 2
    assert "Method and kit" in report.bookmarks


def test_every_page_says_which_it_is_and_whose(report: Printed) -> None:
    for number in range(report.page_count):
        text = report.text(number)
        assert f"page {number + 1} of {report.page_count}" in text
        assert "printed Mar 31, 2026" in text
        assert "Mar 31, 2026" in text


def test_page_1_stands_alone(report: Printed) -> None:
    if report.print is Print.LARGE:
        # The person's own paper has no page for the provider.
        whole = "\n".join(report.text(number) for number in range(report.page_count))
        assert "Decided today" not in whole
        return
    page = report.text(0)
    for part in ("Decided today", "your provider decides", "days", "not time in range"):
        assert part in page, part
    rest = "\n".join(report.text(number) for number in range(1, report.page_count))
    assert "Decided today" not in rest


def test_what_page_1_has_no_room_for_stands_whole_on_page_2() -> None:
    data = crowded_visit()
    made = printed(data)
    page = made.text(0)
    assert "Medicines, as written: see page 2" in page
    assert "Invented medicine" not in page
    footer = ("printed Mar 31", "widowed Demonstration", "A boxed ? stands")
    lines = [line for n in range(1, made.page_count) for line in made.text(n).splitlines()]
    kept = (line for line in lines if not any(words in line for words in footer))
    rest = " ".join(" ".join(kept).split())
    for medicine in data.medicines:
        assert medicine.text in rest
    for question in data.questions:
        assert " ".join(question.text.split()) in rest
    # A limit is whole or not there at all.
    assert "…" not in page[page.index("Targets") : page.index("Values in")]
    made.close()


@pytest.mark.parametrize("log", list(LOGS))
def test_page_1_always_tells_of_lows(log: str) -> None:
    made = printed(LOGS[log]())
    page = made.text(0)
    assert any(words in page for words in ("lows (below", "No lows seen", "No readings in")), page
    made.close()


def test_page_1_is_read_in_the_order_of_importance() -> None:
    data = invented_visit()
    made = printed(data)
    page = made.text(0)
    order = (
        "Margaret Invented",
        "meters: bedside, handbag",
        "lows (below 70 mg/dL or felt)",
        "My questions",
        "What changed",
        "Targets in mg/dL",
        "Before Feb 19",
        "Values in mg/dL",
        "in target",
        "written the same day",
        "Decided today",
        "page 1 of",
    )
    places = [page.index(words) for words in order]
    assert places == sorted(places)
    # Medicines stand beside or under what changed, as there is room.
    medicines = page.index("Medicines, as written")
    assert page.index("My questions") < medicines < page.index("Targets in mg/dL")
    made.close()


def test_page_1_says_the_figures_of_the_domain() -> None:
    data = replace(invented_visit(), medicines=(), spells=())
    data = replace(data, targets=type(data.targets)(data.targets.all[:3]))
    summary = summarise(
        data.series, data.period, data.settings, data.targets, data.happenings, data.answers
    )
    made = printed(data)
    lines = made.lines(0)
    for slot in summary.slots:
        name = {
            Slot.FASTING: "Fasting (before breakfast)",
            Slot.BEFORE_LUNCH: "Before lunch",
            Slot.BEFORE_DINNER: "Before dinner",
            Slot.BEDTIME: "Bedtime",
        }[slot.slot]
        least = "LO" if slot.figures.reads_low else f"{slot.figures.least:.0f}"
        most = "HI" if slot.figures.reads_high else f"{slot.figures.greatest:.0f}"
        middle = int((slot.figures.median or 0) + 0.5)
        shares = f"{slot.in_target} of {slot.judged} {slot.low}"
        row = f"{name} {slot.count} {middle} {least}–{most} {shares}"
        assert row in lines, (row, lines)
    made.close()


def test_figures_stand_in_two_columns_after_a_change() -> None:
    data = invented_visit()
    made = printed(data)
    change = LAST_DAY - timedelta(days=40)
    before = Period(data.period.first, change - timedelta(days=1))
    after = Period(change, data.period.last)
    cells = []
    for period in (before, after):
        part = summarise(
            data.series, period, data.settings, data.targets, data.happenings, data.answers
        ).slot(Slot.BEDTIME)
        assert part is not None
        middle = int((part.figures.median or 0) + 0.5)
        cells.append(f"{part.count} {middle} {part.in_target} of {part.judged}")
    row = next(line for line in made.lines(0) if line.startswith("Bedtime"))
    assert row.startswith(f"Bedtime {cells[0]} {cells[1]} ")
    made.close()


def test_no_lows_are_good_news_only_if_someone_looked() -> None:
    made = printed(few_readings(3))
    told = " ".join(made.text(0).split())
    assert "No lows seen in 90 days. Checks between bedtime and waking: 0." in told
    made.close()


def test_a_published_target_is_marked_as_not_agreed() -> None:
    data = invented_visit()
    starting_points = [replace(t, is_agreed=False) for t in data.targets.all]
    made = printed(replace(data, targets=type(data.targets)(starting_points)))
    assert "not yet agreed with your provider" in made.whole_text.replace("\n", "").replace(
        "  ", " "
    )
    made.close()


def test_the_picture_holds_at_most_1500_marks_however_long_the_log() -> None:
    few = printed(visit_data([reading(LAST_DAY, 7, 120, Slot.FASTING)], Period.ending(LAST_DAY, 9)))
    bare = few.path_count(0)
    few.close()
    data = replace(
        invented_visit(),
        series=long_series(1500, SEVEN_A_DAY),
        period=Period.ending(LAST_DAY, 1500),
    )
    made = printed(data, grid_days=14)
    assert 1_000 < made.path_count(0) - bare <= 1_500
    made.close()
    assert bare < 60


def test_one_report_is_the_same_each_time_but_for_its_identity() -> None:
    data = invented_visit()
    first, second = (printed(data, appendix=True) for _time in range(2))
    assert first.whole_text == second.whole_text
    first.close()
    second.close()


def test_mmol_and_24_hours_are_written_the_persons_way() -> None:
    data = invented_visit()
    settings = LogSettings(unit=Unit.MMOL_L, person_name="Invented")
    made = printed(replace(data, settings=settings), manner=Manner("de_DE", hours_24=True))
    text = made.whole_text
    # Readings in the other unit keep their own numbers and say so.
    assert "mg/dL" in text
    assert "3,9 mmol/L" in text
    assert " AM" not in text
    assert made.root["/Lang"] == "de-DE"
    made.close()


def test_large_print_has_at_most_five_columns_a_page() -> None:
    made = printed(invented_visit(slots=SEVEN_A_DAY), print=Print.LARGE)
    pages = [made.lines(n) for n in range(made.page_count) if "Every day" in made.text(n)]
    assert len(pages) >= 2
    days = ("Mon ", "Tue ", "Wed ", "Thu ", "Fri ", "Sat ", "Sun ")
    rows = [line for lines in pages for line in lines if line.startswith(days)]
    numbers = [sum(word.strip("()").isdigit() for word in row.split()[3:]) for row in rows]
    assert 3 <= max(numbers) <= 5
    assert any("breakfast" in " ".join(lines) for lines in pages)
    assert any("Bedtime" in " ".join(lines) for lines in pages)
    made.close()


def test_large_print_has_the_plan_and_three_sentences() -> None:
    made = printed(invented_visit(), print=Print.LARGE)
    text = made.whole_text
    for part in (
        "My plan for a low",
        "Two glucose tablets",
        "My plan for sick days",
        "My targets",
        "My questions",
        "I checked",
        "The middle value is",
        "The latest was",
    ):
        assert part in text, part
    made.close()
