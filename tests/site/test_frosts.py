"""Last and first frost against the hemisphere: what is swapped is refused, and no climate there is."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from barrowful.measures.problems import Problem, SiteProblems
from barrowful.site.load import load

Frosts = tuple[str, str]
#: Frosts of places there are, by what they are like: the last and the first.
NORTH = {
    "temperate": ("04-20", "10-25"),
    "a cold valley, summer begun": ("06-25", "08-20"),
    "mild, past new year": ("01-25", "12-20"),
    "mild, after new year alone": ("02-10", "01-20"),
    "mild, before new year alone": ("12-28", "12-05"),
}
SOUTH = {
    "temperate": ("09-20", "05-10"),
    "mild, in July alone": ("07-31", "07-05"),
    "mild, in August alone": ("08-20", "08-01"),
    "cold hills": ("11-30", "03-01"),
    "cold hills, summer begun": ("12-28", "02-10"),
}
KNOWN = [("north", frosts) for frosts in NORTH.values()] + [("south", frosts) for frosts in SOUTH.values()]


def problems_of(hemisphere: str, frosts: Frosts) -> tuple[Problem, ...]:
    """Return what is wrong with a site of some frosts."""
    text = (
        f"site: x\ncurrency: EUR\nstart: 2027-03-01\nhemisphere: {hemisphere}\nplaces: []\nclimate:\n"
        f"  annual_mean: 12 degC\n  first_frost: {frosts[1]}\n  last_frost: {frosts[0]}\n"
    )
    try:
        load(text.encode(), "x.yaml")
    except SiteProblems as found:
        return found.problems
    return ()


@pytest.mark.parametrize(("hemisphere", "frosts"), KNOWN)
def test_frosts_there_are_are_taken(hemisphere: str, frosts: Frosts) -> None:
    """Wherever summer lies between them, whether or not the new year does too."""
    assert problems_of(hemisphere, frosts) == ()


@pytest.mark.parametrize(
    ("hemisphere", "frosts"),
    [
        ("north", NORTH["temperate"]),
        ("north", NORTH["mild, past new year"]),
        ("south", SOUTH["temperate"]),
        ("south", SOUTH["cold hills"]),
    ],
)
def test_what_is_swapped_is_refused(hemisphere: str, frosts: Frosts) -> None:
    """It says on its line what would be right: the two the other way round, or the other hemisphere."""
    last, first = frosts
    other = "south" if hemisphere == "north" else "north"
    for stated, written in ((hemisphere, (first, last)), (other, frosts)):
        (problem,) = problems_of(stated, written)
        assert (problem.code, problem.line, problem.column) == ("frosts", 8, 16)
        assert problem.message.startswith("climate.first_frost: from last_frost ")
        assert f"it is winter in the {stated}" in problem.message
        assert f'"last_frost: {written[1]}" and "first_frost: {written[0]}"' in problem.message
        assert "hemisphere: north" in problem.message or stated == "north"
        assert "hemisphere: south" in problem.message or stated == "south"


@pytest.mark.parametrize("hemisphere", ["north", "south"])
def test_one_day_for_both_is_refused(hemisphere: str) -> None:
    """Nothing grows between a day and itself."""
    (problem,) = problems_of(hemisphere, ("04-20", "04-20"))
    assert (problem.code, problem.line) == ("frosts", 8)
    assert "04-20" in problem.message
    assert "in spring" in problem.message


DAYS = st.dates().map(lambda day: f"{day.month:02}-{min(day.day, 28):02}")


@given(DAYS, DAYS)
def test_what_is_refused_is_right_the_other_way_round(last: str, first: str) -> None:
    """Two days are right in one order at least in each hemisphere, and what is refused in one is right in the other."""
    if last == first:
        return
    for hemisphere, other in (("north", "south"), ("south", "north")):
        if problems_of(hemisphere, (last, first)):
            assert problems_of(hemisphere, (first, last)) == ()
            assert problems_of(other, (last, first)) == ()


def test_a_mean_beside_the_months_is_told_to_change_nothing() -> None:
    """Where the months are given the year's mean has no say: a warning names it, and either alone has none."""
    months = ", ".join(f"{warmth} degC" for warmth in (4, 5, 7, 10, 14, 17, 19, 19, 16, 12, 8, 5))
    head = "site: x\ncurrency: EUR\nstart: 2027-03-01\nplaces: []\nclimate:\n"
    mean, each = "  annual_mean: 12 degC\n", f"  monthly_mean: [{months}]\n"
    both = load((head + mean + each).encode(), "x.yaml")
    assert [(warning.line, warning.code) for warning in both.warnings] == [(6, "unused")]
    assert "changes nothing beside monthly_mean" in both.warnings[0].message
    for alone in (mean, each):
        assert load((head + alone).encode(), "x.yaml").warnings == ()
    assert both.site == load((head + each).encode(), "x.yaml").site


