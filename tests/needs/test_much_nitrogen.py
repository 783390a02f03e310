"""Much usable nitrogen in one dose is cautioned: on a bed at planting, and on the small ring of a tree."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from supplied import MEAL

from barrowful.answers.cautions import cautions_for
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
WORDS = {"nitrogen-at-once", "nitrogen-on-ring", "nitrogen-with-organic-matter"}


@pytest.fixture
def told(site_of: SiteOf, dark: dict[str, Any]) -> Callable[..., set[str]]:
    """Give a function that returns which of the two cautions meal calls for, of a kind of place that is fed."""

    def cautioned(kind: str, shape: dict[str, Any], feed: dict[str, str], **more: str) -> set[str]:
        place = {"name": "here", "kind": kind, "shape": shape, "needs": [{"feed": feed}]}
        ways = [{"name": "shop", "buy": {"material": "meal", "price": "1 EUR/kg"}}]
        meal = {**dark, **MEAL, **more}
        answer = options(site_of([place], ways, materials={"meal": meal}, horizon="1 year"))
        assert [row.feasible for row in answer.options] == [True]
        return {entry.caution.key for entry in cautions_for(answer)} & WORDS

    return cautioned


@pytest.mark.parametrize(("grams", "much"), [("9.9", False), ("10", False), ("10.1", True)])
@pytest.mark.parametrize("share", ["100 %", "40 %"])
def test_over_ten_grams_at_planting(
    told: Callable[..., set[str]], grams: str, much: bool, share: str
) -> None:
    """RB209 section 6: 100 kg/ha at most; it is what plants can use that counts, however much there is of it."""
    found = told("bed", {"area": "10 m2"}, {"nitrogen": f"{grams} g/m2"}, available_nitrogen=share)
    assert found == ({"nitrogen-at-once"} if much else set())


@pytest.mark.parametrize(("age", "much"), [("1 year", False), ("4 years", True)])
def test_a_trees_feed_on_its_ring(told: Callable[..., set[str]], age: str, much: bool) -> None:
    """50 g for each year of age on a ring of 1 m round a collar of 20 cm, 3.0 m2: 17 g/m2, and at four years 66."""
    ring = {"ring": {"radius": "1 m", "collar": "20 cm"}}
    found = told("tree", ring, {"for": "fruit tree", "age": age}, phosphorus="1 %")
    assert found == ({"nitrogen-on-ring"} if much else set())


@pytest.mark.parametrize(("available", "much"), [("5 %", False), ("60 %", True)])
def test_what_a_raise_or_a_dressing_brings_along(
    site_of: SiteOf, dark: dict[str, Any], available: str, much: bool
) -> None:
    """An inch of compost holds 116 g/m2 of nitrogen: at 5 % 6 g count, at 60 % 69, which is told."""
    for need in ({"dress": {"depth": "25 mm"}}, {"raise": {"organic_matter": "2.6 %", "depth": "15 cm"}}):
        place = {"name": "here", "kind": "bed", "shape": {"area": "10 m2"}, "needs": [need]}
        ways = [{"name": "yard", "buy": {"material": "stuff", "price": "40 EUR/m3"}}]
        soil = {"organic_matter": "2.3 %", "bulk_density": "1.3 g/cm3", "clay": "20 %"}
        materials = {"stuff": {**dark, "available_nitrogen": available}}
        answer = options(site_of([place], ways, materials=materials, soil=soil, horizon="2 years"))
        assert [row.feasible for row in answer.options] == [True]
        found = {entry.caution.key for entry in cautions_for(answer)} & WORDS
        assert found == ({"nitrogen-with-organic-matter"} if much else set())


@pytest.mark.parametrize(
    ("stuff", "depth", "place", "told"),
    [
        ("sawdust", "5 cm", {"kind": "bed"}, True),  # 18 g/m2
        ("sawdust", "1 cm", {"kind": "bed"}, False),
        ("straw", "5 cm", {"kind": "bed"}, False),
        ("arborist chip", "7 cm", {"kind": "bed"}, False),
        ("sawdust", "5 cm", {"kind": "row"}, False),  # a path
        ("sawdust", "5 cm", {"kind": "row", "harvest_from": "07-01"}, True),
        ("sawdust", "5 cm", {"kind": "tree", "feed": "2 g/m2"}, True),
    ],
)
def test_a_mulch_that_robs_what_grows(
    site_of: SiteOf, stuff: str, depth: str, place: dict[str, str], told: bool
) -> None:
    """Sawdust on strawberries was the plain best, without a word of the nitrogen it ties up."""
    needs: list[Any] = [{"cover": {"depth": depth}}]
    needs += [{"feed": {"nitrogen": place["feed"]}}] if "feed" in place else []
    words = {key: of for key, of in place.items() if key != "feed"}
    here = {"name": "here", "shape": {"area": "10 m2"}, "needs": needs, **words}
    ways = [{"name": "mill", "buy": {"material": stuff, "price": "9 EUR/m3"}}]
    keys = [entry.caution.key for entry in cautions_for(options(site_of([here], ways)))]
    assert ("cover-robs-nitrogen" in keys) is told
    assert not told or "cover-robs-nitrogen" in keys[:3]
