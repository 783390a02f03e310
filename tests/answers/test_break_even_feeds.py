"""What pairs of feeds put on at no price's bidding is worked out once for all values of a break-even."""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest
import yaml

from barrowful.answers import known
from barrowful.answers.break_even import break_evens
from barrowful.answers.break_even_range import asked
from barrowful.answers.cases import Standing
from barrowful.site.load import load

STUFFS = {
    "feather meal": "2.1 EUR/kg",
    "bone meal": "1.5 EUR/kg",
    "pelleted poultry manure": "0.6 EUR/kg",
    "manure compost": "40 EUR/m3",
    "sulphate of potash": "1.2 EUR/kg",
}


def site_text() -> str:
    """Return a site with beds of three crops and meals, pellets and compost that may feed them together."""
    places = [
        {"name": crop, "kind": "bed", "shape": {"area": "12 m2"}, "needs": [{"feed": {"for": crop}}]}
        for crop in ("cabbage", "lettuce", "leek")
    ]
    return yaml.safe_dump(
        {
            "site": "Three Beds",
            "currency": "EUR",
            "start": "2027-02-01",
            "horizon": "2 years",
            "climate": {"annual_mean": "11 degC"},
            "soil": {"phosphorus_test": "low"},
            "labour": {"hourly_value": "12 EUR/h"},
            "places": places,
            "ways": [
                {"name": stuff, "buy": {"material": stuff, "price": of}} for stuff, of in STUFFS.items()
            ],
        },
        sort_keys=False,
    )


def test_amounts_that_go_by_no_price_are_worked_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """The least of each way of a pair is the same at every price: no value asks for it once more."""
    standing = Standing(load(site_text().encode(), "site.yaml"))
    of = asked(standing, "ways.feather meal.buy.price=1 EUR/kg..6 EUR/kg:9")
    decide, calls = known.decide, Counter[tuple[str, ...]]()

    def counted(site: Any, kind: str, places: Any, source: Any, *more: Any) -> Any:
        if source.weight_of:
            calls[source.key, *(place.name for place in places)] += 1
        return decide(site, kind, places, source, *more)

    monkeypatch.setattr(known, "decide", counted)
    found = break_evens(standing, of.scale, of.looks, of.why)
    assert found.looked_at >= 9
    assert set(calls.values()) == {1}
