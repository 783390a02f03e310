"""What a kilogram of something costs is a price of the stuff: how far ahead one looks is nothing to it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.lines import option_lines
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
MEAL = {"class": "fertiliser", "density": "600 kg/m3", "moisture": "0 %", "nitrogen": "12 %"}


@pytest.mark.parametrize("horizon", ["1 year", "2 years", "4 years"])
def test_a_kilogram_of_nitrogen(site_of: SiteOf, bed: Callable[..., dict[str, Any]], horizon: str) -> None:
    """At 3 EUR/kg and 12 % of nitrogen, 60 % of it usable, a kilogram costs 25 EUR and a usable one 41.67."""
    meal = {**MEAL, "available_nitrogen": "60 %", "carbon": "40 %", "organic_matter": "80 %"}
    ways = [{"name": "shop", "buy": {"material": "meal", "price": "3 EUR/kg"}}]
    site = site_of([bed({"feed": {"nitrogen": "5 g/m2"}})], ways, materials={"meal": meal}, horizon=horizon)
    [line] = option_lines(options(site))
    assert line.prices.nitrogen
    assert line.prices.available
    assert float(line.prices.nitrogen) == pytest.approx(25, rel=2e-3)  # what is put on is told to the cent
    assert float(line.prices.available) == pytest.approx(3 / 0.12 / 0.6, rel=2e-3)


def test_a_kilogram_of_a_mulch_that_is_topped_up(site_of: SiteOf, bed: Callable[..., dict[str, Any]]) -> None:
    """What tops a cover up later costs more, and brings more."""
    ways = [{"name": "yard", "buy": {"material": "green compost", "price": "40 EUR/m3"}}]
    prices = [
        option_lines(options(site_of([bed({"cover": {"depth": "5 cm"}})], ways, horizon=horizon)))[0].prices
        for horizon in ("1 year", "4 years")
    ]
    assert prices[0] == prices[1]
