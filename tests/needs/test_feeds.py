"""Feeds: what is wanted by crop and soil, and nitrogen net of what ties it up and of what is still to come."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from supplied import MEAL

from barrowful.answers.carrying_out import carried_out
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.catalogue.materials import material
from barrowful.measures.problems import Problem
from barrowful.site.records import Site, Soil
from barrowful.soil.nitrogen import Lying, first_season, usable

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
BedWith = Callable[..., tuple[Site, Option]]
START, AREA = date(2027, 3, 1), 10.0
#: 60 kg in each m3, 52.8 of them dry; it lasts so long that no cover of it is topped up.
STALKS = {
    "class": "straw",
    "density": "60 kg/m3",
    "moisture": "12 %",
    "carbon": "44 %",
    "nitrogen": "0.55 %",
    "in_place": "50 %",
    "lasts": "50 years",
}
#: 280 kg in each m3, 154 of them dry.
CHIP = {"class": "wood", "density": "280 kg/m3"}
LIFTED = {"limits": {"lift": ["yearly_depth"]}}


def fed_beside(
    site_of: SiteOf,
    bed: Describe,
    dark: dict[str, Any],
    need: dict[str, Any],
    stuff: dict[str, Any],
    kind: str,
    **words: Any,
) -> float:
    """Return the meal [m3] that feeds 3 g/m2 to 10 m2 that also get another need of some stuff."""
    places = [bed(need, {"feed": {"nitrogen": "3 g/m2"}}, area=AREA, kind=kind, **words)]
    ways = [
        {"name": "other", "buy": {"material": "stuff", "price": "1 EUR/m3"}},
        {"name": "shop", "buy": {"material": "meal", "price": "1 EUR/kg"}},
    ]
    materials = {"stuff": {**dark, **stuff}, "meal": {**dark, **MEAL}}
    del materials["stuff"]["available_nitrogen"]
    answer = options(site_of(places, ways, materials=materials, horizon="1 year"))
    word = next(iter(need))
    together = carried_out(answer, {word: ("other",), "feed": ("shop",)})
    assert together.met == 2
    return sum(dose.loose for dose in together.all_doses if dose.kind == "feed")


def test_straw_on_top_takes_a_little_of_the_feed(
    site_of: SiteOf, bed: Describe, dark: dict[str, Any]
) -> None:
    """5 cm of straw, settled from 10, are 52.8 kg dry: 15 % of 6 g each are tied up, 47.52 g beside 30 wanted."""
    fed = fed_beside(site_of, bed, dark, {"cover": {"depth": "5 cm"}}, STALKS, "bed")
    assert fed == pytest.approx((30 + 52.8 * 6 * 0.15) / 60_000)


@pytest.mark.parametrize(("dug", "grams"), [(True, 6.0), (False, 0.3)])
def test_chip_in_a_row_takes_of_the_feed(
    site_of: SiteOf, bed: Describe, dark: dict[str, Any], dug: bool, grams: float
) -> None:
    """1 cm of chip is 15.4 kg dry: dug in it ties up 6 g of each, 92.4 g beside 30 wanted; on top a twentieth.

    Dug in it does not suit, so that is lifted.
    """
    dress = {"dress": {"depth": "1 cm", "dug": dug}}
    fed = fed_beside(site_of, bed, dark, dress, CHIP, "row", limits={"lift": ["suits"]})
    assert fed == pytest.approx((30 + 15.4 * grams) / 60_000)


def test_compost_of_another_need_feeds_too(site_of: SiteOf, bed: Describe, dark: dict[str, Any]) -> None:
    """1 cm of compost holds 462 g of nitrogen: 5 % of it are 23.1 of the 30 wanted, 10 % more than all."""
    places = [bed({"dress": {"depth": "1 cm"}}, {"feed": {"nitrogen": "3 g/m2"}}, area=AREA)]
    ways = [
        {"name": "other", "buy": {"material": "stuff", "price": "1 EUR/m3"}},
        {"name": "shop", "buy": {"material": "meal", "price": "1 EUR/kg"}},
    ]
    for share, left in (("5 %", 30 - 23.1), ("10 %", 0.0)):
        materials = {"stuff": {**dark, "available_nitrogen": share}, "meal": {**dark, **MEAL}}
        answer = options(site_of(places, ways, materials=materials, horizon="1 year"))
        together = carried_out(answer, {"dress": ("other",), "feed": ("shop",)})
        fed = sum(dose.loose for dose in together.all_doses if dose.kind == "feed")
        assert fed == pytest.approx(left / 60_000, abs=1e-12)


@pytest.mark.parametrize(
    ("put_on", "frost", "grams"),
    [
        ("2027-02-01", None, -0.5 * 6),
        ("2026-09-01", None, -0.5 * 1.3),
        ("2026-02-01", None, 0.0),
        ("2027-02-01", "10-20", 6.0),
        ("2026-11-01", "10-20", 6.0),
        ("2026-10-25", "10-20", 1.3),
        ("2026-10-19", "10-20", -0.5 * 1.3),
    ],
)
def test_straw_of_the_history_counts_in_its_seasons(
    bed_with: BedWith, put_on: str, frost: str | None, grams: float
) -> None:
    """60 kg of straw dug in tie up 6 g for each dry one in their season, of autumn 1.3, and give half back next.

    Without a frost the season begins on 1 March; with one on 20 October it began then, and holds the winter.
    """
    climate = {"annual_mean": "15 degC", **({"first_frost": frost} if frost else {})}
    entry = {"date": put_on, "place": "bed", "material": "straw", "amount": "60 kg", "dug": True}
    meal = {**MEAL, "phosphorus": "1 %"}
    site, row = bed_with({"feed": {"nitrogen": "30 g/m2"}}, meal, climate=climate, history=[entry])
    straw = site.history[0].material
    assert straw is not None
    dry = 60 * (1 - straw["moisture"])
    assert row.feasible
    assert sum(dose.loose for dose in row.decision.doses) == pytest.approx((300 + dry * grams) / 60_000)


@pytest.mark.parametrize(
    ("put_on", "share"), [("2026-06-01", 0.025), ("2025-06-01", 0.025), ("2027-03-01", 0.05)]
)
def test_compost_of_the_history_counts_in_its_seasons(bed_with: BedWith, put_on: str, share: float) -> None:
    """0.1 m3 holds 462 g of nitrogen: of this season 5 % count (stated), of one before 2.5 % in each that follows."""
    entry = {"date": put_on, "place": "bed", "material": "thing", "amount": "0.1 m3", "dug": True}
    _, row = bed_with({"feed": {"nitrogen": "5 g/m2"}}, {}, LIFTED, history=[entry], horizon="1 year")
    assert row.decision.credit == pytest.approx(0.462 * share)
    assert row.loose == pytest.approx((0.05 - 0.462 * share) / (4.62 * 0.05))


@pytest.mark.parametrize(
    ("crop", "soil", "grams"),
    [
        ("cabbage", {}, 29.0),
        ("cabbage", {"nitrogen_index": "0"}, 32.5),
        ("cabbage", {"nitrogen_index": "3"}, 22.0),
        ("cabbage", {"nitrogen_index": "6"}, 0.0),
        ("leek", {"nitrogen_index": "2"}, 17.0),
        ("leek", {"nitrogen_index": "2", "nitrogen_supply": "200 kg/ha"}, 17.0),
        ("cucumber", {"nitrogen_supply": "60 kg/ha"}, (16.8 - 6) / 0.6),
        ("cucumber", {"nitrogen_supply": "200 kg/ha"}, 0.0),
        ("cucumber", {}, (16.8 - 5 - 5200 * 0.05 * 0.02 * 0.6) / 0.6),
        ("cucumber", {"nitrogen_index": "6"}, (16.8 - 5 - 5200 * 0.05 * 0.02 * 0.6) / 0.6),
        ("vegetables", {"nitrogen_supply": "60 kg/ha"}, 9.8),
    ],
)
def test_nitrogen_wanted_by_crop_and_soil(
    bed_with: BedWith, crop: str, soil: dict[str, str], grams: float
) -> None:
    """By RB209's table for the soil's index, 1 where none is given; without a table by balance; a rate as it stands.

    The balance is (uptake - supply) / 0.6. Without a supply stated it is 50 kg/ha and three fifths of the 2 % a
    year of the nitrogen, 5 %, of the matter in 20 cm: here 2 % of 260 kg/m2.
    """
    _, row = bed_with({"feed": {"for": crop}}, MEAL, {"soil": soil}, horizon="1 year")
    assert 1000 * row.wanted("nitrogen") == pytest.approx(grams * AREA)
    if grams:
        assert row.feasible
        assert row.loose == pytest.approx(grams * AREA / 60_000)


@pytest.mark.parametrize(
    ("word", "grams"), [("low", 1.48), ("medium", 1.48), ("high", 0.0), ("very high", 0.0)]
)
def test_no_phosphorus_is_wanted_at_a_high_test(bed_with: BedWith, word: str, grams: float) -> None:
    """Cabbage carries off 1.48 g of phosphorus a m2; where the soil is full of it, it wants none."""
    stuff = {**MEAL, "phosphorus": "0 %"} if not grams else MEAL
    place = {"soil": {"phosphorus_test": word}}
    _, row = bed_with({"feed": {"for": "cabbage"}}, stuff, place, horizon="1 year")
    assert row.feasible
    assert 1000 * row.wanted("phosphorus") == pytest.approx(grams * AREA)


def test_what_is_typed_stands_over_the_crop(bed_with: BedWith) -> None:
    """Nitrogen and phosphorus given in figures are wanted as they are, whatever the table and the test say."""
    feed = {"feed": {"for": "cabbage", "nitrogen": "4 g/m2", "phosphorus": "0.5 g/m2"}}
    _, row = bed_with(feed, MEAL, {"soil": {"phosphorus_test": "high"}}, horizon="1 year")
    wanted = [1000 * row.wanted(name) for name in ("nitrogen", "phosphorus")]
    assert wanted == pytest.approx([40.0, 5.0])


@pytest.mark.parametrize(
    ("horizon", "days"),
    [
        ("6 months", ["2027-03-01"]),
        ("1 year", ["2027-03-01"]),
        ("3 years", ["2027-03-01", "2028-03-01", "2029-03-01"]),
        ("40 months", ["2027-03-01", "2028-03-01", "2029-03-01"]),
        ("42 months", ["2027-03-01", "2028-03-01", "2029-03-01", "2030-03-01"]),
    ],
)
def test_every_season_within_the_horizon_is_fed(bed_with: BedWith, horizon: str, days: list[str]) -> None:
    """Meal is gone after its season: each that lies within the horizon gets the same again, or half of one."""
    _, row = bed_with({"feed": {"nitrogen": "3 g/m2"}}, MEAL, horizon=horizon)
    doses = row.decision.every_dose
    assert row.feasible
    assert [f"{dose.day}" for dose in doses] == days
    assert [dose.loose for dose in doses] == pytest.approx([0.03 / 60] * len(days))
    assert [dose.day for dose in row.decision.doses] == [START]


@pytest.mark.parametrize("frost", [{}, {"first_frost": "10-25"}])
@pytest.mark.parametrize("ways", [{"buy": {"price": "1 EUR/kg"}}, {"have": {"amount": "1 m3"}}])
def test_from_autumn_every_spring_within_the_horizon_is_fed(
    site_of: SiteOf, bed: Describe, dark: dict[str, Any], frost: dict[str, str], ways: dict[str, Any]
) -> None:
    """Of two years from September both springs are fed, though the second season ends after the horizon."""
    [(kind, words)] = ways.items()
    site = site_of(
        [bed({"feed": {"nitrogen": "3 g/m2"}}, area=AREA)],
        [{"name": "shop", kind: {"material": "meal", **words}}],
        materials={"meal": {**dark, **MEAL}},
        start="2027-09-01",
        horizon="2 years",
        climate={"annual_mean": "10 degC", **frost},
    )
    [row] = options(site).options
    assert row.feasible
    assert [(dose.day.year, dose.loose) for dose in row.decision.every_dose] == [
        (2028, pytest.approx(0.03 / 60)),
        (2029, pytest.approx(0.03 / 60)),
    ]


def test_what_went_before_feeds_later_seasons(bed_with: BedWith) -> None:
    """Of compost 5 % count at once and 2.5 % in each later season: it takes 1, then 1 - 1/2, then 1 - 1.5/2."""
    _, row = bed_with({"feed": {"nitrogen": "5 g/m2"}}, {}, LIFTED, horizon="3 years")
    first = 0.05 / (4.62 * 0.05)
    doses = [dose.loose for dose in row.decision.every_dose]
    assert doses == pytest.approx([first, first / 2, first / 4])


def test_a_season_that_is_not_fed_is_not_met(site_of: SiteOf, bed: Describe, dark: dict[str, Any]) -> None:
    """Meal for one season and a half: the second is met by half, two of three in all by half, and it is not met."""
    pile = {"name": "sack", "have": {"material": "meal", "amount": "0.00075 m3"}}
    site = site_of(
        [bed({"feed": {"nitrogen": "3 g/m2"}}, area=AREA)],
        [pile],
        materials={"meal": {**dark, **MEAL}},
        horizon="3 years",
    )
    [row] = options(site).options
    assert not row.feasible
    assert row.why_not == (
        "gives 50% of the nitrogen in the season to 2029-02-28; on average over 3 seasons 50% is met"
    )
    assert row.decision.met_share == pytest.approx((1 + 0.5 + 0) / 3)


def test_a_first_season_short_says_what_all_seasons_get(
    site_of: SiteOf, bed: Describe, dark: dict[str, Any]
) -> None:
    """Meal for three quarters of the first of three seasons: a quarter of all is met, of a big bed and a small."""
    pile = {"name": "sack", "have": {"material": "meal", "amount": "1.5 L"}}
    beds = [bed({"feed": {"nitrogen": "3 g/m2"}}, area=area, name=f"{area}") for area in (10, 30)]
    [row] = options(site_of(beds, [pile], materials={"meal": {**dark, **MEAL}}, horizon="3 years")).options
    assert row.why_not.endswith(" kg short in the first season; on average over 3 seasons 25% is met")
    assert row.decision.met_share == pytest.approx(0.25)


def test_seasons_that_are_met_alike_need_no_average(bed_with: BedWith) -> None:
    """Ash up to its yearly most gives the same share in each season, which the sentence tells already."""
    _, row = bed_with({"feed": {"potassium": "5 g/m2"}}, {"like": "wood ash"}, horizon="3 years")
    assert row.why_not.endswith("gives 66% of the potassium in the season to 2028-02-29")
    assert f"{row.decision.met_share:.0%}" == "66%"


@pytest.mark.parametrize(
    ("start", "hemisphere", "clay", "dug", "percent"),
    [
        ("2027-04-01", "north", "20 %", True, 15),
        ("2027-04-01", "north", "20 %", False, 10),
        ("2027-06-01", "north", "5 %", True, 15),
        ("2027-09-01", "north", "5 %", True, 15),
        ("2027-12-01", "north", "5 %", True, 15),
        ("2027-04-01", "south", "5 %", True, 15),
        ("2027-10-01", "south", "5 %", True, 15),
    ],
)
def test_manure_by_manner_waits_for_spring(
    bed_with: BedWith, start: str, hemisphere: str, clay: str, dug: bool, percent: int
) -> None:
    """RB209 table 2.3: litter gives 15 % dug in in spring, 10 % on top; a feed does not go on before spring."""
    feed = {"feed": {"nitrogen": "2 g/m2", "dug": dug}}
    place = {**LIFTED, "soil": {"clay": clay}}
    more = {"start": start, "hemisphere": hemisphere, "horizon": "1 year"}
    site, row = bed_with(feed, {"like": "cattle manure"}, place, **more)
    stuff = site.materials["thing"]
    each = stuff["density"] * (1 - stuff["moisture"]) * stuff["nitrogen"]
    assert row.feasible
    assert row.loose == pytest.approx(0.02 / (each * percent / 100))


@pytest.mark.parametrize(
    ("time", "clay", "dug", "percent"),
    [
        ("spring", 0.20, True, 15),
        ("autumn", 0.05, True, 5),
        ("autumn", 0.20, True, 10),
        ("winter", 0.05, True, 10),
        ("winter", 0.20, False, 10),
        ("autumn", 0.05, False, 5),
    ],
)
def test_manure_by_time_of_year_and_texture(time: str, clay: float, dug: bool, percent: int) -> None:
    """RB209 table 2.3: what farmyard manure gives of its nitrogen, on sand and on heavier soil."""
    stuff = material("cattle manure")
    assert stuff is not None
    gives = first_season(stuff, Lying(dug, Soil(clay=clay).is_sandy, time)).per_dry
    assert gives == pytest.approx(stuff["nitrogen"] * percent / 100)


@pytest.mark.parametrize(
    ("crop", "soil", "words"),
    [
        ("cucumber", {"nitrogen_index": "5"}, 'give "nitrogen_supply: 60 kg/ha" under "soil:"'),
        ("cucumber", {"nitrogen_index": "5", "nitrogen_supply": "200 kg/ha"}, ""),
        ("cucumber", {}, ""),
        ("cabbage", {"nitrogen_index": "5"}, ""),
        ("vegetables", {"nitrogen_index": "0"}, 'give "nitrogen: 6 g/m2"'),
    ],
)
def test_an_index_that_changes_nothing_is_warned_of(
    warnings_of: Callable[..., tuple[Problem, ...]],
    bed: Describe,
    crop: str,
    soil: dict[str, str],
    words: str,
) -> None:
    """A crop without rates by index goes by the soil's supply, or by one rate: the index is idle, and it is said."""
    warned = warnings_of([bed({"feed": {"for": crop}}, soil=soil)], [])
    told = [warning.message for warning in warned if warning.code == "unused"]
    assert len(told) == bool(words)
    assert all(f"{crop} has no recommended rates" in line and words in line for line in told)


