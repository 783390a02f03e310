"""Scalars are text until their field reads them: YAML's own guesses never change a value."""

from __future__ import annotations

import pytest

from barrowful.site.load import load
from barrowful.sitefile.text.nodes import Listing, Mapping, Scalar, parse

GUESSED = [
    "no", "on", "off", "yes", "y", "true", "null", "~", "1:30", "12:30:45", "010", "0x1F", "0b1",
    "1_000", "1e3",
    "1.0e3", ".inf", "-.inf", ".nan", "2027-03-01", "2024-13-45", "=", "1,5", "25%", "+1", "1.10", "9" * 1900,
]  # fmt: skip


@pytest.mark.parametrize("word", GUESSED)
def test_a_scalar_is_what_was_typed(word: str) -> None:
    """The node holds the letters of the file, as a value, in a list and as a key."""
    top = parse(f"a: {word}\nb: [{'x' if ',' in word else word}]\n".encode(), "x").top
    value, listing = top.entries["a"][1], top.entries["b"][1]
    assert isinstance(value, Scalar)
    assert value.text == word
    assert isinstance(listing, Listing)
    assert "," in word or listing.items[0].text == word  # type: ignore[union-attr]
    assert list(parse(f"? {word}\n: x\n".encode(), "x").top.entries) == [word]


@pytest.mark.parametrize("word", [word for word in GUESSED if len(word) < 80])
def test_names_and_notes_keep_their_letters(word: str) -> None:
    """A place, a way and a note may be called what YAML would take for a switch, a number or a day."""
    text = (
        f"site: {word}\ncurrency: EUR\nstart: 2027-03-01\n"
        f"places:\n  - name: {word}\n    kind: bed\n    shape: {{area: 3 m2}}\n    ways:\n      - {word}\n"
        f"ways:\n  - name: {word}\n    buy:\n      material: hay\n      price: 4 EUR/m3\n"
        f"      notes: {word}\n"
    )
    site = load(text.encode(), "x").site
    assert (site.name, site.places[0].name, site.ways[0].name) == (word, word, word)
    assert site.places[0].ways == frozenset({word})
    assert site.ways[0].notes == word  # type: ignore[attr-defined]


def test_a_way_with_the_longest_name_can_be_named() -> None:
    """What a way may be called it may be called wherever it is named."""
    name = "w" * 80
    site = load(
        f"site: x\ncurrency: EUR\nstart: 2027-03-01\n"
        f"places: [{{name: a, kind: bed, shape: {{area: 3 m2}}, ways: [{name}], needs: [{{dress: {{depth: 1 cm}}}}]}}]\n"
        f"ways:\n  - {{name: {name}, buy: {{material: straw, price: 4 EUR/m3}}}}\n"
        f"  - {{name: heap, make: {{bay: 1 m3, from: [{{way: {name}}}]}}}}\n"
        f"plan: [{{place: a, need: dress, way: {name}}}]\n".encode(),
        "x",
    ).site
    assert site.plan[0].way == name


def test_switches_that_yaml_would_merge_stay_apart() -> None:
    """Two keys that YAML takes for the same switch are two names."""
    site = load(
        b"site: x\ncurrency: EUR\nstart: 2027-03-01\nplaces: []\n"
        b"materials: {yes: {like: hay}, on: {like: hay}, no: {like: hay}, 1: {like: hay}, 01: {like: hay}}\n",
        "x",
    ).site
    assert {"yes", "on", "no", "1", "01"} <= set(site.materials)


@pytest.mark.parametrize(
    ("typed", "metres"),
    [
        ("1e3 mm", 1.0),
        ("100 cm", 1.0),
        (".5 m", 0.5),
        ("+1 m", 1.0),
        ("1.10 m", 1.1),
        ("1m", 1.0),
        ("0.50 m", 0.5),
    ],
)
def test_measures_read_by_the_rule_of_this_tool(typed: str, metres: float) -> None:
    """An exponent, a plus and a bare point are taken in a measure."""
    shape = f"{{rectangle: [{typed}, 1 m]}}"
    head = "site: x\ncurrency: EUR\nstart: 2027-03-01\n"
    text = f"{head}places: [{{name: a, kind: bed, shape: {shape}}}]"
    assert load(text.encode(), "x").site.places[0].area == pytest.approx(metres, rel=1e-12)


@pytest.mark.parametrize(("typed", "meant"), [("true", True), ("yes", True), ("false", False), ("no", False)])
def test_switches_read_where_they_are_declared(typed: str, meant: bool) -> None:
    """Yes and no are read as such by a field that is a switch."""
    text = (
        "site: x\ncurrency: EUR\nstart: 2027-03-01\n"
        f"places: [{{name: a, kind: bed, shape: {{area: 3 m2}}, near_water: {typed}}}]"
    )
    assert load(text.encode(), "x").site.places[0].near_water is meant


def test_places_of_nodes_are_counted_from_one() -> None:
    """Line and column of keys and values are those an editor shows."""
    top = parse(b"\xef\xbb\xbf# head\na: 1\nb:\n  - {c: d}\n", "x").top
    key, value = top.entries["a"]
    assert (key.line, key.column, value.mark.line, value.mark.column) == (2, 1, 2, 4)
    items = top.entries["b"][1].items  # type: ignore[union-attr]
    assert isinstance(items[0], Mapping)
    mark, inside = items[0].entries["c"]
    assert (mark.line, mark.column, inside.mark.column) == (4, 6, 9)
