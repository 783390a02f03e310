"""Strawberries that bear once a year: fed when they are picked, and no more than extension services print."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.cautions import cautions_for
from barrowful.answers.options import options
from barrowful.catalogue.crops import crops
from barrowful.jobs.season import season
from barrowful.needs.harvests import AHEAD, RAW
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
MEAL = {"name": "meal", "buy": {"material": "feather meal", "price": "3 EUR/kg"}}
STRAW = {"name": "straw", "buy": {"material": "straw", "price": "3 EUR/bag", "bag": "10 kg"}}
FROSTS = {"annual_mean": "9 degC", "last_frost": "05-05", "first_frost": "10-10"}
FED = {"feed": {"for": "strawberry"}}


def test_the_dose_by_the_pages_it_is_of() -> None:
    """Iowa: 5 lb of 10-10-10, half a pound of nitrogen, on 100 ft of row 2 ft wide. Wisconsin: half a pound of urea, 46 %
    nitrogen, on as much. California: 300 lb an acre.
    """
    figure = crops()["strawberry"].figures["nitrogen"]
    pound, row, acre = 0.45359237, 100 * 2 * 0.3048**2, 4046.8564224
    printed = [0.5 * 0.46 * pound / row, 0.5 * pound / row, 300 * pound / acre]
    assert [figure.low, figure.likely, figure.high] == pytest.approx(printed, rel=0.005)


@pytest.mark.parametrize("kind", ["row", "bed"])
@pytest.mark.parametrize("dug", [False, True])
def test_they_are_fed_when_they_are_picked(site_of: SiteOf, bed: Describe, kind: str, dug: bool) -> None:
    """Picked from 5 June to 3 July: fed on the 4th in each year, though all is there on the first of March."""
    place = bed({"feed": {"for": "strawberry", "dug": dug}}, kind=kind, harvest_from="06-05")
    site = site_of([place], [MEAL], start="2027-03-01", horizon="2 years", climate=FROSTS)
    [row] = options(site).options
    assert row.feasible
    assert [dose.day for dose in row.decision.every_dose] == [date(2027, 7, 4), date(2028, 7, 4)]


@pytest.mark.parametrize("kind", ["row", "bed"])
def test_raw_manure_feeds_none_of_them(site_of: SiteOf, bed: Describe, kind: str) -> None:
    """Hen pellets went on 17 weeks ahead of picking where compost waits; after it they are barred to the frost.

    Treated ones wait as all else does; raw ones go on in spring where it is lifted.
    """
    for flags, lift, days in (
        ([], [], []),
        (["treated"], [], [date(2028, 7, 4)]),
        ([], [AHEAD], [date(2028, 2, 1)]),
    ):
        way = {"name": "pellets", "buy": {"material": "hen pellets", "price": "14 EUR/bag", "bag": "25 kg"}}
        stuff: dict[str, Any] = {"like": "pelleted poultry manure", **({"flags": flags} if flags else {})}
        limits = {"limits": {"lift": lift}} if lift else {}
        place = bed(FED, kind=kind, harvest_from="06-05", **limits)
        more = {"climate": FROSTS, "materials": {"hen pellets": stuff}}
        site = site_of([place], [way], start="2027-10-01", horizon="1 year", **more)
        [row] = options(site).options
        assert [dose.day for dose in row.decision.every_dose] == days
        assert row.feasible is bool(days)
        assert (row.decision.ceiling == RAW) is not bool(days)


def test_lifted_they_are_fed_in_spring(site_of: SiteOf, bed: Describe) -> None:
    """Those that bear all summer, and those without a day of picking, are fed when it is there."""
    for more in ({"harvest_from": "06-05", "limits": {"lift": [AHEAD]}}, {}):
        place = bed(FED, kind="row", **more)
        site = site_of([place], [MEAL], start="2027-03-01", horizon="1 year", climate=FROSTS)
        [row] = options(site).options
        assert [dose.day for dose in row.decision.every_dose] == [date(2027, 3, 1)]


def test_the_feed_of_strawberries_has_its_caution(site_of: SiteOf, bed: Describe) -> None:
    """It says when, whether a day of picking is told or not; kale has none."""
    for crop, told in (("strawberry", True), ("kale", False)):
        answer = options(site_of([bed({"feed": {"for": crop}})], [MEAL], horizon="1 year"))
        assert ("strawberries-picked" in {of.caution.key for of in cautions_for(answer)}) is told


def test_their_mulch_does_not_wait_for_the_feed(site_of: SiteOf, bed: Describe) -> None:
    """Straw lies under the fruit by the time it is picked, and the feed goes on after."""
    place = bed({"cover": {"depth": "5 cm"}}, FED, kind="row", harvest_from="06-05")
    site = site_of([place], [MEAL, STRAW], start="2027-03-01", horizon="1 year", climate=FROSTS)
    on = {job.job: job.on for job in season(site).jobs if job.place}
    assert on["mulch"] < date(2027, 6, 5)
    assert on["feed"] >= date(2027, 7, 4)
