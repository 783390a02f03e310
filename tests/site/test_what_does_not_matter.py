"""Units, order, splitting and scale: what may be written differently without a different answer."""

from __future__ import annotations

import copy
from collections.abc import Callable
from decimal import Decimal
from typing import Any

import pytest
from draws import draws
from hypothesis import Phase, given
from hypothesis import strategies as st

from barrowful.answers.options import options
from barrowful.site.load import load
from barrowful.sitefile.keys.need import NEED_KINDS

Write = Callable[..., str]
Answer = Callable[[str], dict[str, list[dict[str, Any]]]]
Same = Callable[..., None]
Plain = dict[str, Any]

#: No shrinking: a site that fails is small enough to read, and the suite stays quick while one does.
STEADY = draws(25, derandomize=True, phases=[Phase.explicit, Phase.generate])
#: What a seller is asked for is told in the unit of the price, so it follows the writing.
OWN_UNITS = ("order_quantity", "order_unit")


def amounts(dimension: str, low: int, high: int, by: int) -> st.SearchStrategy[tuple[str, float]]:
    """Draw a measure as a multiple of a step, as people write them: so many ``by``ths of the SI unit."""
    return st.integers(low, high).map(lambda number: (dimension, number / by))


SIDES = amounts("length", 10, 2000, 100)
DEPTHS = amounts("length", 5, 300, 1000)
SHARES = amounts("share", 0, 30, 100)
#: Nothing, or cents and a tail: no amount ends in half a cent, which rounds either way as it is written.
TAIL = Decimal("0.000001234567")
PRICES = st.integers(0, 20_000).map(lambda cents: Decimal(cents) / 100 + TAIL if cents else Decimal(0))

SHAPES = st.one_of(
    st.tuples(SIDES, SIDES).map(lambda sides: {"rectangle": list(sides)}),
    st.tuples(SIDES, SIDES).map(lambda sides: {"ellipse": list(sides)}),
    SIDES.map(lambda side: {"circle": {"diameter": side}}),
    SIDES.map(lambda side: {"circle": {"radius": side}}),
    st.tuples(SIDES, st.integers(1, 9)).map(
        lambda drawn: {"ring": {"radius": drawn[0], "collar": ("length", drawn[0][1] * drawn[1] / 10)}}
    ),
    st.tuples(SIDES, SIDES).map(lambda drawn: {"triangle": [drawn[0], drawn[0], ("length", drawn[0][1])]}),
    st.tuples(SIDES, SIDES, SIDES).map(
        lambda drawn: {"trapezoid": {"sides": list(drawn[:2]), "height": drawn[2]}}
    ),
    st.tuples(SIDES, SIDES).map(lambda sides: {"strip": {"length": sides[0], "width": sides[1]}}),
    amounts("area", 1, 5000, 10).map(lambda area: {"area": area}),
    st.tuples(SIDES, SIDES).map(
        lambda drawn: {
            "polygon": [
                [("length", x), ("length", y)]
                for x, y in ((0, 0), (drawn[0][1], 0), (drawn[0][1], drawn[1][1]), (0, drawn[1][1]))
            ]
        }
    ),
)
COMMON = {"allowance": SHARES}
NEEDS = {
    "cover": st.fixed_dictionaries({"depth": DEPTHS, "settled": st.booleans(), **COMMON}),
    "dress": st.one_of(
        st.fixed_dictionaries({"depth": DEPTHS, "settled": st.booleans(), **COMMON}),
        st.fixed_dictionaries({"dose": amounts("dose", 1, 90, 10), "dug": st.booleans()}),
    ),
    "raise": st.fixed_dictionaries(
        {"organic_matter": amounts("share", 25, 60, 1000), "depth": amounts("length", 10, 30, 100)}
    ),
    "lime": st.fixed_dictionaries({"ph": st.integers(58, 68).map(lambda ph: ph / 10), **COMMON}),
    "feed": st.fixed_dictionaries({"nitrogen": amounts("dose", 1, 200, 10_000), **COMMON}),
    "fill": st.one_of(
        st.fixed_dictionaries({"depth": DEPTHS, "settled": st.booleans()}),
        st.fixed_dictionaries({"volume": amounts("volume", 1, 5000, 1000)}),
    ),
}


