"""Page 1 alone: what is always on it, and in which order things yield when it is tight."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from logbook.book import Book
from logbook.demo.making import make_demo_log
from logbook.domain.answers import Answer, Asked, Said
from logbook.domain.moments import Moment, Period
from logbook.domain.settings import LogSettings
from logbook.domain.targets import TargetBook
from logbook.domain.ticks import About as Ticked
from logbook.domain.ticks import Tick, TickBook, Told
from logbook.domain.visit_data import VisitData
from logbook.domain.visits import Appointment, Medicine
from logbook.report.contents import contents_of
from logbook.report.document import About, Document
from logbook.report.front_blocks import LARGE_PICTURE, SMALL_PICTURE, Yielding
from logbook.report.front_lists import change_lines, question_lines
from logbook.report.front_page import LEAST_CHANGES, write_front_page
from logbook.report.visit import Paper, ReportOptions, visit_report
from tests.commands.command_runs import DIARY, clock, run
from tests.report.heavy import QUESTIONS, heavy_visit, with_heavy_lists
from tests.report.invented import LAST_DAY, invented_id, invented_visit, visit_data
from tests.report.reading_back import Printed
from tests.report.with_kit import kit_visit

NOW = Moment.at(datetime(2026, 3, 31, 15, 0, tzinfo=UTC), "America/Chicago")
DIARIES = [f"data-{number}" for number in ("01", "02", "09", "10", "20", "27", "40", "67", "68")]
DIARIES.append("data-70")


def demo_visit(folder: Path) -> VisitData:
    path = folder / "demo.logbook"
    make_demo_log(path, NOW)
    with Book.open(path, lambda: NOW.instant, read_only=True) as book:
        return book.visit_data(Period.ending(NOW.wall.date() - timedelta(days=1), 90), NOW)


def diary_visit(name: str, folder: Path) -> VisitData:
    """An open diary with the heavy log's lists laid over its last 90 days.

    Source: M. Kahn, "Diabetes", UCI, doi 10.24432/C5T59G.
    """
    given = os.environ.get("LOGBOOK_OPEN_DATA")
    if not given:
        pytest.skip("LOGBOOK_OPEN_DATA does not say where the open diaries are")
    log = folder / f"{name}.logbook"
    done = run("import", Path(given) / "uci-diabetes" / name, *DIARY, "--log", log)
    assert done.status == 0, done.err
    with Book.open(log, clock) as book:
        span = book.span()
        assert span is not None
        return with_heavy_lists(book.visit_data(Period.ending(span[1], 90), NOW))


def almost_empty() -> VisitData:
    return visit_data([], Period.ending(LAST_DAY, 90), LogSettings(home_zone="UTC"))


LOGS: dict[str, Callable[[Path], VisitData]] = {
    "demo": demo_visit,
    "ordinary": lambda _folder: invented_visit(),
    "heavy": lambda _folder: heavy_visit(),
    "almost empty": lambda _folder: almost_empty(),
    **{name: lambda folder, name=name: diary_visit(name, folder) for name in DIARIES},  # type: ignore[misc]
}


@pytest.fixture(scope="module", params=list(LOGS))
def data(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> VisitData:
    return LOGS[request.param](tmp_path_factory.mktemp("front"))


@pytest.fixture(scope="module", params=list(Paper))
def page(data: VisitData, request: pytest.FixtureRequest) -> Iterator[str]:
    """The first page as one line of text."""
    made = Printed(visit_report(data, ReportOptions(paper=request.param)))
    yield as_one_line(made.text(0))
    made.close()


def as_one_line(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


def test_targets_and_lows_are_always_on_page_1(data: VisitData, page: str) -> None:
    contents = contents_of(data)
    assert any(words in page for words in ("below 70", "No lows seen", "No readings in"))
    for target in contents.targets:
        limits = target.limits_in(contents.unit)
        assert limits is not None
        assert limits.upper is not None
        told = page[page.index("Targets in mg/dL") : page.index("Decided today")]
        assert str(limits.upper.steps) in told
        assert target.set_by_name in told
    if not contents.targets:
        assert "Targets: None agreed." in page


def test_two_questions_and_the_latest_three_changes_are_always_on_page_1(
    data: VisitData, page: str
) -> None:
    contents = contents_of(data)
    for line in (*question_lines(contents)[:2], *change_lines(contents)[:3]):
        assert as_one_line(line) in page, line


def test_page_1_says_what_stands_on_page_2(data: VisitData) -> None:
    made = Printed(visit_report(data, ReportOptions()))
    front = as_one_line(made.text(0))
    rest = as_one_line(" ".join(made.text(number) for number in range(1, made.page_count)))
    if "see page 2" in front:
        for medicine in data.medicines:
            assert medicine.text in rest
    for part in ("My questions", "What changed"):
        if f"{part} (" in front:
            assert part in rest
    assert ("page 2" in front) == ("More from page 1" in rest)
    made.close()


def test_the_demonstration_yields_a_finding_and_a_question_at_most(tmp_path: Path) -> None:
    shown = shown_on_page_1(demo_visit(tmp_path))
    assert shown.findings >= 2
    assert shown.questions >= 2
    assert shown.has_medicines
    assert shown.most_lines is None


# --- the order in which things yield --------------------------------------------------------------


def shown_on_page_1(data: VisitData) -> Yielding:
    contents = contents_of(data)
    about = About("", "", "", "", "en-US", data.made_at.instant)
    return write_front_page(Document(about, ReportOptions()), contents)


def with_medicines(count: int) -> VisitData:
    """A log that needs a little more room with each medicine, its changes aside."""
    data = invented_visit()
    early = data.period.first - timedelta(days=300)
    return replace(
        data,
        questions=tuple(replace(one, text=f"{one.text} Or not?") for one in data.questions),
        spells=(),
        medicines=tuple(
            Medicine(invented_id(number), f"Invented medicine {number}, one at noon", early)
            for number in range(count)
        ),
    )


def test_things_yield_in_their_order_and_no_other() -> None:
    """Third finding, third question, the picture, large letters, then medicines.

    Common practice; that letters yield before medicines is the project's own.
    """
    seen = []
    for count in range(1, 40):
        shown = shown_on_page_1(with_medicines(count))
        assert shown.questions >= 2
        assert shown.findings >= 2
        assert shown.picture >= SMALL_PICTURE
        assert shown.most_lines is None
        seen.append(
            (
                shown.findings == 3,
                shown.questions == 3,
                shown.picture >= LARGE_PICTURE,
                not shown.is_small,
                shown.has_medicines,
            )
        )
    # Once medicines are gone there may be room for the picture again.
    steps = list(dict.fromkeys(seen))
    assert steps == [
        (True, True, True, True, True),
        (False, True, True, True, True),
        (False, False, True, True, True),
        (False, False, False, True, True),
        *steps[4:],
    ]
    # In smaller letters there may be room for a larger picture, too.
    assert steps[4][3:] == (False, True)
    assert [has_medicines for *_others, has_medicines in steps[4:]].count(False) == 1
    assert not steps[-1][-1]


def test_changes_beyond_the_latest_three_take_what_room_is_left() -> None:
    heavy, contents = heavy_visit(), contents_of(heavy_visit())
    assert len(change_lines(contents)) == 6
    shown = shown_on_page_1(heavy)
    assert shown.changes is not None
    assert shown.changes >= LEAST_CHANGES
    assert not shown.has_medicines
    light = replace(heavy, medicines=(), questions=(), targets=TargetBook(()))
    assert shown_on_page_1(light).changes == len(change_lines(contents_of(light)))


def test_no_question_of_the_heavy_log_is_cut() -> None:
    made = Printed(visit_report(heavy_visit(), ReportOptions()))
    front = as_one_line(made.text(0))
    assert QUESTIONS[0] in front
    assert QUESTIONS[1] in front
    assert "…" not in front
    made.close()


# --- what else stands on it -----------------------------------------------------------------------


def first_page(data: VisitData) -> str:
    made = Printed(visit_report(data, ReportOptions()))
    text = as_one_line(made.text(0))
    made.close()
    return text


def test_it_opens_with_what_was_decided_at_the_last_visit() -> None:
    decided = "Check at bedtime. " + "Walk after lunch and write down how it felt. " * 8
    data = invented_visit()
    visit = Appointment(invented_id("last"), LAST_DAY - timedelta(days=80), decided=decided)
    made = Printed(visit_report(replace(data, last_appointment=visit), ReportOptions()))
    page = as_one_line(made.text(0))
    assert page.index("Decided on Jan 10: Check at bedtime.") < page.index("lows (below")
    # Two lines of it; the whole stands on page 2.
    assert "…" in page.partition("Decided on")[2].partition("lows (below")[0]
    assert as_one_line(decided) in as_one_line(made.text(1))
    made.close()
    assert "Decided on" not in first_page(data)


def test_every_reason_to_call_stands_under_what_the_person_said() -> None:
    data = invented_visit()
    about = data.happenings[1].id
    called = Answer(invented_id("called"), about, Asked.CALLED, Said.YES, data.made_at.instant)
    before, after = first_page(data), first_page(replace(data, answers=(*data.answers, called)))
    open_calls = before.partition("Not called about:")[2].partition("My questions")[0]
    assert "helped low Feb 25" in open_calls
    assert "Called about: helped low Feb 25" in after
    assert "helped low" not in after.partition("Not called about:")[2].partition(" · Called")[0]


def test_ticks_that_matter_stand_beside_their_effect_and_not_the_others() -> None:
    data = invented_visit()
    early = data.period.first
    ticks = TickBook(
        Tick(invented_id(about), about, told, early, data.made_at.instant)
        for about, told in (
            (Ticked.ANAEMIA, Told.YES),
            (Ticked.BETA_BLOCKER, Told.NOT_SURE),
            (Ticked.VITAMIN_C, Told.NO),
        )
    )
    page = first_page(replace(data, ticks=ticks))
    line = page.partition("May affect readings:")[2].partition("Targets in")[0]
    assert "Beta blocker, not sure" in line
    assert "Anaemia or blood loss (reads high, can hide a low)" in line
    assert "vitamin" not in page
    assert "May affect readings" not in first_page(data)


def test_the_trust_line_tells_of_plan_meter_and_control_tests() -> None:
    page = first_page(kit_visit())
    for part in (
        "planned checks done 106 of 116",
        "meter’s average: log has fewer readings",
        "control tests passed 2 of 4",
        "in question 24",
    ):
        assert part in page, part


def test_the_picture_names_its_unit() -> None:
    for data in (invented_visit(), kit_visit(), heavy_visit()):
        made = Printed(visit_report(data, ReportOptions()))
        lines = made.lines(0)
        assert "mg/dL" in {word for line in lines for word in [line.split()[0]]}, lines
        made.close()