@pytest.mark.parametrize(
    ("feed", "told"),
    [
        ({"for": "potato"}, "how much phosphorus and potassium potato wants is not known here"),
        ({"for": "potato", "potassium": "9 g/m2"}, "how much phosphorus potato wants is not known here"),
        ({"for": "potato", "phosphorus": "2 g/m2", "potassium": "9 g/m2"}, ""),
        ({"for": "cabbage"}, ""),
    ],
    ids=str,
)
def test_what_is_not_known_of_a_crop_is_told(
    warnings_of: Callable[..., tuple[Problem, ...]], bed: Describe, feed: dict[str, Any], told: str
) -> None:
    """Of a crop whose phosphorus or potassium no source gives none is reckoned, with a word on it."""
    said = [one.message for one in warnings_of([bed({"feed": feed})], []) if "not known here" in one.message]
    assert len(said) == bool(told)
    assert all(told in one for one in said)


STRAIGHT = {"class": "fertiliser", "density": "1 kg/L", "moisture": "0 %", "available_nitrogen": "100 %"}
NONE = {"nitrogen": "0 %", "phosphorus": "0 %", "potassium": "0 %"}


def test_three_straight_fertilisers_feed_together(site_of: SiteOf, bed: Describe) -> None:
    """Of 13, 1 and 10 g/m2 on 500 m2: 6.5 kg at 34.5 %, 0.5 kg at 20 % of which 80 % counts, 5 kg at 41.5 %."""
    stuffs = {
        "nitrate": {**STRAIGHT, **NONE, "nitrogen": "34.5 %"},
        "super": {**STRAIGHT, **NONE, "phosphorus": "20 %", "available_phosphorus": "80 %"},
        "potash": {**STRAIGHT, **NONE, "potassium": "41.5 %", "available_potassium": "100 %"},
    }
    ways = [{"name": name, "buy": {"material": name, "price": "1 EUR/kg"}} for name in stuffs]
    feed = {"nitrogen": "13 g/m2", "phosphorus": "1 g/m2", "potassium": "10 g/m2"}
    site = site_of([bed({"feed": feed}, area=500)], ways, materials=stuffs, horizon="1 year")
    [row] = [row for row in options(site).options if row.decision.feasible]
    masses = {dose.way: dose.material.wet_mass(dose.loose) for dose in row.decision.every_dose}
    wanted = {"nitrate": 6.5 / 0.345, "super": 0.5 / 0.2 / 0.8, "potash": 5 / 0.415}
    assert masses == pytest.approx(wanted, rel=1e-6)
    assert float(row.cash) == pytest.approx(sum(wanted.values()), abs=0.02)


