"""The command `demo`, and opening the window where there is none."""

import stat
from pathlib import Path

from tests.commands.command_runs import (
    FULL_DISK,
    assert_plain,
    run,
)


def test_demo_makes_a_log_and_its_report_and_prints_both(person_folder: Path) -> None:
    done = run("demo", DISPLAY="", WAYLAND_DISPLAY="", QT_QPA_PLATFORM="")
    assert (done.status, done.err) == (0, "")
    (folder,) = (person_folder / "documents").iterdir()
    log, report = folder / "demo.logbook", folder / "visit-report.pdf"
    assert f": {log}\n" in done.out
    assert f": {report}\n" in done.out
    assert "no screen" in done.out
    for path in (log, report):
        assert stat.S_IMODE(path.stat().st_mode) == 0o600
    from pypdf import PdfReader

    text = PdfReader(report).pages[0].extract_text()
    assert "Invented demo log" in text
    again = run("demo", DISPLAY="", WAYLAND_DISPLAY="", QT_QPA_PLATFORM="")
    assert again.status == 0
    assert len(list((person_folder / "documents").iterdir())) == 2


def test_demo_overwrites_nothing_and_leaves_nothing_half_done(tmp_path: Path) -> None:
    folder = tmp_path / "demo"
    folder.mkdir()
    (folder / "visit-report.pdf").write_text("mine", encoding="utf-8")
    assert_plain(run("demo", "--folder", folder), "visit-report.pdf")
    assert [path.name for path in folder.iterdir()] == ["visit-report.pdf"]
    fresh = tmp_path / "fresh"
    assert_plain(run(100_000, "demo", "--folder", fresh, program=FULL_DISK))
    assert not fresh.exists()


def test_without_window_or_screen_it_says_so() -> None:
    done = run(DISPLAY="", WAYLAND_DISPLAY="", QT_QPA_PLATFORM="")
    assert done.status == 1
    assert "no screen" in done.err
