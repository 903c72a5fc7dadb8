"""Arguments, interruptions, output, and what is imported: what holds for every command."""

import os
import re
import signal
import stat
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from logbook import cli
from tests.commands.command_runs import (
    DATA,
    DEFECTS,
    DIARY,
    ROOT,
    Run,
    assert_plain,
    run,
)


@pytest.fixture
def full_log(tmp_path: Path) -> Path:
    """A log with the readings of the invented diary."""
    log = tmp_path / "a.logbook"
    assert run("import", DEFECTS, *DIARY, "--log", log).status == 0
    return log


@pytest.mark.parametrize(
    "arguments",
    [
        ["frobnicate"],
        ["import"],
        ["report"],
        ["summary", "--from", "2026-02-30"],
        ["summary", "--from", "yesterday"],
        ["summary", "--jso"],
        ["report", "--out", "x.pdf", "--paper", "b5"],
        ["report", "--out", "x.pdf", "--print", "tiny"],
        ["import", "a", "b"],
        ["export"],
    ],
)
def test_what_is_not_understood_is_told_with_status_2(arguments: list[str]) -> None:
    done = run(*arguments)
    assert done.status == 2
    assert done.out == ""
    assert done.err.startswith("This was not understood: ")
    assert "--help" in done.err
    assert "invalid" not in done.err


def test_days_the_wrong_way_round_are_told(full_log: Path) -> None:
    days = ("--from", "2026-03-02", "--to", "2026-03-01")
    done = run("summary", *days, "--log", full_log)
    assert done.status == 2
    assert "2026-03-02" in done.err


@pytest.mark.parametrize("command", ["", "import", "summary", "report", "check", "demo"])
def test_help_names_every_choice(command: str) -> None:
    done = run(*filter(None, [command]), "--help")
    assert (done.status, done.err) == (0, "")
    handbook = (ROOT / "docs" / "handbook" / "commands.md").read_text(encoding="utf-8")
    for choice in re.findall(r"--[a-z-]+", done.out):
        assert choice in handbook


def test_a_closed_pipe_is_no_fault_of_the_person(full_log: Path) -> None:
    for command in ("summary", "check"):
        with subprocess.Popen(
            [sys.executable, "-m", "logbook", command, "--log", full_log],
            cwd=ROOT,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        ) as process:
            assert process.stdout is not None
            assert process.stderr is not None
            process.stdout.close()
            assert process.stderr.read() == b""
        assert process.returncode == 1


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no /dev/full on this system")
def test_output_that_can_not_be_written_is_told(full_log: Path) -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "logbook", "summary", "--log", full_log],
            cwd=ROOT,
            stdout=full,
            stderr=subprocess.PIPE,
            text=True,
            check=False,
        )
    assert_plain(Run(done.returncode, "", done.stderr))


def test_letters_that_the_terminal_lacks_do_not_stop_a_command(full_log: Path) -> None:
    done = run("import", "nowhere", "--log", full_log, PYTHONIOENCODING="ascii")
    assert done.status == 1
    assert "Traceback" not in done.err


def test_terminal_signs_in_a_name_are_not_sent_to_the_terminal(tmp_path: Path) -> None:
    log = tmp_path / "a\x1b[2J\nb.logbook"
    done = run("import", DATA / "readings-mg-dl.csv", "--log", log)
    assert done.status == 0
    assert "\x1b" not in done.out
    done = run("summary", "--log", tmp_path / "no\x1b[2J")
    assert done.status == 1
    assert "\x1b" not in done.err


@pytest.fixture
def same_umask() -> Iterator[None]:
    before = os.umask(0o022)
    yield
    os.umask(before)


def test_an_interruption_is_told_in_words(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], same_umask: None
) -> None:
    def interrupted(*_arguments: object) -> int:
        signal.raise_signal(signal.SIGINT)
        return 0

    monkeypatch.setitem(cli._COMMANDS, "check", interrupted)
    assert cli.main(["check"]) == 1
    assert capsys.readouterr().err == "Stopped. What was saved before is safe.\n"


def test_what_nobody_expected_is_told_in_words_and_kept_for_whoever_mends_it(
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    person_folder: Path,
    same_umask: None,
) -> None:
    def broken(*_arguments: object) -> int:
        raise ZeroDivisionError

    monkeypatch.setitem(cli._COMMANDS, "check", broken)
    assert cli.main(["check"]) == 1
    told = capsys.readouterr().err
    assert "Traceback" not in told
    notes = person_folder / "state" / "fingerstick-logbook" / "unexpected.txt"
    assert str(notes.parent) in told
    assert "ZeroDivisionError" in notes.read_text(encoding="utf-8")
    assert stat.S_IMODE(notes.stat().st_mode) == 0o600


_WATCH = """
import sys
from logbook import cli
status = cli.main()
roots = {name.partition(".")[0] for name in sys.modules}
print(*sorted(roots), file=sys.stderr)
raise SystemExit(status)
"""
WATCH = ("-c", _WATCH)


def test_no_command_imports_what_it_does_not_need(full_log: Path, tmp_path: Path) -> None:
    commands: dict[tuple[object, ...], set[str]] = {
        ("summary",): {"reportlab", "alembic"},
        ("check",): {"reportlab", "alembic"},
        ("import", DATA / "readings-mg-dl.csv"): {"reportlab", "alembic"},
        ("report", "--out", tmp_path / "r.pdf"): {"alembic"},
    }
    for arguments, unwanted in commands.items():
        done = run(*arguments, "--log", full_log, program=WATCH)
        assert done.status == 0
        imported = set(done.err.split())
        assert not imported & (unwanted | {"PySide6", "shiboken6", "pyqtgraph", "numpy"}), arguments
    bare = {"DISPLAY": "", "WAYLAND_DISPLAY": "", "QT_QPA_PLATFORM": ""}
    done = run("demo", "--folder", tmp_path / "demo", program=WATCH, **bare)
    assert done.status == 0
    assert not set(done.err.split()) & {"PySide6", "shiboken6", "pyqtgraph", "alembic"}


# --- the window ----------------------------------------------------------------------------------


def test_where_there_is_a_screen_the_window_opens_on_the_log(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, person_folder: Path, same_umask: None
) -> None:
    opened: list[Path] = []
    asked: list[bool] = []

    def window(log: Path, *, asks_whose: bool = False) -> int:
        opened.append(log)
        asked.append(asks_whose)
        return 0

    monkeypatch.setattr("logbook.screen_check.find_missing", lambda: None)
    monkeypatch.setattr("logbook.app.run", window)
    own = person_folder / "data" / "fingerstick-logbook" / "my.logbook"
    assert cli.main([]) == 0
    assert cli.main(["--log", str(tmp_path / "other")]) == 0
    assert cli.main(["demo", "--folder", str(tmp_path / "demo")]) == 0
    assert opened == [own, tmp_path / "other", tmp_path / "demo" / "demo.logbook"]
    # Whose log it is, is asked only where none was named.
    assert asked == [True, False, False]