@pytest.mark.parametrize(
    ("crop", "test", "told"),
    [
        ("potato", "high", True),
        ("potato", "very high", False),
        ("potato", "medium", False),
        ("lettuce", "high", False),
    ],
)
def test_what_a_crop_carries_off_is_told_as_unknown_where_it_binds(
    warnings_of: Callable[..., Any], bed: Callable[..., dict[str, Any]], crop: str, test: str, told: bool
) -> None:
    """On ground that tests high as much goes on as the crop carries off, and where that is not known nothing."""
    soil = {"organic_matter": "3 %", "phosphorus_test": test}
    found = warnings_of([bed({"feed": {"for": crop}})], [], soil=soil)
    assert any("carries off is not known" in one.message for one in found) is told


def test_more_of_a_way_is_given_where_it_brings_all(site_of: SiteOf, bed: Describe) -> None:
    """Compost sized by 1 g/m2 of phosphorus leaves potassium wanted, 8 g/m2; more of it, sized by that, is let on.

    It is a row by itself, and no pair with bone meal, of which nothing would go on.
    """
    compost, bone = (
        {"name": name, "buy": {"material": stuff, "price": price}}
        for name, stuff, price in (
            ("compost", "green compost", "40 EUR/m3"),
            ("bone", "bone meal", "4 EUR/kg"),
        )
    )
    place = bed({"feed": {"phosphorus": "1 g/m2", "potassium": "8 g/m2"}}, area=AREA)
    rows = options(site_of([place], [compost, bone], horizon="2 years")).options
    assert [(row.name, row.feasible) for row in rows] == [("compost", True), ("bone", False)]
    stuff = material("green compost")
    assert stuff is not None
    each = stuff.dry_mass(1.0) * usable(stuff, "potassium")
    assert [dose.loose for dose in rows[0].decision.every_dose] == pytest.approx([0.08 / each] * 2)
