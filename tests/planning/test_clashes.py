"""What keeps needs from being met: the one limit that would do, or those of which none would alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.options import options
from barrowful.planning.clashes import Clash, clashes_of
from barrowful.planning.plan import plan_of
from barrowful.planning.programme import Limited
from barrowful.planning.told import why_nothing
from barrowful.site.load import load

Plain = dict[str, Any]
#: Two square metres to be dressed 2 cm deep with stuff at 50 a cubic metre: 2 of money.
DRESSED = {
    "horizon": "1 year",
    "places": [
        {"name": "bed", "kind": "bed", "shape": {"area": "2 m2"}, "needs": [{"dress": {"depth": "2 cm"}}]}
    ],
    "ways": [{"name": "yard", "buy": {"material": "dark stuff", "price": "50 EUR/m3"}}],
}


def clashes(bytes_of: Callable[[Plain], bytes], limits: Plain, **other: Any) -> list[Clash]:
    """Return what clashes on the dressed bed, or a site with other keys, within limits."""
    answer = options(load(bytes_of({**DRESSED, "limits": limits, **other}), "field.yaml").site)
    limited = Limited.of(answer)
    return clashes_of(answer, limited, plan_of(answer, limited), 4)


@pytest.mark.parametrize(
    ("limits", "limit", "change"),
    [
        ({"cash": "1.50 EUR"}, "limits.cash", "0.50 EUR more"),
        ({"cash": "1.50 EUR", "hours": "9 h"}, "limits.cash", "0.50 EUR more"),
        ({"cash": "1.50 EUR", "hours": "0.01 h"}, "limits.cash and limits.hours", "neither alone: 2.00 EUR"),
    ],
)
def test_the_limit_that_keeps_it_from_being_met(
    bytes_of: Callable[[Plain], bytes], limits: Plain, limit: str, change: str
) -> None:
    """It is named with how much more would do; where no single one is, the two are."""
    [clash] = clashes(bytes_of, limits)
    assert (clash.need, clash.place, clash.limit) == ("dress", "bed", limit)
    assert clash.least_change.startswith(change)


def test_three_limits_of_which_no_two_would_do(bytes_of: Callable[[Plain], bytes]) -> None:
    """Money, hours and the day all keep a bed from being dressed: all three are named, with what it takes."""
    seller = {"material": "dark stuff", "price": "50 EUR/m3", "lead": "3 weeks"}
    limits = {"cash": "1.50 EUR", "hours": "0.01 h", "by": "2027-03-10"}
    [clash] = clashes(bytes_of, limits, ways=[{"name": "yard", "buy": seller}])
    assert clash.limit == "limits.cash and limits.hours and limits.by"
    assert clash.least_change.startswith("no fewer alone: 2.00 EUR and 0.1 h in all")


#: Two beds to be covered in 1.271 h and 1.144 h. February and five days of March are 33 days: 0.512 h a week.
#: December and ten days of January are 41 days: 0.217 h a week for the first bed.
COVERED: Plain = {
    "start": "2027-02-01",
    "places": [
        {"name": name, "kind": "bed", "shape": {"area": area}, "needs": [{"cover": {"depth": "8 cm"}}]}
        for name, area in (("one", "10 m2"), ("two", "9 m2"))
    ],
    "ways": [{"name": "brought", "buy": {"material": "arborist chip", "price": "30 EUR/m3"}}],
}


@pytest.mark.parametrize(
    ("weekly", "more"), [("0.3 h", ["0.3 h a week more"]), ("0.5 h", ["0.1 h a week more"]), ("0.55 h", [])]
)
def test_work_that_waits_has_the_days_until_all_is_to_be_ready(
    bytes_of: Callable[[Plain], bytes], weekly: str, more: list[str]
) -> None:
    """What waits for the last month has its days, not all of it: so many hours a week more are needed."""
    found = clashes(bytes_of, {"by": "2027-03-05"}, **COVERED, labour={"hours_per_week": weekly})
    assert [one.least_change for one in found if one.limit == "labour.hours_per_week"] == more


@pytest.mark.parametrize("weekly", ["0.15 h", "0.21 h"])
def test_work_that_waits_has_the_days_of_the_horizon(bytes_of: Callable[[Plain], bytes], weekly: str) -> None:
    """The end of the horizon ends the days as well: of a bed of a few days it is never "0.0 h" that would do."""
    described = {**COVERED, "start": "2027-12-31", "horizon": "10 days", "places": COVERED["places"][:1]}
    found = clashes(bytes_of, {}, **described, labour={"hours_per_week": weekly})
    assert [one.least_change for one in found] == ["0.1 h a week more"]


@pytest.mark.parametrize(("weeks", "day"), [(9, "2027-05-03"), (20, "2027-07-19")])
def test_a_day_of_its_own_gives_way(bytes_of: Callable[[Plain], bytes], weeks: int, day: str) -> None:
    """A bed that is to be raised before anything can be there is raised by the day the first load comes."""
    need = {"raise": {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2027-05-01", "hold": "0 days"}}
    bed = {"name": "bed", "kind": "bed", "shape": {"area": "10 m2"}, "needs": [need]}
    seller = {"material": "dark stuff", "price": "40 EUR/m3", "lead": f"{weeks} weeks"}
    [clash] = clashes(bytes_of, {}, places=[bed], ways=[{"name": "yard", "buy": seller}], horizon="2 years")
    assert (clash.limit, clash.least_change) == ("by of the need", f"by {day} instead of 2027-05-01")


@pytest.mark.parametrize(
    ("by", "limit", "change"),
    [
        ("2027-06-01", "by of the need", "by 2027-05-03 instead of 2027-05-01"),
        (
            "2027-05-01",
            "by of the need and limits.by",
            "neither alone: by 2027-05-03 instead of 2027-05-01, and all by 2027-05-03 instead of 2027-05-01",
        ),
        (
            "2027-04-25",
            "by of the need and limits.by",
            "neither alone: by 2027-05-03 instead of 2027-05-01, and all by 2027-05-03 instead of 2027-04-25",
        ),
    ],
)
def test_a_day_of_its_own_and_that_for_all_bind_together(
    bytes_of: Callable[[Plain], bytes], by: str, limit: str, change: str
) -> None:
    """Where the day by which all is to be met keeps a need from its later day, both are named."""
    need = {"raise": {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2027-05-01", "hold": "0 days"}}
    bed = {"name": "bed", "kind": "bed", "shape": {"area": "10 m2"}, "needs": [need]}
    seller = {"material": "dark stuff", "price": "40 EUR/m3", "lead": "9 weeks"}
    [clash] = clashes(
        bytes_of, {"by": by}, places=[bed], ways=[{"name": "yard", "buy": seller}], horizon="2 years"
    )
    assert (clash.limit, clash.least_change) == (limit, change)


def test_nothing_clashes_where_all_is_met(bytes_of: Callable[[Plain], bytes]) -> None:
    """Enough money and hours leave nothing to tell."""
    assert clashes(bytes_of, {"cash": "2 EUR", "hours": "9 h"}) == []


def test_each_need_is_told_the_least_that_does_for_it(bytes_of: Callable[[Plain], bytes]) -> None:
    """A bed at 2 of money and a tree at 5 each take what they lack by themselves, not what both would take."""
    places = [
        {
            "name": name,
            "kind": kind,
            "shape": {"area": area},
            "needs": [{"dress": {"depth": "2 cm"}}],
        }
        for name, kind, area in (("small", "bed", "2 m2"), ("large", "tree", "5 m2"))
    ]
    found = clashes(bytes_of, {"cash": "0.50 EUR"}, places=places)
    assert {(clash.place, clash.limit, clash.least_change) for clash in found} == {
        ("small", "limits.cash", "1.50 EUR more"),
        ("large", "limits.cash", "4.50 EUR more"),
    }


def test_a_ceiling_is_told_before_what_has_nothing_to_give(bytes_of: Callable[[Plain], bytes]) -> None:
    """Old leaf mould has potassium for onions and nothing for potatoes, for which phosphorus keeps pellets off."""
    beds = [
        {"name": crop, "kind": "bed", "shape": {"area": "14 m2"}, "needs": [{"feed": {"for": crop}}]}
        for crop in ("onion", "potato")
    ]
    leaf = {"name": "old leaf", "have": {"material": "leaf mould", "amount": "0.5 m3", "from_site": True}}
    bag = {"material": "pelleted poultry manure", "price": "19 EUR/bag", "bag": "20 kg"}
    soil = {"organic_matter": "4 %", "ph": 6.5, "phosphorus_test": "high"}
    other = {"places": beds, "ways": [leaf, {"name": "pellets", "buy": bag}], "soil": soil}
    found = {clash.place: clash for clash in clashes(bytes_of, {}, **other)}
    assert found["potato"].limit == "phosphorus"


def test_why_nothing_can_be_met_has_every_reason(bytes_of: Callable[[Plain], bytes]) -> None:
    """Where no limit is what keeps needs from being met, each reason is told, with how many it is that of."""
    kinds: dict[str, Plain] = {
        "dress": {"depth": "2 cm"},
        "raise": {"organic_matter": "8 %", "depth": "15 cm"},
    }
    places = [
        {"name": name, "kind": "bed", "shape": {"area": "40 m2"}, "needs": [{kind: kinds[kind]}]}
        for name, kind in (("a", "dress"), ("b", "raise"), ("c", "dress"))
    ]
    meal = [{"name": "meal", "buy": {"material": "feather meal", "price": "3 EUR/kg"}}]
    told = why_nothing(clashes(bytes_of, {}, places=places, ways=meal))
    assert told == (
        "no need can be met: dress, a and 1 more: what is sold by weight is dosed by weight, never by depth."
        " raise, b: a fertiliser is dosed by what a crop needs"
    )
