"""Where one price rises, the cheapest for each need never gets cheaper while it meets as much, nor meets more."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

import barrowful
from barrowful.answers.option import total_cost
from barrowful.answers.options import options
from barrowful.answers.search import best_of, changed_by_one
from barrowful.site.records import Site
from barrowful.site.ways import Buy

SANDY = Path(__file__).parent / "sites" / "sandy-beds.yaml"
DEMOS = sorted((Path(__file__).parents[2] / "demo").glob("*.yaml"))
#: Prices of each way that are tried on a demo, as shares of its own in per cent.
SHARES = (40, 90, 130, 250)


def unmet_and_cost(site: Site) -> tuple[int, Decimal]:
    """Return how many needs of places the cheapest leaves, and its cash with the hours at their value."""
    answer = options(site)
    best = best_of(answer)
    cost = total_cost(best.bill.cash, best.bill.hours, answer.site.labour.hourly_value)
    return len(best.together.unmet), cost


@pytest.mark.parametrize(
    ("path", "prices"),
    [
        ("ways.green yard.buy.price", [f"{price} EUR/m3" for price in (60, 67, 68, 70, 76, 77, 84, 100)]),
        ("ways.chip drop.buy.price", [f"{price} EUR/load" for price in (60, 120, 175, 180, 240)]),
        ("ways.pellets.buy.price", [f"{price} EUR/bag" for price in (9, 18, 27, 54)]),
    ],
)
def test_a_dearer_way_makes_nothing_cheaper(path: str, prices: list[str]) -> None:
    """Compost that costs 1 EUR more a cubic metre made a site 199 EUR dearer, and 7 EUR later 191 EUR cheaper.

    The dressing may share the orders of the soil's compost; the search came to that too late.
    """
    site = barrowful.load(SANDY)
    found = [unmet_and_cost(site.with_values({path: price}).site) for price in prices]
    assert found == sorted(found)


def test_by_hand() -> None:
    """At 76 EUR/m3 the compost's four cubic metres, a second delivery, the pellets: 4 x 76 + 120 + 162.

    The feed takes as much compost as will do, of what is ordered anyway: nine bags of pellets and not ten.
    """
    site = barrowful.load(SANDY).with_values({"ways.green yard.buy.price": "76 EUR/m3"})
    assert unmet_and_cost(site.site)[1] == 4 * 76 + 2 * 60 + 9 * 18


@pytest.mark.parametrize("demo", DEMOS, ids=lambda path: path.stem)
def test_nor_on_a_demo(demo: Path) -> None:
    """Mixes and pairs are left out: what they are made of goes by the price."""
    site = barrowful.load(demo).site
    mixed = {part.name for joint in options(site).joints.values() for part in joint.parts}
    for way in site.ways:
        if isinstance(way, Buy) and way.name not in mixed:
            found = [
                unmet_and_cost(replace(site, ways=tuple(dearer if of is way else of for of in site.ways)))
                for dearer in (replace(way, price=way.price * share / 100) for share in SHARES)
            ]
            assert found == sorted(found), way.name


def test_changes_by_one_way() -> None:
    """One way less, another in its place, or one more, at any place."""
    found = set(changed_by_one(("a", "b"), ["a", "b", "c"]))
    assert found == {
        ("b",),
        ("a",),
        ("c", "b"),
        ("a", "c"),
        ("c", "a", "b"),
        ("a", "c", "b"),
        ("a", "b", "c"),
    }
