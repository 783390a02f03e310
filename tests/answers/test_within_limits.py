"""The cheapest ways within the grower's limits: most needs met at least cost, whatever else the file has."""

from __future__ import annotations

import random
from collections.abc import Callable
from itertools import permutations
from typing import Any

import pytest
from draws import cases, draws
from hypothesis import Phase, example, given
from hypothesis import strategies as st
from small_sites import small_site

from barrowful.answers.choices import WholeSite, cheapest
from barrowful.answers.option import total_cost
from barrowful.answers.options import Answer, options
from barrowful.answers.search import best_of
from barrowful.answers.together import Together
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Plain = dict[str, Any]

STEADY = draws(120, derandomize=True, phases=[Phase.explicit, Phase.generate])
SEEDS = st.integers(0, 10**9)
#: Ways for each need of each place that are drawn for a site.
DRAWN = 40
CENT = 0.005


def limited_site(seed: int) -> Plain:
    """Return a small site with limits that often have no room for all of it."""
    luck = random.Random(seed + 7)
    cash, hours = f"{luck.randint(5, 200)} EUR", f"{luck.randint(1, 40) / 4} h"
    limits = luck.choice([{"cash": cash}, {"hours": hours}, {"cash": cash, "hours": hours}])
    return {**small_site(seed, limits=False), "limits": limits | luck.choice([{}, {"by": "2028-06-01"}])}


def standing(answer: Answer, row: WholeSite | Together) -> tuple[int, float]:
    """Return how many needs are not met, and the cash with hours at their value."""
    met = row.count if isinstance(row, WholeSite) else row.met
    bill = row.bill if isinstance(row, WholeSite) else row.bill()
    every = sum(len(place.needs) for place in answer.site.places)
    return every - met, float(total_cost(bill.cash, bill.hours, answer.site.labour.hourly_value))


def assert_no_worse(one: tuple[int, float], other: tuple[int, float]) -> None:
    """Assert that one meets no less than another, nor as much for more."""
    assert one[0] <= other[0]
    assert one[0] < other[0] or one[1] <= other[1] + CENT


@STEADY
@given(SEEDS)
def test_the_order_of_the_file_changes_nothing(site_of: SiteOf, seed: int) -> None:
    """Ways and places in any order: as much is met, at the same cost and hours, as soon."""
    luck, described = random.Random(seed), limited_site(seed)
    mixed = {key: luck.sample(described[key], len(described[key])) for key in ("ways", "places")}
    here, there = (options(site_of(**each)) for each in (described, {**described, **mixed}))
    row, twin = cheapest(here), cheapest(there)
    assert standing(there, twin) == pytest.approx(standing(here, row))
    assert twin.bill.hours.compared == pytest.approx(row.bill.hours.compared)
    assert twin.ready_on == row.ready_on


@STEADY
@example(seed=55578340)
@given(SEEDS)
def test_each_way_left_out_is_no_gain(site_of: SiteOf, seed: int) -> None:
    """Without any one of the ways no more is met, nor as much for less."""
    whole = limited_site(seed)
    answer = options(site_of(**whole))
    best = standing(answer, cheapest(answer))
    for way in whole["ways"]:
        kept = [other for other in whole["ways"] if other is not way]
        drawn = {part.get("way") for other in kept for part in other.get("make", {}).get("from", [])}
        places = [
            {**one, "ways": [name for name in one["ways"] if name != way["name"]]} if "ways" in one else one
            for one in whole["places"]
        ]
        if not kept or way["name"] in drawn or any(one.get("ways") == [] for one in places):
            continue
        fewer = options(site_of(**{**whole, "ways": kept, "places": places}))
        assert_no_worse(best, standing(fewer, cheapest(fewer)))


@STEADY
@given(SEEDS)
def test_no_ways_for_each_need_of_each_place_are_better(site_of: SiteOf, seed: int) -> None:
    """Of ways drawn for every need of every place, or none, none meet more within the limits, nor as much for less."""
    luck, answer = random.Random(seed), options(site_of(**limited_site(seed)))
    best, ways = best_of(answer), [*answer.supplies]
    assert not best.together.over_limits(best.bill)
    for _ in range(cases(DRAWN)):
        together = Together(answer)
        for kind in NEEDS:
            for place in answer.site.places_with(kind):
                picked = luck.choice([*ways, None])
                if picked is not None:
                    together.serve(kind, (picked,), {place.name})
        if not together.over_limits(together.bill()):
            assert_no_worse(standing(answer, best.together), standing(answer, together))


def strip(number: int, count: int, *needs: Plain) -> Plain:
    """Return strips of 20 m by 60 cm."""
    shape = {"strip": {"length": "20 m", "width": "60 cm"}}
    return {"name": f"p{number}", "kind": "row", "count": count, "shape": shape, "needs": list(needs)}


def bed(number: int, count: int, long: str, *needs: Plain) -> Plain:
    """Return beds 1.2 m wide."""
    shape = {"rectangle": [long, "1.2 m"]}
    return {"name": f"p{number}", "kind": "bed", "count": count, "shape": shape, "needs": list(needs)}