def test_every_kind_of_need_is_drawn() -> None:
    """None is left out of what is tried."""
    assert set(NEEDS) == set(NEED_KINDS)


@st.composite
def places(draw: st.DrawFn, name: str) -> Plain:
    """Draw a place with needs."""
    kinds = draw(st.lists(st.sampled_from(sorted(NEEDS)), min_size=1, max_size=3, unique=True))
    return {
        "name": name,
        "kind": draw(st.sampled_from(["bed", "tree", "row", "pot"])),
        "shape": draw(SHAPES),
        "count": draw(st.integers(1, 12)),
        "needs": [{kind: draw(NEEDS[kind])} for kind in kinds],
    }


@st.composite
def sellers(draw: st.DrawFn, name: str, steps: bool = True) -> Plain:
    """Draw a seller; without ``steps`` any quantity can be had."""
    terms: Plain = {
        "material": draw(
            st.sampled_from(["green compost", "arborist chip", "straw", "manure compost", "hay", "wood ash"])
        ),
        "price": draw(
            st.one_of(
                PRICES.map(lambda price: ("price", "volume", price)),
                PRICES.map(lambda price: ("price", "mass", price / 100)),
            )
        ),
        "delivery": f"{draw(st.integers(0, 90))} EUR",
        "lead": f"{draw(st.integers(0, 20))} weeks",
        "truck": draw(amounts("volume", 1, 12, 1)),
    }
    if steps:
        terms["minimum"] = draw(amounts("volume", 1, 30, 10))
        terms["step"] = draw(amounts("volume", 1, 10, 10))
        terms["payload"] = draw(amounts("mass", 3, 90, 0.1))  # type: ignore[arg-type]
    return {"name": name, "buy": terms}


@st.composite
def sites(draw: st.DrawFn, more: bool = False, steps: bool = True) -> Plain:
    """Draw a site with places and sellers; ``more`` adds stock, a heap and a comfrey patch."""
    count = draw(st.integers(1, 3))
    ways = [draw(sellers(f"seller {number}", steps)) for number in range(draw(st.integers(1, 3)))]
    if more:
        ways += [
            {"name": "heap", "make": {
                "bay": ("volume", draw(st.integers(10, 20)) / 10), "turn_every": "2 weeks",
                "from": [{"way": "seller 0"}, {"material": "grass clippings", "weekly": ("volume", 0.12)},
                         {"material": "coffee grounds", "weekly": ("mass", 18.0)}],
            }},
            {"name": "leaves", "have": {
                "material": "autumn leaves", "amount": draw(amounts("volume", 1, 40, 10)),
                "per_year": draw(st.booleans()),
            }},
            {"name": "patch", "grow": {"plant": "comfrey", "start_with": 20, "area": ("area", 14.0)}},
        ]  # fmt: skip
    return {
        "site": "Field", "currency": "EUR", "start": "2027-03-01", "horizon": "4 years",
        "climate": {"annual_mean": ("temperature", float(draw(st.integers(5, 25))))},
        "soil": {
            "ph": 5.6,
            "organic_matter": ("share", 0.02), "bulk_density": ("density", 1300.0), "clay": draw(SHARES),
        },
        "labour": {
            "push": draw(amounts("length", 0, 90, 1)), "hourly_value": ("price", "hours", draw(PRICES)),
        },
        "places": [draw(places(f"place {number}")) for number in range(count)],
        "ways": ways,
        "materials": {"green compost": {"density": ("density", float(draw(st.integers(400, 900))))}},
    }  # fmt: skip


