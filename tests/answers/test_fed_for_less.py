"""What is fed for less: a lower price, or one more way, never makes the cheapest dearer for the same needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from fed_sites import at_price, fed_site, without
from hypothesis import example, given
from hypothesis import strategies as st

from barrowful.answers.choices import cheapest
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]


def best(site_of: SiteOf, described: Mapping[str, Any]) -> tuple[int, Decimal]:
    """Return how many needs the cheapest ways leave unmet, and what they cost."""
    answer = options(site_of(**described))
    whole = cheapest(answer)
    needs = sum(len(place.needs) for place in answer.site.places)
    return needs - whole.count, whole.bill.cash


@pytest.mark.parametrize(("bag", "cash"), [("5", "14.80"), ("30", "42"), ("34", "46"), ("50", "62")])
def test_by_hand(site_of: SiteOf, bed: Describe, bag: str, cash: str) -> None:
    """1.1 kg of nitrogen of meal with 10 % and pellets with 4 %, which also bring phosphorus and potassium.

    The phosphorus takes 10 kg of meal, a whole bag, and 2.5 kg of pellets then at
    4.80 EUR/kg. The potassium takes 1 kg of pellets, and 10.6 kg of meal then, two bags: that is cheapest by the kilogram at all these prices.
    """
    label = {"class": "fertiliser", "density": "1000 kg/m3", "moisture": "0 %"}
    label |= {f"available_{name}": "100 %" for name in ("nitrogen", "phosphorus", "potassium")}
    materials = {
        "meal": {**label, "nitrogen": "10 %", "phosphorus": "1 %", "potassium": "0 %"},
        "pellets": {**label, "nitrogen": "4 %", "phosphorus": "0 %", "potassium": "4 %"},
    }
    ways = [
        {"name": "meal", "buy": {"material": "meal", "price": f"{bag} EUR/bag", "bag": "10 kg"}},
        {"name": "pellets", "buy": {"material": "pellets", "price": "4.80 EUR/kg"}},
    ]
    feed = {"feed": {"nitrogen": "11 g/m2", "phosphorus": "1 g/m2", "potassium": "0.4 g/m2"}}
    whole = cheapest(options(site_of([bed(feed, area=100)], ways, materials=materials, horizon="1 year")))
    assert whole.unmet == ()
    assert whole.bill.cash == Decimal(cash)


@draws(60, derandomize=True)
@example(543, 2, 0.85)
@example(577, 1, 0.7)
@example(659, 0, 0.5)
@given(st.integers(0, 10**6), st.integers(0, 9), st.sampled_from([0.5, 0.7, 0.85, 0.95]))
def test_a_lower_price_makes_nothing_dearer(site_of: SiteOf, seed: int, way: int, factor: float) -> None:
    """Amounts that cost less at the higher price are tried at the lower one too."""
    described = fed_site(seed)
    lower = at_price(described, way % len(described["ways"]), factor)
    assert best(site_of, lower) <= best(site_of, described)


@draws(60, derandomize=True)
@example(556, 3)
@example(5104, 0)
@example(5191, 3)
@given(st.integers(0, 10**6), st.integers(0, 9))
def test_one_more_way_makes_nothing_dearer(site_of: SiteOf, seed: int, way: int) -> None:
    """What does without a way does beside it too."""
    described = fed_site(seed)
    fewer = without(described, way % len(described["ways"]))
    assert best(site_of, described) <= best(site_of, fewer)
