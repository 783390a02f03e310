"""Nitrogen plants can use: which rule applies, what it gives by hand, later seasons; and the ceilings."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest

from barrowful.answers.options import Option, options
from barrowful.answers.orders import decide
from barrowful.answers.together import all_doses
from barrowful.catalogue.materials import Material, material
from barrowful.needs.ceilings import ceilings
from barrowful.site.records import Site
from barrowful.soil.nitrogen import first_season, season

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
StuffOf = Callable[..., Material]


@pytest.fixture(scope="session")
def stuff_of(site_of: SiteOf) -> StuffOf:
    """Give a function that returns a material described in a site file."""

    def build(**words: Any) -> Material:
        found: Material = site_of([], [], materials={"thing": words}).materials["thing"]
        return found

    return build


def known(name: str) -> Material:
    """Return a material of the catalogue."""
    found = material(name)
    assert found is not None
    return found


def test_chip_dug_in_takes_nitrogen(stuff_of: StuffOf) -> None:
    """The carbon balance: a fifth of 48 % carbon, one nitrogen for 24 carbons, less what the chip holds."""
    chip = stuff_of(like="arborist chip", carbon="48 %", nitrogen="0.45 %")
    expected = -0.2 * 0.48 * (1 / 24 - 0.0045 / 0.48)
    assert expected < 0
    assert first_season(chip, True).per_dry == pytest.approx(expected)


@pytest.mark.parametrize(
    "name", ["arborist chip", "ramial chip", "bark mulch", "sawdust", "straw", "autumn leaves", "cardboard"]
)
def test_on_top_it_takes_far_less_than_dug_in(name: str) -> None:
    """Woody and dry stuff ties up a small part on top of what it ties up dug in."""
    dug, on_top = first_season(known(name), True).per_dry, first_season(known(name), False).per_dry
    assert dug < on_top <= 0
    assert abs(on_top) <= 0.25 * abs(dug)


@pytest.mark.parametrize("dug", [True, False])
def test_wood_with_hardly_any_carbon(stuff_of: StuffOf, dug: bool) -> None:
    """The carbon balance goes on smoothly to a stuff with no carbon at all; without the figure it is silent."""
    none, trace = (
        first_season(stuff_of(like="arborist chip", carbon=carbon, nitrogen="0.45 %"), dug).per_dry
        for carbon in ("0 %", "1e-9 %")
    )
    assert none == pytest.approx(trace, rel=1e-6)
    assert none > 0
    unknown = first_season(stuff_of(**{"class": "wood", "nitrogen": "0.45 %"}), dug)
    assert (unknown.per_dry, unknown.rule, unknown.in_range) == (0.0, "no figure for carbon", False)


def test_straw_dug_in_by_hand(stuff_of: StuffOf) -> None:
    """A kilogram of straw with 40 % carbon at C:N 80, half of it decomposed: 5.83 g of nitrogen short."""
    straw = stuff_of(like="straw", carbon="40 %", nitrogen="0.5 %")
    assert 1000 * first_season(straw, True).per_dry == pytest.approx(-5.833, abs=1e-3)


def test_sawdust_dug_in_lies_in_the_field_rule(stuff_of: StuffOf) -> None:
    """Field rule and laboratory give 6 to 11 g of nitrogen tied up by each kilogram of sawdust dug in."""
    assert 6 <= -1000 * first_season(known("sawdust"), True).per_dry <= 11


@pytest.mark.parametrize("dug", [True, False])
def test_what_is_like_sawdust_ties_up_as_it_does(stuff_of: StuffOf, dug: bool) -> None:
    """Fir sawdust, like sawdust, goes by sawdust's rule; wood without the flag by that of chip."""
    sawdust = first_season(known("sawdust"), dug).per_dry
    assert first_season(stuff_of(like="sawdust"), dug).per_dry == sawdust
    figures = {"carbon": "49 %", "nitrogen": "0.11 %"}
    chip = first_season(stuff_of(**{"class": "wood"}, **figures), dug).per_dry
    assert sawdust < chip < 0
    assert first_season(stuff_of(**{"class": "wood"}, **figures, flags=["fine_wood"]), dug).per_dry == sawdust


