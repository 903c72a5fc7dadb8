"""Large objects of JSON read member by member: the same as Python's own `json` reads at once."""

from __future__ import annotations

import io
import json
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.exchange import json_entries
from logbook.exchange.json_entries import LONGEST_VALUE, NotJson, NotListed, members

values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=3), inner),
    max_leaves=8,
)
objects = st.dictionaries(st.text(max_size=3), values, max_size=3).flatmap(
    lambda others: st.lists(values, max_size=4).map(lambda entry: {**others, "entry": entry})
)


@pytest.fixture(params=[1, 2, 7, 65_536])
def chunk(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """The file comes in pieces so small that every value is torn somewhere."""
    monkeypatch.setattr(json_entries, "_CHUNK", request.param)


def read(text: str) -> dict[str, Any]:
    found: dict[str, Any] = {"entry": []}
    for name, value in members(io.StringIO(text), listed="entry"):
        if name == "entry":
            found[name].append(value)
        else:
            found[name] = value
    return found


def expected(text: str) -> dict[str, Any] | None:
    """What Python's `json` says, None where it says that this is no object of JSON."""

    def no_number(name: str) -> None:
        raise ValueError(name)

    try:
        whole = json.loads(text, parse_float=Decimal, parse_constant=no_number)
    except ValueError:
        return None
    return whole if isinstance(whole, dict) else None


@pytest.mark.usefixtures("chunk")
@given(objects, st.sampled_from([None, 1]))
def test_any_object_is_read_as_json_reads_it(whole: dict[str, Any], indent: int | None) -> None:
    text = json.dumps(whole, indent=indent)
    assert read(text) == expected(text)


@pytest.mark.usefixtures("chunk")
@given(
    objects,
    st.integers(0, 10_000),
    st.sampled_from([*'{}[],:"01-.e \nx\\', "", "NaN", "1 2"]),
)
def test_a_slip_in_the_text_is_found_where_json_finds_one(
    whole: dict[str, Any], place: int, slip: str
) -> None:
    right = json.dumps(whole)
    place %= len(right)
    text = right[:place] + slip + right[place + 1 :]
    wanted = expected(text)
    try:
        found = read(text)
    except NotListed:
        assert wanted is None or not isinstance(wanted["entry"], list)
    except NotJson:
        assert wanted is None
    else:
        assert wanted is not None
        assert found == {"entry": [], **wanted}


@pytest.mark.usefixtures("chunk")
@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('{"entry": [\n1,\n2,\n!]}', 4),
        ('{\n"a" 1}', 2),
        ('{"entry": [\n{"a": 1},\n{"b": tru}\n]}', 3),
        ('{"entry": [1]}\n\n\nmore', 4),
        ('{"entry": [\n1,\n', 3),
        ("", 1),
    ],
)
def test_the_line_of_a_slip_is_told(text: str, line: int) -> None:
    with pytest.raises(NotJson) as caught:
        read(text)
    assert caught.value.line == line


@pytest.mark.parametrize("text", ['{"entry": [' + "9" * 5_000 + "]}", '{"entry": ' + "[" * 99_999])
def test_what_would_break_a_reader_is_told_too(text: str) -> None:
    with pytest.raises(NotJson):
        read(text)


def test_one_endless_value_is_not_read_to_its_end() -> None:
    class Endless(io.StringIO):
        given = 0

        def read(self, size: int | None = -1) -> str:
            assert size is not None
            self.given += size
            return "x" * size

    endless = Endless()
    text = io.StringIO('{"entry": ["')

    class Joined(io.StringIO):
        def read(self, size: int | None = -1) -> str:
            return text.read(size) or endless.read(size)

    with pytest.raises(NotJson):
        list(members(Joined(), listed="entry"))
    assert endless.given < 4 * LONGEST_VALUE