COVER: Plain = {"cover": {"depth": "5 cm"}}
FEED: Plain = {"feed": {"nitrogen": "12 g/m2", "potassium": "10 g/m2"}}
CABBAGE: Plain = {"feed": {"for": "cabbage"}}
LIME: Plain = {"lime": {"ph": "6.5"}}
CHIP = {
    "name": "chip",
    "buy": {"material": "arborist chip", "price": "25 EUR/m3", "delivery": "20 EUR", "truck": "3 m3"},
}


def test_manure_beside_chip_does_not_make_the_one_bed_dearer(site_of: SiteOf) -> None:
    """50 EUR cover the two small beds with 0.6 m3 of chip for 35 EUR, with manure to be had as without it.

    What is paid is 25 EUR for each m3 and 20 EUR for bringing it: 0.6 x 25 + 20. A dressing of the large bed with
    manure would be one need met too, for 40.93 EUR.
    """
    pellets = {
        "name": "pellets",
        "buy": {"material": "pelleted poultry manure", "price": "12 EUR/bag", "bag": "20 kg"},
    }
    manure = {
        "name": "manure",
        "buy": {"material": "cattle manure", "price": "10 EUR/t", "delivery": "40 EUR", "truck": "6 m3"},
    }
    places = [
        strip(0, 2, COVER, FEED, LIME),
        bed(1, 2, "4 m", COVER, {"dress": {"depth": "2 cm"}}),
        bed(2, 1, "9 m", {"cover": {"depth": "8 cm"}}, {"dress": {"depth": "1 cm"}}, CABBAGE, LIME),
    ]
    more = {
        "start": "2027-01-01",
        "hemisphere": "south",
        "climate": {"annual_mean": "12 degC", "last_frost": "10-10", "first_frost": "05-01"},
        "soil": {
            "organic_matter": "2 %",
            "bulk_density": "1.3 g/cm3",
            "clay": "15 %",
            "stones": "5 %",
            "ph": "5.5",
            "phosphorus_test": "medium",
            "nitrogen_index": "2",
        },
        "labour": {"hourly_value": "0 EUR/h", "push": "40 m"},
        "horizon": "2 years",
        "limits": {"cash": "50 EUR"},
    }
    told = []
    for ways in ([CHIP, pellets], [CHIP, pellets, manure]):
        row = cheapest(options(site_of(places, ways, **more)))
        told.append((row.places_met, row.bill.cash))
    assert told[0] == told[1]
    assert told[0][0] == {("cover", "p1")}


def test_three_sellers_in_any_order_meet_a_cover_and_a_feed(site_of: SiteOf) -> None:
    """For 100 EUR one bed is covered and fed, whichever way stands first."""
    compost = {
        "name": "compost",
        "buy": {
            "material": "green compost",
            "price": "46 EUR/m3",
            "step": "0.5 m3",
            "delivery": "55 EUR",
            "lead": "40 days",
        },
    }
    meal = {"name": "meal", "buy": {"material": "feather meal", "price": "3 EUR/kg"}}
    dress = {"dress": {"depth": "2 cm"}}
    pot = {
        "name": "p0",
        "kind": "pot",
        "count": 2,
        "shape": {"circle": {"diameter": "40 cm"}},
        "needs": [{"fill": {"depth": "30 cm"}}],
    }
    places = [pot, strip(1, 5, COVER, dress), bed(2, 1, "4 m", COVER, dress, FEED, LIME)]
    more = {
        "climate": {"annual_mean": "9 degC", "last_frost": "04-20", "first_frost": "10-25"},
        "soil": {
            "organic_matter": "2 %",
            "bulk_density": "1.3 g/cm3",
            "clay": "30 %",
            "stones": "5 %",
            "ph": "6.2",
            "phosphorus_test": "high",
            "nitrogen_index": "2",
        },
        "horizon": "1 year",
        "labour": {"hourly_value": "5 EUR/h", "push": "40 m"},
        "limits": {"cash": "100 EUR", "hours": "20 h", "by": "2028-06-01"},
    }
    rows = [cheapest(options(site_of(places, ways, **more))) for ways in permutations([compost, meal, CHIP])]
    assert {frozenset(row.places_met) for row in rows} == {frozenset({("cover", "p2"), ("feed", "p2")})}
    assert len({row.bill.cash for row in rows}) == 1


@pytest.mark.parametrize("first", ["small", "large"])
def test_of_as_many_places_those_of_first_priority_are_served(site_of: SiteOf, first: str) -> None:
    """5 EUR dress one bed: 0.08 m3 of compost at 40 EUR are 3.20 EUR, 0.1 m3 are 4.00 EUR, both are 7.20 EUR."""
    places = [
        {
            "name": name,
            "kind": "bed",
            "shape": {"area": area},
            "priority": 1 if name == first else 2,
            "needs": [{"dress": {"depth": "1 cm"}}],
        }
        for name, area in (("small", "8 m2"), ("large", "10 m2"))
    ]
    ways = [{"name": "compost", "buy": {"material": "dark stuff", "price": "40 EUR/m3"}}]
    row = cheapest(options(site_of(places, ways, horizon="1 year", limits={"cash": "5 EUR"})))
    assert row.places_met == {("dress", first)}
    assert float(row.bill.cash) == (3.2 if first == "small" else 4.0)