@pytest.mark.parametrize(
    ("percent", "grams"), [(1.0, 0.0), (1.5, 0.0), (2.5, 8.75), (3.2, 14.875), (3.5, 17.5)]
)
def test_leaf_dug_in_follows_the_cover_crop_line(stuff_of: StuffOf, percent: float, grams: float) -> None:
    """PNW 636: nothing at 1.5 % nitrogen, 17.5 g for each kilogram dry at 3.5 %, a straight line between."""
    leaf = stuff_of(like="comfrey", nitrogen=f"{percent} %")
    found = first_season(leaf, True)
    assert 1000 * found.per_dry == pytest.approx(grams, abs=1e-9)
    assert found.in_range is (1.5 <= percent <= 3.5)


@pytest.mark.parametrize(
    ("percent", "inside"), [(1.49, False), (1.5, True), (3.5, True), (3.51, False), (4.8, False)]
)
def test_the_range_it_was_published_for(stuff_of: StuffOf, percent: float, inside: bool) -> None:
    """Outside 1.5 to 3.5 % the line is used and flagged."""
    assert first_season(stuff_of(like="comfrey", nitrogen=f"{percent} %"), True).in_range is inside


def test_leaf_on_top_by_the_trial(stuff_of: StuffOf) -> None:
    """Of 12 t/ha at 2.5 % nitrogen, 13 % or 39 kg/ha were recovered, not half (Riley and others, 2003)."""
    leaf = stuff_of(like="grass clippings", nitrogen="2.5 %")
    plain = Material(
        leaf.name,
        leaf.class_,
        leaf.about,
        {k: v for k, v in leaf.figures.items() if k != "available_nitrogen"},
    )
    assert 12_000 * first_season(plain, False).per_dry == pytest.approx(39.0)


@pytest.mark.parametrize("dug", [True, False])
@pytest.mark.parametrize("like", ["arborist chip", "comfrey", "green compost", "straw", "horse manure"])
@pytest.mark.parametrize("share", [-20, 35])
def test_a_stated_figure_stands_over_every_rule(stuff_of: StuffOf, like: str, share: int, dug: bool) -> None:
    """Whoever states a share of the nitrogen gets that share, dug in or on top, negative too."""
    stuff = stuff_of(like=like, nitrogen="2 %", available_nitrogen=f"{share} %")
    found = first_season(stuff, dug)
    assert found.per_dry == pytest.approx(0.02 * share / 100)
    assert found.rule == "stated in the site file"


@pytest.mark.parametrize(
    "name", ["available_nitrogen", "nitrogen", "phosphorus", "potassium", "moisture", "humus"]
)
def test_nothing_can_be_stated(stuff_of: StuffOf, name: str) -> None:
    """A figure stated as nothing is nothing, and not the catalogue's."""
    found = stuff_of(like="horse manure", **{name: "0 %"})
    assert found.figures[name].likely == 0
    assert found.figures[name].grade == "stated"


def test_compost_gives_its_own_share(stuff_of: StuffOf) -> None:
    """10 kg of compost at 60 % dry matter with 91.8 g of nitrogen give 4.59 g at 5 %."""
    compost = stuff_of(like="green compost", moisture="40 %", nitrogen="1.53 %")
    assert 1000 * 10 * 0.6 * first_season(compost, True).per_dry == pytest.approx(4.59)


def test_compost_for_a_target_by_hand(site_of: SiteOf, bed: Describe, row_of: RowOf) -> None:
    """10 g of usable nitrogen from compost with 1.5 % at 45 % moisture, a tenth usable, take 12.12 kg/m2."""
    lab = {
        "like": "green compost",
        "density": "600 kg/m3",
        "moisture": "45 %",
        "nitrogen": "1.5 %",
        "available_nitrogen": "10 %",
    }
    site = site_of(
        [bed({"feed": {"nitrogen": "10 g/m2"}}, area=1)],
        [{"name": "yard", "buy": {"material": "thing", "price": "1 EUR/m3"}}],
        materials={"thing": lab},
    )
    row = row_of(site, "feed")
    assert row.mass == pytest.approx(12.1212, abs=1e-3)
    assert row.loose == pytest.approx(0.0202, abs=1e-4)


