"""A raise by lots that come a little less than a year apart, and what is met of one that ceilings stop."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from supplied import Lots

from barrowful.needs.decision import Decision
from barrowful.needs.raising import Raising
from barrowful.site.records import Site
from barrowful.supplies.lot import Lot

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
#: Batches of one heap, each begun once the one before is done.
DAYS = [date(2027, 10, 3), date(2028, 9, 18), date(2029, 9, 3), date(2030, 8, 19)]
SOIL = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3"}


@pytest.fixture
def raised(site_of: SiteOf, bed: Describe, buy: Describe) -> Callable[..., Decision]:
    """Give what raises 10 m2 of bed by such lots, without a date."""

    def decide(target: str, **more: Any) -> Decision:
        place = bed({"raise": {"organic_matter": target, "depth": "15 cm", **more.pop("asked", {})}}, **more)
        site = site_of([place], [buy()], soil=SOIL, climate={"annual_mean": "11 degC"}, horizon="3 years")
        return Raising().decide(site, site.places, Lots(site, [Lot(day, 1.0) for day in DAYS]))

    return decide


def test_it_begins_with_the_first_lot_that_does(raised: Callable[..., Decision]) -> None:
    """A little less of the next lot, which is fresher a year after the first, is no reason to wait for it."""
    decision = raised("2.1 %")
    assert decision.feasible
    assert min(dose.day for dose in decision.every_dose) == DAYS[0]


@pytest.mark.parametrize("hold", ["0 days", "1 year"])
def test_a_lot_lies_until_twelve_months_are_over(raised: Callable[..., Decision], hold: str) -> None:
    """What the most of one year does not reach, that of two years does, on the same day of each."""
    decision = raised("4 %", asked={"hold": hold})
    assert decision.feasible
    first, second, *_ = [dose.day for dose in decision.every_dose]
    assert (first, second) == (DAYS[0], date(2028, 10, 3))
    assert decision.ready_on == second


def test_a_harvest_has_them_wait_for_its_end_each_year(raised: Callable[..., Decision]) -> None:
    """Where the ground is not free on the day of the first lot, it is the first day that is, and so each year."""
    decision = raised("4 %", harvest_from="07-01")
    days = [dose.day for dose in decision.every_dose]
    assert decision.feasible
    assert len({(day.month, day.day) for day in days}) == 1
    assert days[0] > DAYS[0]


def test_what_is_met_of_a_raise_goes_by_no_last_digit(
    site_of: SiteOf, bed: Describe, row_of: Callable[..., Any]
) -> None:
    """Of a heap under a farm's nitrogen limit, as much is met of a little more or less ground, in any unit."""
    leaves = {"material": "autumn leaves", "volume": "3 m3"}
    heap: dict[str, Any] = {
        "name": "heap",
        "make": {
            "bay": "0.8 m3",
            "from": [leaves, {"material": "grass clippings", "weekly": "280 L", "months": ["4"]}],
        },
    }
    raising = {"raise": {"organic_matter": "2.4 %", "depth": "10 cm"}}
    shares = set()
    for area in ("18 m2", "17.9 m2", "18.1 m2", "193.7503875008 ft2"):
        place = {**bed(raising), "shape": {"area": area}}
        site = site_of([place], [heap], soil={"organic_matter": "2 %"}, limits={"farm": "true"}, climate={})
        [serving] = row_of(site, "raise").decision.servings
        shares.add(round(serving.share, 6))
    assert len(shares) == 1
