"""A plan in the file that is over the grower's limits is followed, and said to be over them."""

from __future__ import annotations

import json
from typing import Any

import pytest

import barrowful

SITE: dict[str, Any] = {
    "site": "T",
    "currency": "EUR",
    "start": "2027-03-01",
    "climate": {"annual_mean": "15 degC"},
    "places": [
        {"name": "a", "kind": "bed", "shape": {"area": "100 m2"}, "needs": [{"dress": {"depth": "2 cm"}}]}
    ],
    "ways": [
        {"name": "c", "buy": {"material": "green compost", "price": "40 EUR/m3", "lead": "3 weeks"}},
    ],
}
PLANS = [{}, {"amount": "2 m3"}, {"date": "2027-03-22"}]


def load(limits: dict[str, str], line: dict[str, str]) -> barrowful.LoadedSite:
    """Return the site with limits, and a line of a plan."""
    plan = [{"place": "a", "need": "dress", "way": "c", **line}]
    return barrowful.load(json.dumps({**SITE, "limits": limits, "plan": plan}).encode())


@pytest.mark.parametrize("line", PLANS)
@pytest.mark.parametrize(
    ("limits", "told"),
    [
        ({"cash": "50 EUR"}, "your plan: 30.00 EUR over limits.cash"),
        ({"hours": "1 h"}, "your plan: 1.5 h over limits.hours"),
        ({"hours": "2.5 h"}, "your plan: 0.04 h over limits.hours"),
        ({"by": "2027-03-10"}, "your plan: ready 2027-03-22, 12 days after limits.by"),
        ({"by": "2027-03-21"}, "your plan: ready 2027-03-22, 1 day after limits.by"),
    ],
)
def test_what_it_is_over_is_told(limits: dict[str, str], told: str, line: dict[str, str]) -> None:
    """2 m3 at 40 EUR are 80 EUR, come after three weeks and take 2.54 h: so in options, orders and season."""
    site = load(limits, line)
    for report in (barrowful.options(site), barrowful.orders(site), barrowful.season(site)):
        assert told in report.warnings


def test_within_its_limits_nothing_is_told() -> None:
    """A plan that keeps to them has no warning."""
    site = load({"cash": "80 EUR", "hours": "3 h", "by": "2027-03-22"}, {})
    for report in (barrowful.options(site), barrowful.orders(site), barrowful.season(site)):
        assert [*report.warnings] == []


def test_cases_that_are_over_are_one_warning() -> None:
    """However many prices bring a plan over its limit, that is said once, with how many more do."""
    site = load({"cash": "80 EUR"}, {})
    prices = {f"at {price}": {"ways.c.buy.price": f"{price} EUR/m3"} for price in (40, 41, 42, 43)}
    report = barrowful.whatif(site, prices)
    [warning] = report.warnings
    assert "your plan: 2.00 EUR over limits.cash" in warning
    assert warning.endswith(", and in 2 more cases")
