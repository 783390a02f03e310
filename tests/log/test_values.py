"""What is said on the command line is what the file holds afterwards, whatever letters it has."""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.site.load import load
from barrowful.sitefile.text.append import append_history

Log = Callable[..., Any]
ODD = [
    "a: b",
    "it's",
    "# one",
    "one #two",
    "beds, long",
    "{x}",
    "[x]",
    "yes",
    "null",
    "~",
    "012",
    "1.5",
    "- dash",
    "-",
    "* star",
    "& co",
    "! now",
    "| bar",
    "> fold",
    "? what",
    "% of",
    "@ home",
    "`tick`",
    '"quoted"',
    "''",
    "'",
    "a 'b' c",
    "über den Zaun",
    "菜園",
    "back\\slash",
    "a\\nb",
    "colon:",
    ":colon",
    "2027-03-01",
    "...",
    "---",
    "a - b",
    "<<",
    "=",
    "a,b",
    "{",
    "}",
    "[",
    "]",
    "a:b",
    "x: {y}",
    "true",
    "café",
    "😀 bed",
]


@pytest.mark.parametrize("name", ODD)
def test_places_of_any_name(log: Log, head: str, name: str) -> None:
    """A place whose name needs quotes in YAML is found again under that very name."""
    text = head.replace("name: beds", f"name: {json.dumps(name, ensure_ascii=False)}")
    found = log(text, "--date", "2027-04-12", "--place", name, "--material", "straw", "--amount", "2 barrow")
    assert found.code == 0, found.said
    assert found.site.history[0].place == name
    assert found.after.startswith(text.encode())


@pytest.mark.parametrize("name", [one for one in ODD if one != "<<"])
def test_materials_of_any_name(log: Log, head: str, name: str) -> None:
    """So is a material of the file's own."""
    text = f"{head}materials: {{{json.dumps(name, ensure_ascii=False)}: {{like: straw}}}}\n"
    found = log(text, "--date", "2027-04-12", "--place", "beds", "--material", name, "--amount", "2 barrow")
    assert found.code == 0, found.said
    assert found.site.history[0].material.name == name


NOTES = st.text(st.characters(exclude_categories=["C", "Zl", "Zp"]), min_size=1, max_size=60)


@draws(200)
@given(NOTES)
def test_notes_of_any_letters(head: str, note: str) -> None:
    """Any note a keyboard can write is read back letter for letter, but for spaces at its ends."""
    if not note.strip():
        return
    text = f"{head}history: []\n"
    new = append_history(text, {"date": "2027-04-12", "place": "beds", "organic_matter": "2 %", "note": note})
    assert load(new.encode(), "field.yaml").site.history[0].note == note.strip()


@draws(60)
@given(
    st.lists(NOTES, min_size=1, max_size=4),
    st.sampled_from(["", "history: []\n", "history: [{A}]\n", "history:\n  - {A}\n"]),
)
def test_notes_pile_up(head: str, notes: list[str], start: str) -> None:
    """Entry after entry, each note stands as it was given, in any shape of history."""
    told = [note for note in notes if note.strip()]
    first = "date: 2027-01-01, place: beds, organic_matter: 2 %"
    text = head + start.replace("{A}", "{" + first + "}")
    for number, note in enumerate(told, 1):
        text = append_history(
            text, {"date": f"2027-02-{number:02d}", "place": "beds", "organic_matter": "2 %", "note": note}
        )
    history = load(text.encode(), "field.yaml").site.history
    assert [one.note for one in history if one.day.month == 2] == [note.strip() for note in told]
    assert text.startswith(head)


def test_everything_that_can_be_said(log: Log, head: str) -> None:
    """Every option of the command is found in the entry, in SI units and exact money."""
    found = log(
        head,
        "--date",
        "2027-04-12",
        "--place",
        "young trees",
        "--material",
        "arborist chip",
        "--amount",
        "18 barrow",
        "--on-top",
        "--hours",
        "5 h",
        "--cash",
        "12.50 EUR",
        "--organic-matter",
        "2.4 %",
        "--note",
        "second half of it",
    )
    assert found.code == 0, found.said
    one = found.site.history[0]
    assert (one.day, one.place, one.material.name) == (date(2027, 4, 12), "young trees", "arborist chip")
    assert (one.loose, one.dug, one.hours) == (pytest.approx(1.44), False, pytest.approx(5.0))
    assert (one.cash, one.tested, one.note) == (Decimal("12.50"), pytest.approx(0.024), "second half of it")


@pytest.mark.parametrize(
    ("words", "loose"),
    [
        (["--amount", "1.5 m3"], 1.5),
        (["--amount", "40 L"], 0.04),
        (["--amount", "60 kg"], 1.0),
        (["--amount", "2 yd3"], 2 * 0.764554857984),
        (["--depth", "3 cm"], 0.3),
        (["--depth", "1 in"], 0.254),
    ],
)
def test_amounts(log: Log, head: str, words: list[str], loose: float) -> None:
    """Amounts go by volume, by mass at the stuff's density, or by depth over the place."""
    text = head + "materials: {thing: {like: straw, density: 60 kg/m3}}\n"
    found = log(text, "--date", "2027-04-12", "--place", "beds", "--material", "thing", *words)
    assert found.code == 0, found.said
    assert found.site.history[0].loose == pytest.approx(loose)


@pytest.mark.parametrize(("word", "dug"), [("--dug", True), ("--on-top", False), ("", None)])
def test_dug_or_on_top(log: Log, head: str, entry: tuple[str, ...], word: str, dug: bool | None) -> None:
    """Dug in, left on top, or not said."""
    found = log(head, *entry, *([word] if word else []))
    assert found.site.history[0].dug is dug


def test_a_note_of_two_lines(log: Log, head: str, entry: tuple[str, ...]) -> None:
    """A note with a line break is read back with a space there, or refused; it never breaks the file."""
    found = log(head, *entry, "--note", "wet\nand cold")
    if found.code == 0:
        assert found.site.history[0].note.split() == ["wet", "and", "cold"]
        assert found.after.startswith(head.encode())
    else:
        assert found.after == found.before