def assert_tables_agree(
    one: dict[str, list[Plain]], other: dict[str, list[Plain]], same: Same, but: tuple[str, ...] = ()
) -> None:
    """Assert that tables hold the same rows in the same order."""
    assert one.keys() == other.keys()
    for name, rows in one.items():
        for row, twin in zip(rows, other[name], strict=True):
            same(row, twin, but)


@STEADY
@given(sites(), st.integers(0, 2**32))
def test_units_do_not_matter(write: Write, answer: Answer, same: Same, site: Plain, seed: int) -> None:
    """Sizes, options, amounts, days and money are the same whichever units a site is written in."""
    assert_tables_agree(answer(write(site)), answer(write(site, seed=seed, units=True)), same, OWN_UNITS)


@draws(8, STEADY)
@given(sites(more=True), st.integers(0, 2**32))
def test_units_do_not_matter_to_heaps_and_stands(
    write: Write, answer: Answer, same: Same, site: Plain, seed: int
) -> None:
    """Stock, a heap that draws from a seller, and what is grown take any units too."""
    assert_tables_agree(answer(write(site)), answer(write(site, seed=seed, units=True)), same, OWN_UNITS)


@STEADY
@given(sites(), st.integers(0, 2**32))
def test_ranges_of_equals_do_not_matter(
    write: Write, answer: Answer, same: Same, site: Plain, seed: int
) -> None:
    """Low, likely and high stand wherever one value does, and three equal ones are that value."""
    assert_tables_agree(answer(write(site)), answer(write(site, seed=seed, ranges=True)), same)


@draws(6, STEADY)
@given(sites(more=True), st.integers(0, 2**32))
def test_the_order_of_keys_does_not_matter(
    write: Write, answer: Answer, same: Same, site: Plain, seed: int
) -> None:
    """Keys may stand in any order, those of the whole file included."""
    turned = dict(reversed(site.items()))
    assert_tables_agree(answer(write(site)), answer(write(turned, seed=seed, keys=True)), same)


@STEADY
@given(sites(), st.randoms(use_true_random=False))
def test_the_order_of_places_does_not_matter(
    write: Write, answer: Answer, same: Same, site: Plain, luck: Any
) -> None:
    """Where sellers bring what is ordered, places in another order get the same; rows follow the file."""
    mixed = copy.deepcopy(site)
    luck.shuffle(mixed["places"])
    one, other = answer(write(site)), answer(write(mixed))

    def by(rows: list[Plain], *keys: str) -> list[Plain]:
        tidy = [row | {"place": "; ".join(sorted(str(row["place"]).split("; ")))} for row in rows]
        return sorted(tidy, key=lambda row: [str(row[key]) for key in keys])

    names = [place["name"] for place in mixed["places"]]
    places_met = list(dict.fromkeys(row["place"] for row in other["sizes"]))
    assert places_met == names
    for table in ("sizes", "by_way", "options", "options_by_place"):
        ordered = [by(rows[table], "place", "need", "way") for rows in (one, other)]
        for row, twin in zip(*ordered, strict=True):
            same(row, twin)


@STEADY
@given(sites(steps=False), st.integers(1, 6))
def test_splitting_does_not_matter(write: Write, answer: Answer, same: Same, site: Plain, count: int) -> None:
    """A place of an even count is as much as two of half of it: volumes, masses, and one order's money."""
    whole, split = copy.deepcopy(site), copy.deepcopy(site)
    whole["places"][0]["count"] = 2 * count
    split["places"][0]["count"] = count
    split["places"].insert(1, copy.deepcopy(split["places"][0]) | {"name": "other half"})
    one, other = answer(write(whole)), answer(write(split))
    for key in ("area_m2", "volume_m3", "loose_m3", "mass_kg", "dry_kg", "nitrogen_g"):
        sums = [sum(row[key] or 0.0 for row in rows["sizes"]) for rows in (one, other)]
        assert sums[0] == pytest.approx(sums[1], rel=1e-9)
    for row, twin in zip(one["options"], other["options"], strict=True):
        same(row | {"place": ""}, twin | {"place": ""})


