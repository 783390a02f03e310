"""Layouts: what cannot be described, what a row holds, and that every table is in the registry."""

from __future__ import annotations

import importlib
import pkgutil
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import Any

import pytest

import barrowful.tables
from barrowful.tables import columns as c
from barrowful.tables.formats import FORMATS
from barrowful.tables.layout import Layout
from barrowful.tables.options import BY_PLACE, OPTIONS
from barrowful.tables.registry import TABLES
from barrowful.tables.report import Look, Report
from barrowful.tables.whatif import WHATIF

LENGTH = c.number("length_m", "length", c.as_is("m", 2), "How long.", lambda word: float(len(word)))
WORD: c.Column[str] = c.text("word", "word", "The word.", lambda word: word)


def layout(*columns: c.Column[str], **more: Any) -> Layout[str]:
    """Return the layout of a small table about words."""
    return Layout(name="words", columns=columns, **{"identifies": ("word",), **more})


def test_a_row_is_what_the_columns_read() -> None:
    """Each cell is what its column reads of the row's subject, under the column's key, in order."""
    table = layout(WORD, LENGTH).table(["ash", "elm bark"])
    assert table.rows == [{"word": "ash", "length_m": 3.0}, {"word": "elm bark", "length_m": 8.0}]
    assert (table.name, table.shown) == ("words", ("word", "length_m"))


def test_no_cell_is_endless_or_dusty() -> None:
    """An infinity is absent, and dust beyond ten digits is gone, whatever a column reads."""
    third = replace(LENGTH, value=lambda word: float(word))
    rows = layout(WORD, third).table(["inf", "nan", "-inf", "0.30000000000000004", "-1e-12"]).rows
    assert [row["length_m"] for row in rows] == [None, None, None, 0.3, 0.0]


@pytest.mark.parametrize(
    "more",
    [{"shown": ("wrod",)}, {"identifies": ("wrod",)}, {"identifies": ()}, {"shown": ("word", "length")}],
)
def test_a_layout_names_only_its_own_columns(more: dict[str, Any]) -> None:
    """What people see and what identifies a row are keys of its columns, and something does identify it."""
    with pytest.raises(ValueError, match="words: "):
        layout(WORD, LENGTH, **more)


def test_a_key_stands_once() -> None:
    """A key that stands twice in a table is refused."""
    with pytest.raises(ValueError, match="twice"):
        layout(WORD, LENGTH, WORD)


def test_there_is_no_column_without_a_function() -> None:
    """A column cannot be described without what fills it."""
    with pytest.raises(TypeError, match="value"):
        c.Column(key="word", kind="text", heading="word", meaning="The word.")  # type: ignore[call-arg]


def test_a_column_for_a_part_reads_the_part() -> None:
    """A column of a part reads it out of the whole, and is described the same."""
    first = LENGTH.of(lambda words: words[0])
    assert first.value(["ash", "elm bark"]) == 3.0
    assert (first.key, first.meaning, first.scale) == (LENGTH.key, LENGTH.meaning, LENGTH.scale)


def test_every_table_is_in_the_registry() -> None:
    """Each layout of each module of tables is one of a command; only the by-place options vary another."""
    described = set()
    for module in pkgutil.walk_packages(barrowful.tables.__path__, "barrowful.tables."):
        values = vars(importlib.import_module(module.name)).values()
        described |= {id(value) for value in values if isinstance(value, Layout)}
    listed = [layout for layouts in TABLES.values() for layout in layouts]
    assert described == {id(layout) for layout in listed} | {id(BY_PLACE)}
    assert (BY_PLACE.name, BY_PLACE.columns) == (OPTIONS.name, OPTIONS.columns)
    assert len({layout.columns for layout in listed}) == len({id(layout) for layout in listed})


def test_a_shared_key_means_the_same_everywhere() -> None:
    """A key that several tables have is of one kind and unit in all of them, figures' words aside."""
    seen: dict[str, set[tuple[str, str]]] = {}
    for command, layouts in TABLES.items():
        for column in (column for layout in layouts for column in layout.columns):
            if command not in {"figures", "explain", "check"}:
                seen.setdefault(column.key, set()).add((column.kind, column.unit))
    assert {key: kinds for key, kinds in seen.items() if len(kinds) > 1} == {}


def test_a_what_if_has_the_columns_of_the_options() -> None:
    """Every column of the options stands in a what-if, in its order."""
    keys = [column.key for column in WHATIF.columns]
    assert keys[0] == "case"
    assert keys[1 : 1 + len(OPTIONS.keys)] == list(OPTIONS.keys)


@pytest.mark.parametrize("form", FORMATS)
def test_every_format_writes_every_kind(form: str) -> None:
    """Each format of the registry writes a table with a column of every kind, absent cells too."""
    day: c.Column[str] = c.day("day", "day", "A day.", lambda word: date(2027, 3, 1) if word else None)
    price: c.Column[str] = c.money("price", "price", "Money.", lambda word: Decimal("2.50") if word else None)
    long: c.Column[str] = c.flag("long", "long", "Is it long?", lambda word: len(word) > 3)
    letters: c.Column[str] = c.count("letters", "letters", "Its letters.", lambda word: len(word))
    table = layout(WORD, LENGTH, day, price, long, letters).table(["ash", ""])
    text = FORMATS[form].write(Report("words", "", "EUR", [table]), Look())
    for part in ("ash", "2027-03-01", "2.5", "3"):
        assert part in text
    assert "None" not in text
    assert FORMATS[form].write(Report("words", "", "EUR", [layout(WORD).table([])]), Look()).endswith("\n")
