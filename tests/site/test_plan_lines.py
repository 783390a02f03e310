"""Lines of a plan that are followed as they are written, and asked about."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.measures.problems import Problem
from barrowful.site.records import Site

Describe = Callable[..., dict[str, Any]]
Told = Callable[..., tuple[Problem, ...]]


def line(**more: str) -> dict[str, Any]:
    """Return a plan of one line for the bed, of two years from 2027-03-01."""
    words = {"place": "bed", "need": "dress", "way": "yard", "amount": "0.1 m3", **more}
    return {"plan": [words], "horizon": "2 years"}


@pytest.mark.parametrize(("day", "codes"), [("2029-03-01", []), ("2029-03-02", ["after-horizon"])])
def test_a_day_after_the_horizon(
    bed: Describe, buy: Describe, warnings_of: Told, day: str, codes: list[str]
) -> None:
    """The last day that is looked at is one for a line, the next is asked about."""
    warnings = warnings_of([bed({"dress": {"depth": "1 cm"}})], [buy()], **line(date=day))
    assert [of.code for of in warnings] == codes
    assert all(of.message.startswith(f"plan.1.date: {day} is after the horizon") for of in warnings)


@pytest.mark.parametrize(("ways", "codes"), [(["yard"], []), (["other"], ["other-way"])])
def test_a_way_that_its_place_is_not_to_get(
    bed: Describe, buy: Describe, warnings_of: Told, ways: list[str], codes: list[str]
) -> None:
    """A line that goes against the ways a place names is asked about."""
    place = bed({"dress": {"depth": "1 cm"}}, ways=ways)
    warnings = warnings_of([place], [buy(), buy(name="other")], **line())
    assert [of.code for of in warnings] == codes
    assert all('bed is to get nothing of "yard"' in of.message for of in warnings)


def test_what_a_place_limits_binds_where_the_site_lifts_it(
    site_of: Callable[..., Site], bed: Describe, buy: Describe
) -> None:
    """The place's own depth a year is not dropped; another place, and another ceiling, stay lifted."""
    limits = {"lift": ["yearly_depth", "suits"]}
    places = [bed(name="one", limits={"depth_per_year": "1 cm"}), bed(name="other")]
    one, other = site_of(places, [buy()], limits=limits).places
    assert (one.limits.lift, other.limits.lift) == ({"suits"}, {"yearly_depth", "suits"})
