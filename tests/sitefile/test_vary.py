"""Values that are varied: ranges in any units, dates, lists, and what is refused."""

from __future__ import annotations

from datetime import date

import pytest

from barrowful.measures.problems import WrongUse
from barrowful.measures.text import read_measure
from barrowful.sitefile.text.cases import cases_of
from barrowful.sitefile.text.vary import varied

#: A cubic yard in cubic metres, by definition.
YD3 = 0.764554857984
OWN = {"barrow": read_measure("80 L", ("volume",), {})}


def test_ends_in_different_units_of_one_dimension() -> None:
    """The first end stays as typed, the others are in the last one's unit, and the steps are equal."""
    axis = varied("p", "2 m3..8 yd3:4", {})
    assert axis.unit == "yd3"
    assert [value.text for value in axis.values[::3]] == ["2 m3", "8 yd3"]
    first, *others = [value.cell for value in axis.values]
    assert first == pytest.approx(2 / YD3, rel=1e-11)
    for number, cell in enumerate(others, 1):
        assert cell == pytest.approx(2 / YD3 + number * (8 - 2 / YD3) / 3, abs=1e-6)


@pytest.mark.parametrize(
    ("text", "unit", "cells"),
    [
        ("40 EUR/m3..40 EUR/yd3:2", "EUR/yd3", [40 * YD3, 40]),
        ("50..68 degF:3", "degF", [50, 59, 68]),
        ("10 degC..68 degF:2", "degF", [50, 68]),
        ("1 barrow..1 m3:2", "m3", [0.08, 1]),
        ("2 m..3:2", "m", [2, 3]),
        ("40,46, 60 EUR/m3", "EUR/m3", [40, 46, 60]),
        ("1 m, 90 cm", "cm", [100, 90]),
        ("4,8,15", "", [4, 8, 15]),
        ("2028-03-01..2028-03-05:3", "", [date(2028, 3, day) for day in (1, 3, 5)]),
        ("2029-01-31,2028-03-01", "", [date(2029, 1, 31), date(2028, 3, 1)]),
        ("leaf mould, chip", "", ["leaf mould", "chip"]),
        ("30..40 %, 50 %", "", ["30..40 %", "50 %"]),
        ("5 EUR/bag, 46 EUR/m3", "", ["5 EUR/bag", "46 EUR/m3"]),
        ('[1, 2], "a, b"', "", ["[1, 2]", '"a, b"']),
    ],
)
def test_what_a_machine_gets(text: str, unit: str, cells: list[object]) -> None:
    """Numbers of one dimension come in the last one's unit, dates as dates, all else as it is typed."""
    axis = varied("p", text, OWN)
    assert axis.unit == unit
    given: list[object] = [value.cell for value in axis.values]
    if all(isinstance(cell, float) for cell in given):
        assert given == pytest.approx(cells, rel=1e-11)
    else:
        assert given == cells


def test_a_grid_has_every_combination_once() -> None:
    """Several --vary are a grid with a cell for each, beside the named cases; --set holds in all."""
    wanted = cases_of(["s=1"], ["dear:p=9 EUR"], ["p=1..3 EUR:3", "q=a,b", "r=2028-01-01,2029-01-01"])
    named, *grid = wanted.cases
    assert (named.name, named.changes, named.cells) == ("dear", (("s", "1"), ("p", "9 EUR")), ())
    assert len({case.cells for case in grid}) == len({case.name for case in grid}) == len(grid) == 12
    assert grid[1].cells == (1.0, "a", date(2029, 1, 1))
    assert grid[1].changes == (("s", "1"), ("p", "1 EUR"), ("q", "a"), ("r", "2029-01-01"))


@pytest.mark.parametrize(
    ("vary", "says"),
    [
        (["p=1 m..9 kg:2"], 'in units of one dimension, e.g. "2 m3..8 yd3:4"'),
        (["p=1 EUR/m3..9 EUR:2"], "do not measure the same"),
        (["p=1 EUR/m3..9 USD/m3:2"], "do not measure the same"),
        (["p=1 fot..9 m:2"], 'did you mean "foot"?'),
        (["p=1..9 m"], 'write "PATH=A..B:N"'),
        (["p=9"], 'or "PATH=a,b,c"'),
        (["p=1..9 m:1"], "give at least 2 steps"),
        (["p=5..5 m:3"], "too close for 3 steps"),
        (["p=1..9 m:10001"], "10,001 cases are more than 10,000"),
        (["p=1..9 m:101", "q=1..9 m:100"], "10,100 cases are more than 10,000"),
        (["p=1..9 m:9", "p=1,2"], '"p" is varied twice'),
        (["p=1 m,,2 m"], "nothing between two commas"),
        (["p=1 m,2 m,1.0 m"], '"1 m" twice'),
        (["p=1,5..9 m:3"], "write a decimal point"),
        (["p=2028-01-01..9:3"], "not both dates"),
        (["p=2028-01-01..2028-02-30:3"], "not a day of the calendar"),
        (["p=2028-01-01..2028-01-03:5"], "too close for 5 steps"),
        (["p=2028-01-01,2028-02-30"], "not a day of the calendar"),
        (["p=04-20..05-20:3"], "varied by a list"),
    ],
)
def test_what_cannot_be_varied_says_what_can(vary: list[str], says: str) -> None:
    """Each is wrong use with the right form, before anything is worked out."""
    with pytest.raises(WrongUse) as wrong:
        cases_of([], [], vary)
    assert says in str(wrong.value)


@pytest.mark.parametrize(
    ("cases", "says"),
    [(["base:p=1"], "give the case another name"), (["q=1:p=1"], "two cases are called")],
)
def test_names_of_cases_are_told_apart(cases: list[str], says: str) -> None:
    """No case is called as the file as it stands, or as another."""
    with pytest.raises(WrongUse, match=says):
        cases_of([], cases, ["q=1,2"])
