"""What a person installs: the wheel, its resources and the pins."""

from __future__ import annotations

import subprocess
import sys
import tomllib
import zipfile
from importlib.metadata import version
from pathlib import Path

import pytest
from packaging.requirements import Requirement

import logbook
from logbook.resources import resource_path

ROOT = Path(__file__).resolve().parent.parent
NOT_IN_THE_WHEEL = {"debian-packages", "setup.sh", "start.sh"}


def requirements() -> list[Requirement]:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    extras = project["optional-dependencies"]
    # `devices` is for those who have such a device; it is not installed for the tests.
    return [Requirement(line) for line in project["dependencies"] + extras["test"]]


@pytest.mark.parametrize("requirement", requirements(), ids=lambda r: r.name)
def test_what_is_installed_is_what_is_asked_for(requirement: Requirement) -> None:
    assert requirement.specifier.contains(version(requirement.name))


@pytest.mark.parametrize("requirement", requirements(), ids=lambda r: r.name)
def test_every_pin_has_a_floor_and_a_ceiling(requirement: Requirement) -> None:
    operators = {specifier.operator for specifier in requirement.specifier}
    if requirement.name == "tzdata":  # a calendar version: see pyproject.toml
        assert operators == {">="}
    else:
        assert operators in ({"=="}, {">=", "<"})


# --- resources in a source tree -------------------------------------------------------------------


def test_a_source_tree_gives_its_own_resources() -> None:
    assert resource_path("fonts") == ROOT / "resources" / "fonts"


def test_a_missing_resource_is_named() -> None:
    with pytest.raises(FileNotFoundError, match=r"no-such-face\.ttf"):
        resource_path("fonts", "no-such-face.ttf")


# --- the wheel ------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built without a network by the build tool itself."""
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)],
        cwd=ROOT,
        check=True,
        capture_output=True,
    )
    (path,) = folder.glob("*.whl")
    return path


def test_wheel_is_named_for_this_version(wheel: Path) -> None:
    assert wheel.name == f"fingerstick_logbook-{logbook.__version__}-py3-none-any.whl"


def test_wheel_holds_the_package_and_the_resources_and_nothing_else(wheel: Path) -> None:
    held = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}

    package = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "logbook").rglob("*")
        if path.is_file() and "__pycache__" not in path.parts
    }
    resources = {
        f"logbook/{path.relative_to(ROOT)}"
        for path in (ROOT / "resources").rglob("*")
        if path.is_file() and path.suffix != ".py" and path.name not in NOT_IN_THE_WHEEL
    }
    assert "logbook/resources/fonts/AtkinsonHyperlegible-Regular.ttf" in resources
    assert held == package | resources


def test_wheel_carries_every_licence(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    licences = {name.split("/licenses/")[1] for name in names if "/licenses/" in name}
    assert licences == {
        "docs/LICENSE.txt",
        "resources/fonts/AtkinsonHyperlegible-LICENSE.txt",
        "resources/fonts/DejaVuSans-LICENSE.txt",
    }


def test_an_installed_wheel_finds_its_own_resources(wheel: Path, tmp_path: Path) -> None:
    zipfile.ZipFile(wheel).extractall(tmp_path)
    script = (
        f"import sys; sys.path.insert(0, {str(tmp_path)!r})\n"
        "from logbook.resources import resource_path\n"
        "print(resource_path('fonts', 'DejaVuSans.ttf'))"
    )
    run = subprocess.run(
        [sys.executable, "-c", script], cwd=tmp_path, check=True, capture_output=True, text=True
    )
    expected = tmp_path / "logbook" / "resources" / "fonts" / "DejaVuSans.ttf"
    assert Path(run.stdout.strip()) == expected
