"""The person's folders: where the system puts them, and never the real ones in a test."""

import os
import stat
from pathlib import Path

import pytest

from logbook import places


def test_the_own_log_lies_in_the_data_folder(person_folder: Path) -> None:
    assert places.own_log() == person_folder / "data" / "fingerstick-logbook" / "my.logbook"
    assert places.state_folder() == person_folder / "state" / "fingerstick-logbook"
    assert places.documents_folder() == person_folder / "documents"


def test_without_xdg_the_folders_are_those_of_the_home(
    person_folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    # XDG Base Directory Specification: $HOME/.local/share where XDG_DATA_HOME is not set or empty.
    monkeypatch.delenv("XDG_DATA_HOME")
    expected = person_folder / "home" / ".local" / "share" / "fingerstick-logbook"
    assert places.data_folder() == expected
    monkeypatch.setenv("XDG_DATA_HOME", "")
    assert places.data_folder() == expected


def test_asking_for_a_folder_makes_none(person_folder: Path) -> None:
    places.own_log()
    assert list((person_folder / "data").iterdir()) == []


def test_a_real_folder_is_refused_in_a_test(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    import pwd

    home = Path(pwd.getpwuid(os.getuid()).pw_dir)
    monkeypatch.setenv("XDG_DATA_HOME", str(home / ".local" / "share"))
    with pytest.raises(RuntimeError, match="real folder"):
        places.own_log()
    monkeypatch.delenv("PYTEST_CURRENT_TEST")
    assert places.own_log().is_relative_to(home)


def test_a_fresh_path_is_one_where_nothing_is(tmp_path: Path) -> None:
    assert places.fresh_path(tmp_path, "demo") == tmp_path / "demo"
    (tmp_path / "demo").mkdir()
    (tmp_path / "demo 2").symlink_to("nowhere")
    assert places.fresh_path(tmp_path, "demo") == tmp_path / "demo 3"


def test_a_private_folder_is_its_owners_alone(tmp_path: Path) -> None:
    folder = places.private_folder(tmp_path / "one" / "two")
    for made in (folder, folder.parent):
        assert stat.S_IMODE(made.stat().st_mode) == 0o700
    before = stat.S_IMODE(tmp_path.stat().st_mode)
    places.private_folder(tmp_path)
    assert stat.S_IMODE(tmp_path.stat().st_mode) == before
