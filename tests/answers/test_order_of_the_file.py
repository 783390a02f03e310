"""The order of ways and places in a file changes only who is first among equals, never a row or what it names."""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

import pytest
from draws import draws
from hypothesis import Phase, given
from hypothesis import strategies as st
from small_sites import small_site

from barrowful.answers.lines import option_lines
from barrowful.answers.options import options
from barrowful.site.records import Site
from barrowful.site.ways import JOINS

SiteOf = Callable[..., Site]
Plain = dict[str, Any]

STEADY = draws(120, derandomize=True, phases=[Phase.explicit, Phase.generate])


def whoever(name: str) -> str:
    """Return names of ways that serve jointly in an order of their own: in a row they stand as in the file."""
    return JOINS.join(sorted(name.split(JOINS)))


def rows_of(site: Site) -> dict[tuple[str, str], Plain]:
    """Return what the rows of options say, by need and way, whatever the order of the places in them."""
    return {
        (line.option.need, whoever(line.option.name)): {
            "places": sorted(place.name for place in line.option.places),
            "figures": [
                pytest.approx(figure, nan_ok=True)
                for figure in (
                    float(line.cash) if line.cash is not None else None,
                    float(line.cash_first_year) if line.cash_first_year is not None else None,
                    *(line.hours, line.loose, line.possible, line.option.decision.met_share),
                )
            ],
            "feasible": line.option.feasible,
            "ready_on": line.option.ready_on,
            "ceiling": line.option.decision.ceiling,
            "instead": whoever(line.instead),
            "beaten_by": whoever(line.option.beaten_by),
        }
        for line in option_lines(options(site))
    }


@STEADY
@given(st.integers(0, 10**9))
def test_rows_are_the_same_in_any_order(site_of: SiteOf, seed: int) -> None:
    """With ways and places in another order every row has the same figures and names the same ways."""
    luck, described = random.Random(seed), small_site(seed)
    mixed = {key: luck.sample(described[key], len(described[key])) for key in ("ways", "places")}
    assert rows_of(site_of(**{**described, **mixed})) == rows_of(site_of(**described))
