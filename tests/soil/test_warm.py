"""Ground warmer than any the soil model was tried on: a warning, and a second opinion with another curve."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.course import CourseRequest, course
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
TESTED = {"organic_matter": "4 %", "bulk_density": "1.3 g/cm3", "tested": "2027-03-01"}


def test_a_warm_site_gets_a_second_opinion(site_of: SiteOf, bed: Describe) -> None:
    """At 25 degC AMG's curve is steeper than RothC's: with it less is left; at 20 degC none is asked."""
    need = {"raise": {"organic_matter": "5 %", "depth": "20 cm", "by": "2030-03-01"}}
    yard = {"name": "yard", "buy": {"material": "green compost", "price": "40 EUR/m3"}}
    models = {}
    for mean in ("20 degC", "25 degC"):
        site = site_of([bed(need)], [yard], soil=TESTED, climate={"annual_mean": mean}, start="2027-03-01")
        models[mean] = course(site, CourseRequest())[1][0].others
    assert set(models["25 degC"]) - set(models["20 degC"]) == {"barrowful with AMG's warmth curve"}
    ours, theirs = (models["25 degC"][name][1] for name in ("barrowful", "barrowful with AMG's warmth curve"))
    assert 0.04 < theirs < ours


@pytest.mark.parametrize(
    ("climate", "said"),
    [
        ({"annual_mean": "25 degC"}, True),
        ({"annual_mean": "20 degC"}, False),
        ({"monthly_mean": ["15 degC"] * 6 + ["24 degC"] * 6}, False),
        ({"monthly_mean": ["18 degC"] * 6 + ["25 degC"] * 6}, True),
    ],
)
def test_a_warm_site_is_told_that_nothing_so_warm_was_tried(
    warnings_of: Callable[..., Any], bed: Describe, climate: dict[str, Any], said: bool
) -> None:
    """Above a yearly mean of 20 degC a warning gives both curves: 2.0 and 3.0 times at 25 degC."""
    warnings = [str(one) for one in warnings_of([bed()], [], climate=climate) if one.code == "untried"]
    assert bool(warnings) is said
    if climate == {"annual_mean": "25 degC"}:
        assert "2.0 times as fast" in warnings[0]
        assert "has 3.0 (AMG's)" in warnings[0]