@STEADY
@given(places("bed"), st.integers(2, 5))
def test_depth_scales_the_volume(write: Write, answer: Answer, place: Plain, times: int) -> None:
    """So many times the depth of a cover, a dressing or a fill is so many times the volume and the mass."""
    place["needs"] = [
        {kind: {"depth": ("length", 0.04), "allowance": ("share", 0.1)}}
        for kind in ("cover", "dress", "fill")
    ]
    deep = copy.deepcopy(place)
    for need in deep["needs"]:
        next(iter(need.values()))["depth"] = ("length", 0.04 * times)
    site = {
        "site": "x", "currency": "EUR", "start": "2027-03-01",
        "climate": {"annual_mean": ("temperature", 12.0)},
        "ways": [{"name": "yard", "buy": {"material": "green compost", "price": "40 EUR/m3"}}],
    }  # fmt: skip
    once, more = (answer(write(site | {"places": [one]}))["sizes"] for one in (place, deep))
    for row, twin in zip(once, more, strict=True):
        for key in ("volume_m3", "loose_m3", "mass_kg", "dry_kg", "carbon_kg", "nitrogen_g", "depth_m"):
            assert twin[key] == pytest.approx(times * row[key], rel=1e-9)
        assert twin["area_m2"] == row["area_m2"]


@STEADY
@given(sites(), st.integers(2, 9))
def test_price_scales_the_cost(write: Write, answer: Answer, site: Plain, times: int) -> None:
    """So many times every price is so many times the money, to rounding; nothing else moves."""
    dear = copy.deepcopy(site)
    for old, new in zip(site["ways"], dear["ways"], strict=True):
        word, dimension, price = old["buy"]["price"]
        new["buy"]["price"] = (word, dimension, price * times)
        new["buy"]["delivery"] = f"{int(old['buy']['delivery'].split()[0]) * times} EUR"
    once, more = (answer(write(one))["options"] for one in (site, dear))
    decided = options(load(write(site).encode(), "field.yaml").site).options
    for row, twin, option in zip(once, more, decided, strict=True):
        for key in ("loose_m3", "ordered_m3", "hours", "trips", "ready_on", "feasible", "order_quantity"):
            assert twin[key] == row[key]
        if row["cash"] is not None:
            orders = max(1, len({dose.day for dose in option.decision.every_dose}))
            slack = 0.005 * (times + 1) * orders + 0.001
            assert float(twin["cash"]) == pytest.approx(times * float(row["cash"]), rel=1e-9, abs=slack)


@STEADY
@given(sites(), st.integers(1, 200), st.integers(1, 50))
def test_more_depth_and_higher_prices_never_cost_less(
    write: Write, answer: Answer, site: Plain, millimetres: int, cents: int
) -> None:
    """Deepening every layer never needs less material, and raising every price never lowers the money."""
    deep, dear = copy.deepcopy(site), copy.deepcopy(site)
    for place in deep["places"]:
        for need in place["needs"]:
            kind, terms = next(iter(need.items()))
            if kind != "raise" and "depth" in terms:
                terms["depth"] = ("length", terms["depth"][1] + millimetres / 1000)
    for way in dear["ways"]:
        word, dimension, price = way["buy"]["price"]
        way["buy"]["price"] = (word, dimension, price + Decimal(cents) / 100)
    base, deeper, dearer = (answer(write(one))["options"] for one in (site, deep, dear))
    for row, more, up in zip(base, deeper, dearer, strict=True):
        if row["loose_m3"] is not None:
            assert more["loose_m3"] >= row["loose_m3"] * (1 - 1e-9)
            assert up["cash"] >= row["cash"]
