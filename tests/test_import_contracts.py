"""Who may import whom, and that no command but the window loads Qt.

The contracts are in pyproject.toml. They name what is forbidden; the table here names what is
allowed of other people's libraries, so that a new one is noticed too.
"""

from __future__ import annotations

import ast
import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "logbook"

# Libraries that each part may import; parts not named here may import none.
ALLOWED_LIBRARIES = {
    "domain": {"dateutil"},
    "wording": {"babel"},
    "store": {"alembic", "filelock", "sqlalchemy"},
    "exchange": {"icalendar", "openpyxl", "pyrage"},
    "report": {"pypdf", "reportlab"},
    "places": {"platformdirs"},
    "ui": {"PySide6", "numpy", "pypdfium2", "pyqtgraph", "shiboken6"},
    "app": {"PySide6"},
    "cli": set(),
    "this_computer": {"tzlocal"},
}
PARTS = ["asked_book", "book", "preferences", "resources", "whole_file", *ALLOWED_LIBRARIES]


def exists(part: str) -> bool:
    return (PACKAGE / part).is_dir() or (PACKAGE / f"{part}.py").is_file()


def libraries_of(path: Path) -> set[str]:
    """The top-level names of the libraries a file imports, wherever in it."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module)
    return {name.split(".")[0] for name in names} - sys.stdlib_module_names - {"logbook"}


def lint_imports(folder: Path) -> subprocess.CompletedProcess[str]:
    """Check the contracts of the tree in `folder`."""
    return subprocess.run(
        [Path(sys.executable).with_name("lint-imports"), "--no-cache"],
        cwd=folder,
        capture_output=True,
        text=True,
        check=False,
    )


def test_libraries_stay_in_their_part() -> None:
    astray = {
        str(path.relative_to(ROOT)): sorted(extra)
        for path in PACKAGE.rglob("*.py")
        if (part := path.relative_to(PACKAGE).parts[0].removesuffix(".py"))
        and (extra := libraries_of(path) - ALLOWED_LIBRARIES.get(part, set()))
    }
    assert astray == {}


@pytest.fixture
def all_parts() -> None:
    if missing := [part for part in PARTS if not exists(part)]:
        pytest.skip(f"the contracts name parts that do not exist yet: {', '.join(missing)}")


@pytest.mark.usefixtures("all_parts")
def test_contracts_hold() -> None:
    run = lint_imports(ROOT)
    assert run.returncode == 0, run.stdout + run.stderr


@pytest.mark.usefixtures("all_parts")
@pytest.mark.parametrize(
    ("importer", "imported"),
    [
        ("domain/glucose.py", "sqlalchemy"),
        ("domain/glucose.py", "pathlib"),
        ("domain/glucose.py", "logbook.wording"),
        ("wording/__init__.py", "logbook.store"),
        ("store/__init__.py", "logbook.places"),
        ("exchange/__init__.py", "sqlalchemy"),
        ("report/__init__.py", "logbook.book"),
        ("book.py", "sqlalchemy"),
        ("book.py", "logbook.wording"),
        ("ui/__init__.py", "logbook.store"),
        ("ui/__init__.py", "reportlab"),
        ("places.py", "logbook.app"),
    ],
)
def test_a_breach_is_caught(tmp_path: Path, importer: str, imported: str) -> None:
    shutil.copytree(PACKAGE, tmp_path / "logbook", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    with (tmp_path / "logbook" / importer).open("a", encoding="utf-8") as module:
        module.write(f"\nimport {imported}\n")

    run = lint_imports(tmp_path)

    assert run.returncode == 1, run.stdout + run.stderr
    assert "BROKEN" in run.stdout


# --- commands and Qt ------------------------------------------------------------------------------

# An invented diary in the columns of the layout `four-column-diary`: date, time, code, value.
DIARY = "".join(
    f"04-{day:02}-2021\t{time}\t{code}\t{value}\n"
    for day in range(1, 15)
    for time, code, value in [("7:30", 58, 100 + day), ("12:10", 60, 150 - day), ("22:00", 64, 140)]
)

RUN_COMMAND = """
import json, sys
from logbook.cli import main
try:
    status = main(sys.argv[1:])
except SystemExit as end:
    status = end.code
loaded = {name.split(".")[0] for name in sys.modules}
report = {"status": status or 0, "qt": sorted(loaded & {"PySide6", "shiboken6", "pyqtgraph"})}
print("\\n" + json.dumps(report))
"""


def run_command(*arguments: str) -> None:
    """Run one command where there is no screen; it must succeed and load no Qt."""
    screens = {"DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"}
    run = subprocess.run(
        [sys.executable, "-c", RUN_COMMAND, *arguments],
        cwd=ROOT,
        env={name: value for name, value in os.environ.items() if name not in screens},
        capture_output=True,
        text=True,
        check=False,
        timeout=100,
    )
    assert run.returncode == 0, run.stderr
    report = json.loads(run.stdout.splitlines()[-1])
    assert report == {"status": 0, "qt": []}, run.stdout + run.stderr


@pytest.fixture(scope="module")
def a_log(tmp_path_factory: pytest.TempPathFactory) -> Path:
    if not exists("cli"):
        pytest.skip("there are no commands yet")
    folder = tmp_path_factory.mktemp("commands")
    diary = folder / "diary"
    diary.write_text(DIARY, encoding="utf-8")
    log = folder / "diary.logbook"
    run_command("import", str(diary), "--layout", "four-column-diary", "--log", str(log))
    return log


def test_import_loads_no_qt(a_log: Path) -> None:
    assert a_log.stat().st_size > 0


@pytest.mark.parametrize("command", [["summary"], ["summary", "--json"], ["check"]], ids=" ".join)
def test_reading_a_log_loads_no_qt(a_log: Path, command: list[str]) -> None:
    run_command(*command, "--log", str(a_log))


def test_report_loads_no_qt(a_log: Path, tmp_path: Path) -> None:
    run_command("report", "--out", str(tmp_path / "report.pdf"), "--log", str(a_log))
    assert (tmp_path / "report.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.usefixtures("a_log")
def test_demo_without_a_screen_loads_no_qt(tmp_path: Path) -> None:
    run_command("demo", "--folder", str(tmp_path / "demo"))
    assert list((tmp_path / "demo").glob("*.pdf"))


def test_the_check_sees_qt_when_it_is_loaded() -> None:
    """The control: the same question, asked of a process that does load it."""
    script = RUN_COMMAND.replace(
        "from logbook.cli import main", "import PySide6.QtCore\ndef main(arguments): return 0"
    )
    run = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert json.loads(run.stdout.splitlines()[-1])["qt"] == ["PySide6", "shiboken6"]