def test_a_cold_month_is_nothing_unusual(warnings_of: Callable[..., Any], bed: Callable[..., Any]) -> None:
    """Inland winters have months of -16 degC; a year of -6 degC is asked about, as frost never leaves such ground."""
    cold = ["-16 degC", "-13 degC", "-6 degC", *["9 degC"] * 7, "-3 degC", "-12 degC"]
    assert not [of for of in warnings_of([bed()], [], climate={"monthly_mean": cold}) if of.code == "unusual"]
    for climate in ({"annual_mean": "-6 degC"}, {"monthly_mean": ["-26 degC", *cold[1:]]}):
        assert [of.code for of in warnings_of([bed()], [], climate=climate)].count("unusual") == 1


def warned_of(hemisphere: str, climate: str) -> list[tuple[int, str]]:
    """Return the lines and keys that a site's climate is asked about."""
    text = f"site: x\ncurrency: EUR\nstart: 2027-03-01\nhemisphere: {hemisphere}\nplaces: []\nclimate: {climate}\n"
    return [(of.line, of.message.split(":")[0]) for of in load(text.encode(), "x.yaml").warnings]


@pytest.mark.parametrize(("hemisphere", "frosts"), KNOWN)
def test_one_frost_of_the_other_hemisphere_is_asked_about(hemisphere: str, frosts: Frosts) -> None:
    """Each of what there is passes by itself; a last frost of April in the south does not."""
    for key, day in zip(("last_frost", "first_frost"), frosts, strict=True):
        assert warned_of(hemisphere, f"{{annual_mean: 12 degC, {key}: {day}}}") == []
    for of, key, day in (("south", "last_frost", "04-20"), ("north", "last_frost", "10-05"),
                         ("south", "first_frost", "10-25"), ("north", "first_frost", "04-20")):  # fmt: skip
        assert warned_of(of, f"{{annual_mean: 12 degC, {key}: {day}}}") == [(6, f"climate.{key}")]


def test_months_of_the_other_hemisphere_are_asked_about() -> None:
    """The coldest month is none of summer, but where none is cold enough for frost."""
    months = [2, 3, 6, 10, 14, 17, 20, 19, 15, 10, 6, 3]
    for shift, hemisphere in ((0, "north"), (6, "south")):
        there = [f"{warmth} degC" for warmth in (*months[shift:], *months[:shift])]
        other = "south" if hemisphere == "north" else "north"
        assert warned_of(hemisphere, f"{{monthly_mean: [{', '.join(there)}]}}") == []
        assert warned_of(other, f"{{monthly_mean: [{', '.join(there)}]}}") == [(6, "climate.monthly_mean")]
    warm = ", ".join(f"{warmth + 12} degC" for warmth in (2, 2, 3, 4, 5, 6, 6, 6, 5, 4, 3, 2))
    assert "climate.monthly_mean" not in [key for _, key in warned_of("south", f"{{monthly_mean: [{warm}]}}")]
