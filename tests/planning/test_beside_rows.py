"""What a plan comes to beside the rows of options, in words."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from barrowful.answers.options import options
from barrowful.planning.plan import plan_of
from barrowful.planning.programme import Limited
from barrowful.planning.told import put_off, saving
from barrowful.site.load import load

BED = {"name": "bed", "kind": "bed", "shape": {"area": "10 m2"}, "needs": [{"dress": {"depth": "1 cm"}}]}
TREES = {"name": "plums", "kind": "tree", "shape": {"area": "10 m2"}, "needs": [{"cover": {"depth": "5 cm"}}]}
HEAPS = [
    {"name": name, "have": {"material": "green compost", "amount": "0.06 m3"}} for name in ("one", "other")
]
CHIP = {"name": "chip", "buy": {"material": "arborist chip", "price": "30 EUR/m3"}}


def test_what_no_row_meets_is_told_with_what_it_costs(bytes_of: Callable[[dict[str, Any]], bytes]) -> None:
    """Two heaps dress the bed, which neither does; what is left of them spares 0.02 m3 of chip, 0.63 EUR."""
    site = {"horizon": "1 year", "places": [BED, TREES], "ways": [*HEAPS, CHIP]}
    answer = options(load(bytes_of(site), "field.yaml").site)
    plan = plan_of(answer, Limited.of(answer))
    assert plan is not None
    assert saving(answer, Limited.of(answer), plan) == (
        "No row of options meets as much: 1 of 2 needs at the most, as does"
        ' "cheapest for each need": 0.63 EUR more, without dress, bed.'
    )


def test_what_nothing_meets_in_the_first_year_waits(bytes_of: Callable[[dict[str, Any]], bytes]) -> None:
    """25 mm of compost a year are no dressing of 30 mm; with what is grown there and ended in spring they are."""
    leeks = {**BED, "shape": {"area": "45 m2"}, "needs": [{"dress": {"depth": "3 cm", "dug": True}}]}
    rye = {
        "plant": "vetch and rye",
        "area": "45 m2",
        "planted": "2027-09-25",
        "ended": "2028-04-25",
        "grows_on": "bed",
        "in_place": True,
    }
    ways = [
        {"name": "yard", "buy": {"material": "green compost", "price": "40 EUR/m3"}},
        {"name": "rye", "grow": rye},
    ]
    climate = {"annual_mean": "11 degC", "last_frost": "04-25", "first_frost": "10-28"}
    site = {"horizon": "2 years", "places": [leeks, TREES], "ways": [*ways, CHIP], "climate": climate}
    answer = options(load(bytes_of(site), "field.yaml").site)
    plan = plan_of(answer, Limited.of(answer))
    assert plan is not None
    assert plan.whole.places_met == {("dress", "bed"), ("cover", "plums")}
    assert list(put_off(plan)) == ["Waits for the second year: dress, bed."]


def test_a_fill_feeds_the_seasons_after_it(bytes_of: Callable[[dict[str, Any]], bytes]) -> None:
    """What frames are filled with has potassium for both seasons: within 150 EUR that meets fill and feed.

    They take 5.9 m2 x 25 cm, which settles by 15 %, 1.74 m3: 1 m3 of each, 38 + 2 x 22.5, and a trip of 60.
    """
    frames = {
        "name": "frames",
        "kind": "bed",
        "shape": {"rectangle": ["8 ft", "4 ft"]},
        "count": 2,
        "needs": [{"fill": {"depth": "10 in"}}, {"feed": {"for": "tomato", "crop": "4 kg/m2"}}],
    }
    barrels = {
        "name": "barrels",
        "kind": "pot",
        "shape": {"area": "2.83 m2"},
        "needs": [{"fill": {"depth": "35 cm"}}],
    }
    terms = {"step": "0.5 m3", "delivery": "60 EUR", "truck": "6 m3", "seller": "quarry"}
    ways = [
        {"name": name, "buy": {"material": material, "price": f"{price} EUR/m3", "minimum": least, **terms}}
        for name, material, price, least in (
            ("loam", "topsoil", 38, "1 m3"),
            ("compost", "green compost", 45, "0.5 m3"),
            ("sand", "sand", 30, "0.5 m3"),
        )
    ]
    ways.append(
        {"name": "feather", "buy": {"material": "feather meal", "price": "14 EUR/bag", "bag": "5 kg"}}
    )
    site = {"start": "2027-04-01", "horizon": "2 years", "limits": {"cash": "150 EUR"}}
    answer = options(load(bytes_of({**site, "places": [barrels, frames], "ways": ways}), "field.yaml").site)
    plan = plan_of(answer, Limited.of(answer))
    assert plan is not None
    assert plan.whole.places_met == {("fill", "frames"), ("feed", "frames")}
    assert (plan.proven, plan.whole.bill.cash) == (True, 143)