@pytest.mark.parametrize(
    ("name", "shares"),
    [("horse manure", [0.12, 0.05, 0.0]), ("green compost", [0.025, 0.025, 0.025])],
)
def test_later_seasons(name: str, shares: list[float]) -> None:
    """Manure follows its decay series, 12 and 5 %; compost gives some 2.5 % in each later season."""
    stuff = known(name)
    for year, share in zip((2, 3, 4), shares, strict=True):
        assert season(stuff, True, year).per_dry == pytest.approx(stuff["nitrogen"] * share)


@pytest.mark.parametrize("name", ["arborist chip", "straw", "sawdust", "autumn leaves"])
def test_what_was_tied_up_comes_back_and_no_more(name: str) -> None:
    """Nitrogen tied up in the first season is given back over the next two, and then nothing."""
    stuff = known(name)
    given = [season(stuff, True, year).per_dry for year in range(1, 7)]
    assert given[0] < 0 < given[1]
    assert sum(given) == pytest.approx(0)
    assert given[3:] == [0, 0, 0]


@pytest.mark.parametrize(
    "name",
    [
        "comfrey",
        "grass clippings",
        "horse manure",
        "poultry litter",
        "green compost",
        "home compost",
        "hairy vetch",
    ],
)
@pytest.mark.parametrize("dug", [True, False])
def test_no_stuff_gives_more_than_it_holds(name: str, dug: bool) -> None:
    """Over twenty seasons no more nitrogen comes out than went in."""
    stuff = known(name)
    assert sum(season(stuff, dug, year).per_dry for year in range(1, 21)) <= stuff["nitrogen"] * (1 + 1e-9)


def test_chip_dug_in_shows_its_drawdown(site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf) -> None:
    """A bed dressed with chip dug in shows nitrogen tied up by hand arithmetic; on top only a little."""
    per_dry = -0.2 * 0.48 * (1 / 24 - 0.0045 / 0.48)
    dug = row_of(
        site_of([bed({"dress": {"depth": "2 cm", "dug": True}})], [buy(material="chipped wood")]), "dress"
    )
    top = row_of(site_of([bed({"dress": {"depth": "2 cm"}})], [buy(material="chipped wood")]), "dress")
    assert dug.outcome.available_nitrogen == pytest.approx(0.2 * 280 * 0.55 * per_dry)
    assert top.outcome.available_nitrogen is not None
    assert dug.outcome.available_nitrogen is not None
    assert dug.outcome.available_nitrogen < top.outcome.available_nitrogen <= 0


