"""Ways of one seller share its deliveries: by hand, whatever the order, and never dearer than apart."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.choices import cheapest
from barrowful.answers.options import options
from barrowful.measures.problems import Problem
from barrowful.site.load import load
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.supplies.placing import PlacedOrder, place_orders
from barrowful.supplies.supply import Draw

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
START = date(2027, 3, 1)
SITE = load(b"site: Sellers\ncurrency: EUR\nstart: 2027-03-01\nplaces: []\n", "sellers.yaml").site


def ways_of(site_of: SiteOf, terms: dict[str, dict[str, Any]]) -> dict[str, Buy]:
    """Return sellers of dark stuff and more by their names, on the terms given."""
    stuffs = {"compost": "green compost", "soil": "topsoil", "chip": "arborist chip"}
    described = [
        {"name": name, "buy": {"material": stuffs[name], "price": "40 EUR/m3", **more}}
        for name, more in terms.items()
    ]
    return {way.name: way for way in site_of([], described).ways if isinstance(way, Buy)}


def placed(ways: dict[str, Buy], draws: list[tuple[str, int, float]]) -> list[PlacedOrder]:
    """Return the orders for draws: of which way, so many days after the start, how much [m3]."""
    days = [Draw(START + timedelta(days), ways[name], loose) for name, days, loose in draws]
    return place_orders(days, SITE)


def test_one_load_brings_both(site_of: SiteOf) -> None:
    """3 m3 and 4 m3 come in one truck of 8 m3: one delivery of 50, which stands with the larger."""
    terms = {"delivery": "50 EUR", "truck": "8 m3", "seller": "Quarry Lane"}
    ways = ways_of(site_of, {"compost": terms, "soil": terms})
    orders = {one.way.name: one.order for one in placed(ways, [("compost", 0, 3.0), ("soil", 5, 4.0)])}
    assert (orders["compost"].trips, orders["compost"].cash) == (0, Decimal(120))
    assert (orders["soil"].trips, orders["soil"].cash) == (1, Decimal(210))


def test_trips_are_counted_on_the_joint_volume(site_of: SiteOf) -> None:
    """5 m3 and 4 m3 take two trucks of 8 m3, and two of 6 t where they weigh more than one carries."""
    terms = {"delivery": "50 EUR", "truck": "8 m3", "seller": "Quarry Lane"}
    ways = ways_of(site_of, {"compost": terms, "soil": terms})
    assert sum(one.order.trips for one in placed(ways, [("compost", 0, 5.0), ("soil", 0, 4.0)])) == 2
    heavy = {"delivery": "50 EUR", "payload": "6 t", "seller": "Quarry Lane"}
    ways = ways_of(site_of, {"compost": heavy, "soil": heavy})
    assert sum(one.order.trips for one in placed(ways, [("compost", 0, 4.0), ("soil", 0, 4.0)])) == 2
    assert sum(one.order.trips for one in placed(ways, [("compost", 0, 2.0), ("soil", 0, 2.0)])) == 1


def test_far_apart_they_come_apart(site_of: SiteOf) -> None:
    """What is wanted half a year later is another delivery, and so is what takes longer to come."""
    terms = {"delivery": "50 EUR", "seller": "Quarry Lane"}
    ways = ways_of(site_of, {"compost": terms, "soil": terms})
    assert sum(one.order.trips for one in placed(ways, [("compost", 0, 1.0), ("soil", 180, 1.0)])) == 2
    ways = ways_of(site_of, {"compost": terms, "soil": {**terms, "lead": "2 weeks"}})
    found = placed(ways, [("compost", 3, 1.0), ("soil", 14, 1.0)])
    assert [(one.way.name, one.day, one.order.trips) for one in found] == [
        ("compost", START + timedelta(3), 1),
        ("soil", START + timedelta(14), 1),
    ]


def test_what_can_be_there_comes_with_what_is_wanted_first(site_of: SiteOf) -> None:
    """Soil of two weeks' lead that is wanted a month on comes with compost of one that is wanted before it.

    Ordered in time both are there on the first day, three weeks from the start; on the tenth soil is not.
    """
    terms = {"delivery": "50 EUR", "seller": "Quarry Lane", "lead": "1 week"}
    ways = ways_of(site_of, {"compost": terms, "soil": {**terms, "lead": "2 weeks"}})
    for first, trips in ((21, 1), (14, 1), (10, 2)):
        found = placed(ways, [("compost", first, 1.0), ("soil", 30, 1.0)])
        assert sum(one.order.trips for one in found) == trips, first


def test_one_round_fetches_both(site_of: SiteOf, bed: Describe) -> None:
    """Own collection of soil and compost from one yard is one round of an hour, not two."""
    terms = {"box": "4 m3", "trip": "1 h"}
    fill = {"fill": {"volume": "1 m3"}}

    def hours(**more: str) -> float:
        ways = [
            {"name": name, "buy": {"material": stuff, "price": "40 EUR/m3", **terms, **more}}
            for name, stuff in (("compost", "green compost"), ("soil", "topsoil"))
        ]
        return cheapest(options(site_of([bed(fill)], ways))).bill.hours.likely

    assert hours(seller="Quarry Lane") == pytest.approx(hours() - 1)


@pytest.mark.parametrize("key", ["delivery", "truck"])
@pytest.mark.parametrize("value", ["9", None])
def test_terms_that_differ_are_problems(
    problems_of: Callable[..., tuple[Problem, ...]], bed: Describe, key: str, value: str | None
) -> None:
    """One seller has one delivery and one truck: another, or none, is a problem at its line."""
    terms = {"delivery": "50 EUR", "truck": "8 m3"}
    others = {name: term for name, term in terms.items() if name != key}
    if value is not None:
        others[key] = f"{value} EUR" if key == "delivery" else f"{value} m3"
    ways = [
        {"name": name, "buy": {"material": "topsoil", "price": "40 EUR/m3", "seller": "Lane", **own}}
        for name, own in (("first", terms), ("other", others))
    ]
    [problem] = problems_of([bed()], ways)
    assert problem.code == "seller"
    assert f'"{key}" is another than that of first' in problem.message


@draws(150, derandomize=True)
@given(
    st.lists(
        st.tuples(st.sampled_from(["compost", "soil", "chip"]), st.integers(0, 400), st.floats(0.1, 20)),
        min_size=1,
        max_size=6,
    ),
    st.permutations(range(6)),
)
def test_together_is_never_dearer(
    site_of: SiteOf, draws: list[tuple[str, int, float]], order: list[int]
) -> None:
    """Of one seller all costs no more than of three, as much comes, and the order of draws is no matter."""
    terms = {"delivery": "50 EUR", "truck": "8 m3"}
    apart = ways_of(site_of, dict.fromkeys(("compost", "soil", "chip"), terms))
    joint = ways_of(site_of, {name: {**terms, "seller": "Lane"} for name in ("compost", "soil", "chip")})
    one, three = placed(joint, draws), placed(apart, draws)
    assert sum(of.order.volume for of in one) == pytest.approx(sum(of.order.volume for of in three))
    assert sum(of.order.cash for of in one) <= sum(of.order.cash for of in three) + Decimal("0.05")
    mixed = placed(joint, [draws[index] for index in order if index < len(draws)])
    assert sum(of.order.cash for of in mixed) == sum(of.order.cash for of in one)
