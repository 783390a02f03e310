"""Changing one value by its path, and the cases of a what-if."""

from __future__ import annotations

from decimal import Decimal

import pytest
from draws import draws
from hypothesis import assume, given
from hypothesis import strategies as st

from barrowful.measures.problems import WrongUse
from barrowful.sitefile.text.cases import Case, cases_of
from barrowful.sitefile.text.edit import set_value
from barrowful.sitefile.text.nodes import Document, Listing, Node, Scalar, parse

STEADY = draws(80, derandomize=True)
NAMES = (
    st.text("abc .-é=", min_size=1, max_size=8).map(str.strip).filter(lambda name: name not in ("", ".", "-"))
)


def plain(node: Node) -> object:
    """Return a node as plain Python, without places."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Listing):
        return [plain(item) for item in node.items]
    return {key: plain(value) for key, (_, value) in node.entries.items()}


def document(names: list[str]) -> Document:
    """Return a document with a place of each name, each with a need and a list without names."""
    places = "".join(
        f"- {{name: '{name}', count: {number}, needs: [{{cover: {{depth: {number} cm}}}}], list: [7, 8]}}\n"
        for number, name in enumerate(names, 1)
    )
    return parse(f"site: x\nplaces:\n{places}".encode(), "x")


@STEADY
@given(st.lists(NAMES, min_size=1, max_size=5, unique=True), st.data())
def test_one_value_changes_and_nothing_else(names: list[str], data: st.DataObject) -> None:
    """Names with spaces and dots lead to their own item, and the document itself is not touched."""
    chosen = data.draw(st.sampled_from(names))
    index = names.index(chosen)
    assume(
        not any(
            other != chosen and f"{chosen}.count".startswith(f"{other}.")
            for other in names
            if len(other) > len(chosen)
        )
    )
    before = document(names)
    as_it_was = plain(before.top)
    for path, keys in {
        f"places.{chosen}.count": ("count",),
        f"places.{chosen}.needs.cover.depth": ("needs", 0, "cover", "depth"),
        f"places.{chosen}.list.2": ("list", 1),
    }.items():
        found = plain(set_value(before, path, "99 cm").top)
        wanted = plain(document(names).top)
        at = wanted["places"][index]  # type: ignore[index]
        for key in keys[:-1]:
            at = at[key]
        at[keys[-1]] = "99 cm"
        assert found == wanted
        assert plain(before.top) == as_it_was


def test_a_key_that_is_not_there_is_added() -> None:
    """A path may set what the file leaves out, sections on the way included."""
    found = plain(set_value(document(["beds"]), "labour.push", "30 m").top)
    assert isinstance(found, dict)
    assert found["labour"] == {"push": "30 m"}


@pytest.mark.parametrize("path", ["heap.from.way", "heap.from.1.way"])
def test_an_item_with_one_key_goes_by_the_key_or_its_number(path: str) -> None:
    """An ingredient that is only a way is found as messages and explain write it, and by its key."""
    heap = parse(b"heap: {from: [{way: chip}, {material: hay, weekly: 9 kg}]}", "x")
    changed = plain(set_value(heap, path, "straw").top)
    assert changed == {"heap": {"from": [{"way": "straw"}, {"material": "hay", "weekly": "9 kg"}]}}


def test_the_longest_name_is_meant() -> None:
    """Where one name begins like another, the longer one that fits is taken."""
    found = plain(set_value(document(["a", "a.b"]), "places.a.b.count", "9").top)
    assert [place["count"] for place in found["places"]] == ["1", "9"]  # type: ignore[index]


@pytest.mark.parametrize(
    ("path", "hint"),
    [("places.bedz.count", "beds"), ("places.beds.needs.covr.depth", "cover"), ("places.beds.list.9", "9")],
)
def test_a_path_that_leads_nowhere_is_wrong_use(path: str, hint: str) -> None:
    """What is not there is named, with the nearest that is."""
    with pytest.raises(WrongUse, match=hint):
        set_value(document(["beds"]), path, "1")


@pytest.mark.parametrize("text", ["&a 1", "*a", "!t 1", "{a", "'", "[" * 50, "a: b: c", "\u202e"])
def test_a_value_that_is_no_yaml_is_wrong_use(text: str) -> None:
    """What stands behind the sign is read by the same careful reader as a file."""
    with pytest.raises(WrongUse):
        set_value(document(["beds"]), "places.beds.count", text)


@STEADY
@given(
    st.decimals(-1000, 1000, places=2), st.decimals(-1000, 1000, places=2), st.integers(2, 30),
    st.sampled_from(["", "m", "EUR/m3", "1/year"]), st.sampled_from(":/"), st.booleans(),
)  # fmt: skip
def test_steps_are_equal_and_end_on_both_ends(
    low: Decimal, high: Decimal, count: int, unit: str, sign: str, twice: bool
) -> None:
    """A..B:N and A..B/N give N values from A to B in equal steps, in the unit of B."""
    assume(low != high)
    first = f"{low} {unit}" if twice else f"{low}"
    cases = cases_of([], [], [f"a.b={first}..{high} {unit}{sign}{count}"]).cases
    values = [case.changes[0][1] for case in cases]
    numbers = [Decimal(value.split(" ")[0]) for value in values]
    assert {value.partition(" ")[2] for value in values} == {unit}
    assert len(numbers) == count
    assert (numbers[0], numbers[-1]) == (low, high)
    step = (high - low) / (count - 1)
    for index, number in enumerate(numbers):
        assert abs(number - (low + step * index)) <= Decimal("1e-6")
    assert all(path == "a.b" for case in cases for path, _ in case.changes)


def test_a_common_change_holds_in_every_case() -> None:
    """--set alone is one case; beside --case and --vary it applies to each of theirs."""
    assert cases_of(["a=1", "b=2"], [], []).cases == [Case("set", (("a", "1"), ("b", "2")))]
    found = cases_of(["a=1"], ["dear:b=2", "cheap:b=1", "dear:c=3"], ["d=1..2:2"])
    assert found.cases == [
        Case("dear", (("a", "1"), ("b", "2"), ("c", "3"))),
        Case("cheap", (("a", "1"), ("b", "1"))),
        Case("d=1", (("a", "1"), ("d", "1")), (1.0,)),
        Case("d=2", (("a", "1"), ("d", "2")), (2.0,)),
    ]


@pytest.mark.parametrize(
    ("sets", "cases", "vary"),
    [
        (["a"], [], []), (["=1"], [], []), (["a="], [], []), ([], ["a=1"], []), ([], [":a=1"], []), ([],
        ["n:a"], []),
        ([], [], ["a=1..2"]), ([], [], ["a=1..2:1"]), ([], [], ["a=1..2:0"]), ([], [], ["a=x..2:3"]),
        ([], [], ["a=1 m..2 kg:3"]), ([], [], ["a=1..2:10001"]), ([], [], ["a=1..2:101", "b=1..9:100"]),
        ([], [], ["a=1..2 m:-3"]),
    ],
)  # fmt: skip
def test_what_is_no_case_is_wrong_use(sets: list[str], cases: list[str], vary: list[str]) -> None:
    """A change without a path or a value, a range without steps, and too many cases are refused."""
    with pytest.raises(WrongUse):
        cases_of(sets, cases, vary)


@pytest.mark.parametrize("value", ["3\nlimits: {cash: 1 EUR}", "3\nprice: 9 EUR"])
def test_a_value_is_of_one_line(value: str) -> None:
    """What stands on lines of its own is no part of a value, and is not dropped without a word."""
    with pytest.raises(WrongUse, match="one line"):
        set_value(parse(b"places: [{name: a, count: 2}]", "x"), "places.a.count", value)


def test_what_is_set_for_all_is_not_varied() -> None:
    """A path has a value in every case, or values of its own in some: not both, one of which would be lost."""
    for cases, vary in ([], ["a.b=1,2"]), (["dear:a.b=3"], []):
        with pytest.raises(WrongUse, match="set for every case"):
            cases_of(["a.b=9"], cases, vary)
    assert len(cases_of(["a.c=9"], [], ["a.b=1,2"]).cases) == 2


def test_the_name_of_a_case_is_seen() -> None:
    """A letter that a terminal obeys is refused in the name of a case too."""
    with pytest.raises(WrongUse, match=r"U\+001B"):
        cases_of([], ["dear\x1b[31m:p=9 EUR"], [])


def test_three_dots_are_no_range() -> None:
    """They would be read as two, and the point of a number."""
    with pytest.raises(WrongUse, match="three dots"):
        cases_of([], [], ["p=40...50 EUR/m3:3"])