def test_stuff_without_nitrogen_to_give_cannot_feed(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Chip on top ties nitrogen up, so it feeds nothing, and the row says why."""
    row = row_of(site_of([bed({"feed": {"nitrogen": "5 g/m2"}})], [buy(material="chipped wood")]), "feed")
    assert not row.feasible
    assert "nitrogen" in row.decision.why_not


def warned(site: Site) -> list[str]:
    """Return the ceilings the chosen rows pass."""
    said = decide(site)
    return ceilings(said.answer.site, all_doses(said.answer, said.chosen))


POOR = {"like": "green compost", "density": "600 kg/m3", "moisture": "45 %", "nitrogen": "0.05 %"}
RICH = {"like": "green compost", "density": "600 kg/m3", "moisture": "45 %", "nitrogen": "2.5 %"}


def dressed(
    site_of: SiteOf, bed: Describe, stuff: dict[str, str], *needs: dict[str, Any], **more: Any
) -> Site:
    """Return a site of one bed and one seller of a stuff."""
    seller = {"name": "yard", "buy": {"material": "thing", "price": "40 EUR/m3"}}
    return site_of([bed(*needs)], [seller], materials={"thing": stuff}, **more)


@pytest.mark.parametrize(
    ("depth", "over"), [("2.5 cm", False), ("2.54 cm", False), ("2.56 cm", True), ("8 cm", True)]
)
def test_the_garden_rule_warns_above_an_inch(site_of: SiteOf, bed: Describe, depth: str, over: bool) -> None:
    """Oregon State EM 9308: an inch of compost a year on an established bed; above it a warning stands."""
    found = warned(dressed(site_of, bed, POOR, {"dress": {"depth": depth}}))
    assert bool(found) is over


@pytest.mark.parametrize(
    ("dose", "over"), [("1.7 kg/m2", False), ("1.81 kg/m2", False), ("1.83 kg/m2", True)]
)
def test_the_farm_rule_warns_above_250_kg(site_of: SiteOf, bed: Describe, dose: str, over: bool) -> None:
    """250 kg of nitrogen a hectare are 1.818 kg/m2 of compost with 2.5 % at 55 % dry matter."""
    found = warned(dressed(site_of, bed, RICH, {"dress": {"dose": dose}}))
    assert bool(found) is over
    assert not over or "250 kg N/ha" in found[0]


@pytest.mark.parametrize(
    ("limit", "over"), [("100 kg/ha", True), ("137 kg/ha", True), ("138 kg/ha", False), ("170 kg/ha", False)]
)
def test_an_own_limit_warns_at_its_own_height(site_of: SiteOf, bed: Describe, limit: str, over: bool) -> None:
    """A limit of the grower's own stands beside the published ones: 1 kg/m2 of this is 137.5 kg N/ha."""
    found = warned(dressed(site_of, bed, RICH, {"dress": {"dose": "1 kg/m2"}}, limits={"nitrogen": limit}))
    assert any("over your limit" in line for line in found) is over


def test_the_limit_is_on_a_place_and_not_on_a_need(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Two needs that each bring 140 kg/ha to one bed in one year bring it 280, above a limit of 170."""
    ways = [
        {"name": "one", "buy": {"material": "thing", "price": "1 EUR/m3"}},
        {"name": "two", "buy": {"material": "other", "price": "1 EUR/m3"}},
    ]
    needs = [{"dress": {"dose": "1 kg/m2"}}, {"feed": {"phosphorus": "1 g/m2"}}]
    stuff = {
        "thing": {**RICH, "phosphorus": "0.0001 %"},
        "other": {**RICH, "like": "horse manure", "phosphorus": "0.1818 %"},
    }
    plan = [
        {"place": "bed", "need": "dress", "way": "one"},
        {"place": "bed", "need": "feed", "way": "two"},
    ]
    site = site_of([bed(*needs)], ways, materials=stuff, limits={"nitrogen": "170 kg/ha"}, plan=plan)
    assert any("over your limit" in line for line in warned(site))


@pytest.mark.parametrize(
    ("word", "warns"), [("low", False), ("medium", False), ("high", True), ("very high", True)]
)
def test_a_high_test_of_phosphorus_warns(site_of: SiteOf, bed: Describe, word: str, warns: bool) -> None:
    """Where the soil holds much phosphorus already, what brings more is warned of."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "phosphorus_test": word}
    found = warned(dressed(site_of, bed, POOR, {"dress": {"dose": "1 kg/m2"}}, soil=soil))
    assert any("phosphorus is" in line for line in found) is warns


def test_doses_of_different_years_are_not_added(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """The ceilings are for a year: three yearly applications of 2 cm are 2 cm a year, not 6."""
    words = {"organic_matter": "5 %", "depth": "15 cm", "by": "2029-09-01", "most_per_application": "2 cm"}
    site = dressed(site_of, bed, POOR, {"raise": words})
    answer = options(site)
    rows = list(answer.options)
    assert len({dose.day for dose in rows[0].decision.doses}) >= 2
    assert all(later.day >= date(2027, 3, 1) for later in rows[0].decision.doses)
    assert not ceilings(answer.site, all_doses(answer, rows))
