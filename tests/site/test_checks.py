"""Amounts against the ground they are put on: what cannot be is refused, what hardly can be is asked about."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from barrowful.measures.problems import Problem

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


@settings(max_examples=80, deadline=None)
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
        " would be 12.9 m3. Look at the amount and its unit"
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


def test_a_planned_mass_needs_a_density(bed: Describe, buy: Describe, problems_of: Told) -> None:
    """A mass of stuff whose density nobody knows is a problem, or the sheet would leave it out."""
    stuff = {"class": "compost", "moisture": "40 %"}
    described = [bed({"dress": {"depth": "1 cm"}}, area=AREA)], [buy(material="thing")]
    [problem] = problems_of(*described, materials={"thing": stuff}, **plan("30 kg"))
    assert (problem.code, "density of thing" in problem.message) == ("missing-figure", True)
