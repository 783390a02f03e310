"""What is put on a place comes in the order of work there, and counts for what comes after it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.advice import advice
from barrowful.answers.choices import WholeSite, cheapest
from barrowful.answers.options import options
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
FILL = {"fill": {"depth": "30 cm"}}
FEED = {"feed": {"nitrogen": "12 g/m2", "phosphorus": "1 g/m2", "potassium": "10 g/m2"}}


def sold(name: str, material: str, price: str, **more: str) -> dict[str, Any]:
    """Return a seller of a stuff."""
    return {"name": name, "buy": {"material": material, "price": price, **more}}


WAYS = [
    sold("yard", "green compost", "40 EUR/m3", lead="2 weeks"),
    sold("merchant", "topsoil", "20 EUR/m3", lead="1 week"),
    sold("shop", "pelleted poultry manure", "1 EUR/kg"),
    sold("straw man", "straw", "10 EUR/m3"),
    sold("lime man", "ground limestone", "0.3 EUR/kg"),
]


@pytest.fixture
def whole(site_of: SiteOf, bed: Describe) -> Callable[..., WholeSite]:
    """Give a function that returns the cheapest for a bed of 10 m2 with some needs."""

    def cheapest_of(*needs: dict[str, Any], ways: list[dict[str, Any]] = WAYS, **more: Any) -> WholeSite:
        return cheapest(options(site_of([bed(*needs, area=10)], ways, **{"horizon": "3 years", **more})))

    return cheapest_of


def days(row: WholeSite, need: str) -> list[date]:
    """Return the days on which something is put on for a need."""
    return sorted({dose.day for dose in row.together.all_doses if dose.kind == need})


def test_a_bed_that_is_filled_is_fed_too(whole: Callable[..., WholeSite]) -> None:
    """What a fill holds of phosphorus and potassium feeds the seasons after too, until they have used it up."""
    row = whole(FILL, FEED)
    assert row.unmet == ()
    [filled] = days(row, "fill")
    assert filled == date(2027, 3, 15)
    assert all(day >= filled for day in days(row, "feed"))


def test_the_parts_of_a_mix_come_together(whole: Callable[..., WholeSite]) -> None:
    """Topsoil is there after a week and compost after two: the mix is made when both are."""
    assert days(whole(FILL), "fill") == [date(2027, 3, 15)]


def test_a_mulch_waits_for_what_is_dug_in_and_filled(whole: Callable[..., WholeSite]) -> None:
    """Lime and compost are dug in before the straw is laid, and a fill is no mulch."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "ph": "5.8"}
    cover, lime = {"cover": {"depth": "5 cm"}}, {"lime": {"ph": 6.5, "depth": "20 cm"}}
    row = whole(
        {"dress": {"depth": "1 cm", "dug": True}}, cover, lime, ways=[*WAYS[:1], *WAYS[3:]], soil=soil
    )
    assert row.unmet == ()
    assert days(row, "cover")[0] >= max(days(row, "dress")[0], days(row, "lime")[0])
    row = whole(FILL, cover)
    assert row.unmet == ()
    assert days(row, "cover")[0] == days(row, "fill")[0]


def test_compost_dug_in_for_lime_raises_too(whole: Callable[..., WholeSite]) -> None:
    """Compost that limes a bed is organic matter in its soil: a small raise needs nothing more."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "8 %", "ph": "6.3"}
    needs = [
        {"lime": {"ph": 6.4, "depth": "10 cm"}},
        {"raise": {"organic_matter": "2.1 %", "depth": "15 cm", "by": "2028-03-01"}},
    ]
    row = whole(*needs, ways=WAYS[:1], soil=soil)
    assert row.unmet == ()
    assert days(row, "lime")
    assert days(row, "raise") == []
    assert "Met with nothing of its own: raise, by what goes on for lime." in advice(row)


def test_what_meets_a_need_beside_others_is_named(whole: Callable[..., WholeSite]) -> None:
    """A dressing is met by the compost that limes, not by the lime; a raise that is reached needs no word."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "8 %", "ph": "6.3"}
    needs = [
        {"lime": {"ph": 6.4, "depth": "10 cm"}},
        {"raise": {"organic_matter": "1.9 %", "depth": "15 cm", "by": "2028-03-01"}},
        {"dress": {"depth": "1 mm", "dug": True}},
    ]
    told = " ".join(advice(whole(*needs, ways=WAYS[:1], soil=soil)))
    assert "Met with nothing of its own: raise; dress, by what goes on for lime." in told


def test_rock_phosphate_is_for_soil_that_stays_sour(whole: Callable[..., WholeSite]) -> None:
    """On ground that is limed to pH 6.5 its phosphorus does not come free, whatever the pH is today."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "ph": "5.5"}
    feed = {"feed": {"phosphorus": "1 g/m2"}}
    ways = [sold("rock", "rock phosphate", "1 EUR/kg"), WAYS[4]]
    assert whole(feed, ways=ways, soil=soil).unmet == ()
    assert whole(feed, {"lime": {"ph": 6.5, "depth": "20 cm"}}, ways=ways, soil=soil).unmet == ("feed",)


def test_no_load_for_a_shovel(whole: Callable[..., WholeSite]) -> None:
    """A raise held for long by compost has no dose under a fiftieth of the whole."""
    raised = {"raise": {"organic_matter": "2.4 %", "depth": "15 cm", "by": "2028-03-01", "hold": "16 months"}}
    for percent in ("2.3", "2.4", "2.5", "2.6"):
        raised["raise"]["organic_matter"] = f"{percent} %"
        row = whole(raised, ways=WAYS[:1], horizon="4 years")
        loose = [dose.loose for dose in row.together.all_doses]
        assert min(loose) >= 0.02 * sum(loose)


def test_the_first_screen_tells_first_and_later(whole: Callable[..., WholeSite]) -> None:
    """Lime that has to be split says how much goes on first, and how much more until when."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "20 %", "ph": "5.0"}
    lines = advice(whole({"lime": {"ph": 6.5, "depth": "20 cm"}}, ways=WAYS[4:], soil=soil))
    assert any("lime bed, 7.1 kg from 2027-03-01, 4.3 kg more to 2028-03-01" in line for line in lines)
