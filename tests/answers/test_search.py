"""The cheapest row of the whole site, on random small sites: never dearer, never less, whatever the order.

Costs are cash with the hours at their value. Needs are those of places: a cover of three beds is three.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from decimal import Decimal
from itertools import product
from typing import Any

import pytest
from draws import draws
from hypothesis import Phase, given
from hypothesis import strategies as st
from small_sites import small_site

from barrowful.answers.carrying_out import carried_out
from barrowful.answers.choices import WholeSite, cheapest, needs_of, whole_site
from barrowful.answers.option import total_cost
from barrowful.answers.options import Answer, options
from barrowful.answers.search import best_of
from barrowful.answers.together import Together
from barrowful.needs.registry import NEEDS as KINDS
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Plain = dict[str, Any]

#: No shrinking: a site that fails is small enough to read, and the suite stays quick while one does.
STEADY = draws(160, derandomize=True, phases=[Phase.explicit, Phase.generate])
SEEDS = st.integers(0, 10**9)


def cost(answer: Answer, row: WholeSite | Together) -> Decimal:
    """Return cash with the hours at their value."""
    bill = row.bill if isinstance(row, WholeSite) else row.bill()
    return total_cost(bill.cash, bill.hours, answer.site.labour.hourly_value)


@STEADY
@given(SEEDS)
def test_no_row_that_meets_as_much_is_cheaper(site_of: SiteOf, seed: int) -> None:
    """No row within the limits meets more than the cheapest for each need, nor as much for less.

    The cheapest keeps to the grower's limits of cash, of hours and of the day it is ready.
    """
    site = site_of(**small_site(seed))
    answer, limits = options(site), site.limits
    *rows, best = whole_site(answer)
    assert best.over == ""
    assert limits.cash is None or best.bill.cash <= limits.cash
    assert limits.hours is None or best.bill.hours.compared <= limits.hours
    assert limits.by is None or best.ready_on is None or best.ready_on <= limits.by
    for row in rows:
        if not row.over:
            assert row.count <= best.count
            assert row.count < best.count or cost(answer, best) <= cost(answer, row)


def assignments(answer: Answer) -> Iterator[dict[str, tuple[str, ...]]]:
    """Yield every assignment of one way, or none, to each kind of need."""
    kinds = needs_of(answer.site)
    ways: list[tuple[str, ...]] = [(), *((name,) for name in answer.supplies)]
    for picked in product(ways, repeat=len(kinds)):
        yield dict(zip(kinds, picked, strict=True))


@STEADY
@given(SEEDS)
def test_no_assignment_is_better(site_of: SiteOf, seed: int) -> None:
    """Of all ways to give each kind of need one way or none, none meets more, nor as much for less."""
    answer = options(site_of(**small_site(seed)))
    best = best_of(answer)
    for picks in assignments(answer):
        together = carried_out(answer, picks)
        bill = together.bill()
        if together.over_limits(bill):
            continue
        assert together.met <= best.together.met, picks
        fewer = together.met < best.together.met
        assert fewer or cost(answer, best.together) <= cost(answer, together), picks


@STEADY
@given(SEEDS)
def test_another_way_never_makes_it_worse(site_of: SiteOf, seed: int) -> None:
    """With one way more, any of them, no fewer needs are met, and as many for no more."""
    whole = small_site(seed)
    last = len(whole["ways"]) - 1
    *kept, more = random.Random(seed).sample(whole["ways"], last + 1)
    drawn = {part.get("way") for way in kept for part in way.get("make", {}).get("from", [])}
    if more["name"] in drawn:
        return
    fewer = [way for way in whole["ways"] if way is not more]
    places = [one for one in whole["places"] if one.get("ways") != [more["name"]]]
    few = [
        {**one, "ways": [name for name in one["ways"] if name != more["name"]]} if "ways" in one else one
        for one in places
    ]
    if not places:
        return
    before = options(site_of(**{**whole, "places": few, "ways": fewer}))
    after = options(site_of(**{**whole, "places": places}))
    old, new = cheapest(before), cheapest(after)
    assert new.count >= old.count
    assert new.count > old.count or cost(after, new) <= cost(before, old)


def in_two(one: Plain) -> list[Plain]:
    """Return a place of two as two places of one."""
    if one["count"] != 2:
        return [one]
    return [{**one, "count": 1, "name": f"{one['name']}, {half}"} for half in ("first", "second")]


@STEADY
@given(SEEDS)
def test_a_bed_in_two_is_the_same_bed(site_of: SiteOf, seed: int) -> None:
    """Two equal places told one by one cost the same cash and hours, and the same needs of them are met."""
    whole = small_site(seed, limited=False, limits=False)
    split = {**whole, "places": [half for one in whole["places"] for half in in_two(one)]}
    row, twin = (cheapest(options(site_of(**one))) for one in (whole, split))
    assert twin.bill.cash == row.bill.cash
    assert twin.bill.hours.likely == pytest.approx(row.bill.hours.likely, rel=1e-9, abs=1e-9)
    met = {(kind, name.partition(",")[0]) for kind, name in twin.places_met}
    assert met == row.places_met
    assert twin.met == row.met


@STEADY
@given(SEEDS)
def test_the_order_of_the_file_does_not_matter(site_of: SiteOf, seed: int) -> None:
    """Places and ways in any order give a row that meets as much for the same cash and hours, as soon."""
    luck = random.Random(seed)
    site = small_site(seed, limited=luck.random() < 0.5)
    mixed = {**site, "ways": luck.sample(site["ways"], len(site["ways"]))}
    mixed["places"] = luck.sample(site["places"], len(site["places"]))
    one, other = (options(site_of(**described)) for described in (site, mixed))
    row, twin = cheapest(one), cheapest(other)
    assert twin.count == row.count
    assert cost(other, twin) == pytest.approx(cost(one, row))
    assert twin.bill.hours.compared == pytest.approx(row.bill.hours.compared)
    assert twin.ready_on == row.ready_on


def each_alone(site: Site) -> Site:
    """Let a site take no two places for equal ground."""
    numbers = {place.name: number for number, place in enumerate(site.places)}
    site.__dict__.update(sorts=numbers, sorts_by=lambda _: numbers)
    return site


#: A feed of more than one nutrient.
FED = {"nitrogen": "4.7 g/m2", "potassium": "4 g/m2"}
#: What a place may have that its twin has not.
APART: tuple[Plain, ...] = (
    {},
    {"near_water": True},
    {"soil": {"organic_matter": "2.4 %", "bulk_density": "1.1 g/cm3", "clay": "35 %"}},
    {"soil": {"clay": "4 %"}},
    {"soil": {"ph": 7.4}},
    {"soil": {"phosphorus_test": "very high"}},
    {"new": True},
    {"layer_now": "2 cm"},
    {"harvest_from": "06-15"},
    {"harvest_from": "06-15", "eaten_raw": True},
    {"limits": {"farm": True}},
    {"limits": {"farm": True}, "near_water": True},
    {"limits": {"lift": ["suits"]}},
    {"needs": [{"dress": {"depth": "5 mm", "dug": True}}, {"cover": {"depth": "4 cm"}}, {"feed": FED}]},
)


def assert_alone_the_same(site_of: SiteOf, described: Plain) -> None:
    """Hold every row of a site to what it is when no two places are taken for equal ground."""
    shared, alone = options(site_of(**described)), options(each_alone(site_of(**described)))
    best, other_best = cheapest(shared), cheapest(alone)
    assert best.bill.cash == other_best.bill.cash
    assert [dose.loose for dose in best.together.all_doses] == pytest.approx(
        [dose.loose for dose in other_best.together.all_doses]
    )
    for row, other in zip(shared.options, alone.options, strict=True):
        assert (row.feasible, row.why_not, row.ready_on) == (other.feasible, other.why_not, other.ready_on)
        assert (row.cash, row.cash_first_year) == (other.cash, other.cash_first_year)
        assert row.loose == pytest.approx(other.loose)
        assert row.hours.likely == pytest.approx(other.hours.likely)
        for of, without in zip(row.decision.servings, other.decision.servings, strict=True):
            doses, those = of.every_dose, without.every_dose
            assert [(dose.day, dose.need) for dose in doses] == [(dose.day, dose.need) for dose in those]
            assert [dose.loose for dose in doses] == pytest.approx([dose.loose for dose in those])
            assert [dose.share for dose in doses] == pytest.approx([dose.share for dose in those])
            assert (of.why_not, of.ceiling, of.share) == (
                without.why_not,
                without.ceiling,
                pytest.approx(without.share),
            )
            assert (of.possible, of.short, of.times_needed, of.credit) == (
                pytest.approx(without.possible),
                pytest.approx(without.short),
                pytest.approx(without.times_needed),
                pytest.approx(without.credit),
            )
    best, other_best = cheapest(shared), cheapest(alone)
    assert (best.count, best.bill.cash) == (other_best.count, other_best.bill.cash)


@draws(90, STEADY)
@given(SEEDS)
def test_equal_ground_gets_what_it_gets_alone(site_of: SiteOf, seed: int) -> None:
    """Worked out once for places of one sort, every row says what it says when each is worked out by itself.

    Twins may differ in something else than their size, or have fewer needs.
    """
    whole, luck = small_site(seed), random.Random(seed)
    twins = [
        {**one, **luck.choice(APART), "name": f"twin of {one['name']}", "shape": {"area": "7.3 m2"}}
        for one in whole["places"]
    ]
    for twin in twins:
        twin["needs"] = luck.sample(twin["needs"], luck.randint(1, len(twin["needs"])))
    described = {**whole, "places": [*whole["places"], *twins]}
    assert_alone_the_same(site_of, described)


@pytest.mark.parametrize("alike", [{}, {"limits": {"farm": True}}, {"harvest_from": "06-15"}], ids=str)
@pytest.mark.parametrize("apart", APART, ids=str)
@pytest.mark.parametrize("first", [True, False])
def test_whatever_bears_on_a_need_tells_places_apart(
    site_of: SiteOf, alike: Plain, apart: Plain, first: bool
) -> None:
    """Two beds alike but for one thing get what each gets alone, of stuff that goes by any such thing."""
    needs = [{"dress": {"depth": "5 mm"}}, {"cover": {"depth": "4 cm"}}, {"feed": FED}]
    bed: Plain = {"kind": "bed", "needs": needs, **alike}
    plain = {**bed, "name": "plain", "shape": {"area": "6 m2"}}
    other = {**bed, **apart, "name": "other", "shape": {"area": "5 m2" if first else "7 m2"}}
    stuffs = ["horse manure", "green compost", "wood ash", "rock phosphate", "arborist chip", "straw"]
    ways = [{"name": stuff, "buy": {"material": stuff, "price": "20 EUR/m3"}} for stuff in stuffs]
    assert_alone_the_same(site_of, {"places": [plain, other], "ways": ways, "horizon": "2 years"})


@draws(110, STEADY)
@given(SEEDS)
def test_what_is_chosen_is_judged_to_meet(site_of: SiteOf, seed: int) -> None:
    """Typed into a plan, what meets a need by itself is judged to meet it, and a third of it does not."""
    site = site_of(**small_site(seed, limits=False))
    for row in options(site).options:
        for of in row.decision.servings:
            if not of.met or row.decision.founds:
                continue
            judged = KINDS[row.need].judge(site, of.place, of.every_dose)
            assert (judged.why_not, judged.share) == ("", 1.0), (row.need, row.name)
            if not of.every_dose:  # it is met already
                continue
            third = [replace(dose, loose=dose.loose / 3) for dose in of.every_dose]
            less = KINDS[row.need].judge(site, of.place, third)
            assert less.why_not
            assert less.share < 1


@pytest.mark.parametrize("amount", ["0.5 m3", "0.4 m3"])
def test_what_does_all_alone_is_tried_with_others_beside_other_needs(site_of: SiteOf, amount: str) -> None:
    """A pile is enough for two feeds, but for one beside a dressing: the other alone is bought for.

    By hand: the dressing takes 0.1 of 0.4 m3, the smaller feed a third of what both take, 0.33 m3; 0.2 m3 is
    too little for the other, for which meal is bought.
    """
    feed = [{"feed": {"nitrogen": "1 g/m2"}}]
    needs = {
        "north": ("10 m2", feed),
        "south": ("20 m2", feed),
        "west": ("10 m2", [{"dress": {"depth": "1 cm"}}]),
    }
    site = site_of(
        ways=[
            {"name": "pile", "have": {"material": "green compost", "amount": amount}},
            {"name": "meal", "buy": {"material": "feather meal", "price": "4 EUR/kg"}},
        ],
        places=[
            {"name": name, "kind": "bed", "shape": {"area": area}, "needs": asked}
            for name, (area, asked) in needs.items()
        ],
        horizon="1 year",
    )
    best = best_of(options(site))
    fed = {(dose.place.name, dose.way) for dose in best.together.all_doses if dose.kind == "feed"}
    assert not best.together.unmet
    assert fed == {("north", "pile"), ("south", "pile" if amount == "0.5 m3" else "meal")}
