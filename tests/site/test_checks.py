"""Amounts against the ground they are put on: what cannot be is refused, what hardly can be is asked about."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.course import CourseRequest, course
from barrowful.measures.problems import Problem
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Told = Callable[..., tuple[Problem, ...]]
AREA = 8.0


def history(amount: str, **more: str) -> dict[str, Any]:
    """Return a history of one amount put on the bed."""
    return {
        "history": [
            {"date": "2026-11-01", "place": "bed", "material": "dark stuff", "amount": amount, **more}
        ]
    }


def plan(amount: str, need: str = "dress") -> dict[str, Any]:
    """Return a plan of one amount for the bed."""
    return {"plan": [{"place": "bed", "need": need, "way": "yard", "amount": amount}]}


@draws(80)
@given(st.integers(1, 9000), st.sampled_from([history, plan]), st.booleans())
def test_how_deep_an_amount_may_lie(
    bed: Describe, buy: Describe, problems_of: Told, warnings_of: Told, depth: int, line: Any, weighed: bool
) -> None:
    """Up to 30 cm nothing is said, up to 5 m it is asked about, and deeper is a problem; by mass too."""
    loose = depth / 1000 * AREA
    described = [bed({"dress": {"depth": "1 cm"}}, area=AREA)], [buy()]
    more = line(f"{600 * loose:.6f} kg" if weighed else f"{loose:.6f} m3")
    problems = problems_of(*described, **more)
    if depth > 5000:
        assert [one.code for one in problems] == ["too-deep"]
        assert problems[0].message.startswith(f"{line.__name__}.1: ")
        assert "5 m is the most there can be, 40 m3" in problems[0].message
        return
    assert problems == ()
    warnings = warnings_of(*described, **more)
    assert [one.code for one in warnings] == (["unusual"] if depth > 300 else [])
    assert all("that would be 2.4 m3" in one.message for one in warnings)


def test_twenty_for_two_point_nought(bed: Describe, buy: Describe, warnings_of: Told) -> None:
    """A typed 20 m3 for 2.0 is asked about where it stands, with what 30 cm would be."""
    [warning] = warnings_of([bed(area=43)], [buy()], **history("20 m3"))
    assert warning.message == (
        "history.1: 20 m3 on bed (43 m2) lies 46.5 cm deep as spread; more than 30 cm at one time is unusual, that"
        ' would be 12.9 m3. Look at the amount and its unit, or write "job: fill" where it filled the place'
    )
    assert warnings_of([bed(area=43)], [buy()], **history("2.0 m3")) == ()


def test_many_deep_amounts_are_one_warning(bed: Describe, buy: Describe, warnings_of: Told) -> None:
    """The deepest is named, with how many more there are."""
    lines = [{"date": "2026-11-01", "place": "bed", "material": "dark stuff", "depth": f"{depth} cm"}
             for depth in (31, 2, 45, 38)]  # fmt: skip
    [warning] = warnings_of([bed(area=AREA)], [], history=lines)
    assert warning.message.startswith("history.3: 3.6 m3 on bed (8 m2) lies 45 cm deep")
    assert warning.message.endswith("(2 more lie too deep)")


def test_a_fill_may_be_deep(bed: Describe, buy: Describe, problems_of: Told, warnings_of: Told) -> None:
    """A bed that is filled takes up to ten metres without a word."""
    described = [bed({"fill": {"depth": "60 cm"}}, area=AREA)], [buy()]
    for more in (plan("79 m3", "fill"), history("79 m3")):
        assert problems_of(*described, **more) == ()
        assert warnings_of(*described, **more) == ()
    assert [one.code for one in problems_of(*described, **plan("81 m3", "fill"))] == ["too-deep"]


@pytest.mark.parametrize("amount", ["30 kg", "30 L"])
@pytest.mark.parametrize(
    ("known", "asked"),
    [
        ({"moisture": "40 %"}, "the density of thing; state it"),
        ({"density": "500 kg/m3"}, "the moisture of thing; state it"),
        ({}, "the density and the moisture of thing; state them"),
    ],
)
def test_a_planned_amount_needs_a_density_and_moisture(
    bed: Describe, buy: Describe, problems_of: Told, amount: str, known: dict[str, str], asked: str
) -> None:
    """An amount of stuff that no need could be given any of is a problem at its line, by weight or volume."""
    described = [bed({"dress": {"depth": "1 cm"}}, area=AREA)], [buy(material="thing")]
    [problem] = problems_of(*described, materials={"thing": {"class": "compost", **known}}, **plan(amount))
    assert problem.code == "missing-figure"
    assert problem.message == f'plan.1: an amount needs {asked} under "materials:"'


@draws(60)
@given(st.integers(1, 480), st.integers(0, 100), st.integers(5, 260), st.integers(0, 95))
def test_organic_matter_stays_within_the_soil(
    site_of: SiteOf, bed: Describe, decimetres: int, start: int, density: int, stones: int
) -> None:
    """However much was dug in, a course shows shares from 0 to 100 %; where it came to more, a warning says so."""
    soil = {
        "organic_matter": f"{start} %", "bulk_density": f"{density / 100} g/cm3", "stones": f"{stones} %",
        "tested": "2026-01-01",
    }  # fmt: skip
    site = site_of(
        [bed(area=AREA, soil=soil)], [], **history(f"{decimetres / 100 * AREA:.4f} m3", dug="true")
    )
    said, [followed] = course(site, CourseRequest(from_history=True, monthly=True))
    for point in followed.points:
        shown = [*(point.matter or ()), *([] if point.if_mixed is None else [point.if_mixed])]
        assert all(0 <= share <= 1 for share in shown)
        assert (point.beyond is None) or (point.beyond > 1 and point.matter is None)
    beyond = [point for point in followed.points if point.beyond is not None]
    assert len(said.warnings) == (1 if beyond else 0)
    assert all("which cannot be" in warning for warning in said.warnings)
    assert all(share <= 1 for _, share in followed.others.values())


@pytest.mark.parametrize(
    ("percent", "sound"), [(40, True), (51, True), (52, False), (60, False), (100, False)]
)
def test_a_soil_too_rich_to_reckon_its_density(
    bed: Describe, problems_of: Told, site_of: SiteOf, percent: int, sound: bool
) -> None:
    """The line for bulk density falls with carbon and ends at nothing: such a soil states its own."""
    soil = {"organic_matter": f"{percent} %", "clay": "20 %"}
    problems = problems_of([bed(area=AREA)], [], soil=soil)
    assert [one.code for one in problems] == ([] if sound else ["missing-key"])
    assert all("bulk_density: 0.2 g/cm3" in one.message for one in problems)
    assert site_of([bed(area=AREA)], [], soil={**soil, "bulk_density": "0.2 g/cm3"}).places


SEAWEED = {"name": "weed", "have": {"material": "seaweed", "amount": "2 m3"}}


@pytest.mark.parametrize(
    ("ways", "more", "asked"),
    [
        ([SEAWEED], {}, True),
        ([SEAWEED], {"seaweed": {"density": "400 kg/m3"}}, False),
        (
            [
                SEAWEED,
                {"name": "straw", "have": {"material": "straw", "amount": "4 m3"}},
                {"name": "heap", "make": {"from": [{"way": "weed"}, {"way": "straw"}], "bay": "1 m3"}},
            ],
            {},
            False,
        ),
    ],
)
def test_a_volume_without_a_density_is_asked_about(
    bed: Describe, warnings_of: Told, ways: list[dict[str, Any]], more: dict[str, Any], asked: bool
) -> None:
    """Seaweed by the box is put on no place as long as nothing says what it weighs; a heap reckons with it."""
    told = [one for one in warnings_of([bed()], ways, materials=more) if one.code == "missing-figure"]
    assert bool(told) is asked
    assert all("e.g. seaweed: {density: 400 kg/m3}" in one.message for one in told)
