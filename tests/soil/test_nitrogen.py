"""Nitrogen plants can use: which rule applies, what it gives by hand, and what later seasons get."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from barrowful.answers.option import Option
from barrowful.catalogue.materials import Material, material
from barrowful.site.records import Site
from barrowful.soil.nitrogen import Lying, first_season, season

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
StuffOf = Callable[..., Material]
DUG, ON_TOP = Lying(dug=True), Lying(dug=False)


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


@pytest.mark.parametrize(
    ("class_", "grams", "on_top"),
    [("wood", 6.0, 0.05), ("straw", 6.0, 0.15), ("leaves", 4.0, 0.15), ("paper", 3.0, 0.15)],
)
def test_woody_stuff_ties_up_what_was_measured(
    stuff_of: StuffOf, class_: str, grams: float, on_top: float
) -> None:
    """Grams for each dry kilogram dug in, whatever its carbon; on top a twentieth of coarse wood's, 15 % of fine."""
    for figures in ({}, {"carbon": "48 %", "nitrogen": "0.45 %"}, {"carbon": "0 %", "nitrogen": "3 %"}):
        stuff = stuff_of(**{"class": class_}, **figures)
        assert 1000 * first_season(stuff, DUG).per_dry == pytest.approx(-grams)
        assert 1000 * first_season(stuff, ON_TOP).per_dry == pytest.approx(-grams * on_top)


@pytest.mark.parametrize(
    "name", ["arborist chip", "ramial chip", "bark mulch", "sawdust", "straw", "autumn leaves", "cardboard"]
)
def test_on_top_it_takes_far_less_than_dug_in(name: str) -> None:
    """Woody and dry stuff ties up a small part on top of what it ties up dug in."""
    dug, on_top = first_season(known(name), DUG).per_dry, first_season(known(name), ON_TOP).per_dry
    assert dug < on_top <= 0
    assert abs(on_top) <= 0.25 * abs(dug)


@pytest.mark.parametrize(("time", "grams"), [("spring", 6.0), ("winter", 6.0), ("autumn", 1.3)])
def test_straw_of_autumn_has_rotted_by_spring(time: str, grams: float) -> None:
    """Straw dug in ties up 6 g of nitrogen a kilogram in spring, and 1.3 g of the next crop's in autumn."""
    assert 1000 * first_season(known("straw"), Lying(True, time=time)).per_dry == pytest.approx(-grams)


@pytest.mark.parametrize(
    ("nitrogen", "grams"),
    [("0.55 %", 6.0), ("1 %", 4.1667), ("1.6 %", 1.1667), ("1.8333 %", 0.0), ("3 %", 0.0)],
)
def test_hay_ties_up_what_its_carbon_lacks(stuff_of: StuffOf, nitrogen: str, grams: float) -> None:
    """Half of 44 % carbon at 24 carbons for each nitrogen, less what it holds; of poor straw what was measured."""
    stuff = stuff_of(**{"class": "straw", "carbon": "44 %", "nitrogen": nitrogen})
    assert 1000 * first_season(stuff, DUG).per_dry == pytest.approx(-grams, abs=1e-3)
    assert 1000 * first_season(stuff, ON_TOP).per_dry == pytest.approx(-0.15 * grams, abs=1e-3)


def test_what_hay_gives_is_what_is_shown_of_it() -> None:
    """The catalogue showed that a tenth of its nitrogen counts, and six times its tie-up was reckoned."""
    hay = known("hay")
    shown = hay["nitrogen"] * hay["available_nitrogen"]
    assert 1000 * first_season(hay, ON_TOP).per_dry == pytest.approx(1000 * shown, abs=0.05)


def test_sawdust_dug_in_lies_in_what_was_measured() -> None:
    """In warm moist soil sawdust ties up 10 to 16 g of nitrogen for each dry kilogram (McKenzie, 1958)."""
    assert 10 <= -1000 * first_season(known("sawdust"), DUG).per_dry <= 16


@pytest.mark.parametrize("dug", [True, False])
def test_what_is_like_sawdust_ties_up_as_it_does(stuff_of: StuffOf, dug: bool) -> None:
    """Fir sawdust, like sawdust, goes by sawdust's rule; wood without the flag by that of chip."""
    lying = Lying(dug)
    sawdust = first_season(known("sawdust"), lying).per_dry
    assert first_season(stuff_of(like="sawdust"), lying).per_dry == sawdust
    figures = {"carbon": "49 %", "nitrogen": "0.11 %"}
    chip = first_season(stuff_of(**{"class": "wood"}, **figures), lying).per_dry
    assert sawdust < chip < 0
    fine = stuff_of(**{"class": "wood"}, **figures, flags=["fine_wood"])
    assert first_season(fine, lying).per_dry == sawdust


@pytest.mark.parametrize(("percent", "grams"), [(1.5, 0.0), (2.5, 8.75), (3.2, 14.875), (3.5, 17.5)])
def test_leaf_dug_in_follows_the_cover_crop_line(stuff_of: StuffOf, percent: float, grams: float) -> None:
    """PNW 636: nothing at 1.5 % nitrogen, 17.5 g for each kilogram dry at 3.5 %, a straight line between."""
    leaf = stuff_of(like="comfrey", nitrogen=f"{percent} %")
    found = first_season(leaf, DUG)
    assert 1000 * found.per_dry == pytest.approx(grams, abs=1e-9)
    assert found.in_range


@pytest.mark.parametrize(("percent", "inside"), [(1.5, True), (3.5, True), (3.51, False), (4.8, False)])
def test_the_range_it_was_published_for(stuff_of: StuffOf, percent: float, inside: bool) -> None:
    """Above 3.5 % the line is used and flagged."""
    assert first_season(stuff_of(like="comfrey", nitrogen=f"{percent} %"), DUG).in_range is inside


@pytest.mark.parametrize(
    ("percent", "grams"), [(1.0, 200 * (1 / 24 - 1 / 40)), (0.5, 200 * (1 / 24 - 1 / 80))]
)
def test_strawy_leaf_dug_in_ties_up_by_its_carbon(stuff_of: StuffOf, percent: float, grams: float) -> None:
    """Half of 40 % carbon rots, and takes one nitrogen for 24 carbons, less what the leaf holds."""
    leaf = stuff_of(like="comfrey", carbon="40 %", nitrogen=f"{percent} %")
    assert 1000 * first_season(leaf, DUG).per_dry == pytest.approx(-grams)


@pytest.mark.parametrize("percent", [1.0, 1.3, 1.49])
def test_leaf_below_the_line_never_gives_more_than_at_its_foot(stuff_of: StuffOf, percent: float) -> None:
    """Where the line starts at nothing, poorer leaf gives nothing, whatever its carbon."""
    for carbon in (5, 20, 45):
        leaf = stuff_of(like="comfrey", carbon=f"{carbon} %", nitrogen=f"{percent} %")
        assert first_season(leaf, DUG).per_dry <= 0


@pytest.mark.parametrize(
    ("stuff", "lying", "percent"),
    [
        ("cattle manure", Lying(True, False, "spring"), 15),
        ("cattle manure", Lying(False, False, "spring"), 10),
        ("cattle manure", Lying(True, True, "autumn"), 5),
        ("cattle manure", Lying(True, False, "autumn"), 10),
        ("poultry litter", Lying(True, False, "spring"), 40),
        ("poultry litter", Lying(False, False, "spring"), 30),
        ("poultry litter", Lying(True, True, "autumn"), 10),
        ("poultry litter", Lying(True, False, "winter"), 30),
        ("poultry litter", Lying(False, True, "winter"), 20),
    ],
)
def test_manure_by_season_soil_and_manner(stuff: str, lying: Lying, percent: float) -> None:
    """RB209 tables 2.3 and 2.6: more in spring than in autumn, more dug in at once, least on sand in autumn."""
    manure = known(stuff)
    assert first_season(manure, lying).per_dry == pytest.approx(manure["nitrogen"] * percent / 100)


def test_leaf_on_top_by_the_trial(stuff_of: StuffOf) -> None:
    """Of 12 t/ha at 2.5 % nitrogen, 13 % or 39 kg/ha were recovered, not half (Riley and others, 2003)."""
    leaf = stuff_of(like="grass clippings", nitrogen="2.5 %")
    plain = Material(
        leaf.name,
        leaf.class_,
        leaf.about,
        {k: v for k, v in leaf.figures.items() if k != "available_nitrogen"},
    )
    assert 12_000 * first_season(plain, ON_TOP).per_dry == pytest.approx(39.0)


@pytest.mark.parametrize("dug", [True, False])
@pytest.mark.parametrize("like", ["arborist chip", "comfrey", "green compost", "straw", "horse manure"])
@pytest.mark.parametrize("share", [-20, 35])
def test_a_stated_figure_stands_over_every_rule(stuff_of: StuffOf, like: str, share: int, dug: bool) -> None:
    """Whoever states a share of the nitrogen gets that share, dug in or on top, negative too."""
    stuff = stuff_of(like=like, nitrogen="2 %", available_nitrogen=f"{share} %")
    found = first_season(stuff, Lying(dug))
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
    """10 kg of compost at 60 % dry matter with 91.8 g of nitrogen give 1.836 g at 2 %."""
    compost = stuff_of(like="green compost", moisture="40 %", nitrogen="1.53 %")
    assert 1000 * 10 * 0.6 * first_season(compost, DUG).per_dry == pytest.approx(1.836)


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
    [
        ("horse manure", [0.12 * 0.85, 0.05 * 0.85, 0.0]),
        ("poultry litter", [0.12 * 0.6, 0.05 * 0.6, 0.0]),
        ("green compost", [0.025, 0.025, 0.025]),
    ],
)
def test_later_seasons(name: str, shares: list[float]) -> None:
    """Manure follows its decay series, 12 and 5 % of what was organic; compost gives 2.5 % in each later season.

    Of litter 15 % is gone in the first season of spring, of poultry litter 40 %.
    """
    stuff = known(name)
    for year, share in zip((2, 3, 4), shares, strict=True):
        assert season(stuff, DUG, year).per_dry == pytest.approx(stuff["nitrogen"] * share)


@pytest.mark.parametrize(
    ("name", "back"), [("arborist chip", 0), ("sawdust", 0), ("autumn leaves", 0), ("straw", 0.5)]
)
def test_half_of_what_straw_tied_up_comes_back(name: str, back: float) -> None:
    """Straw gives back half of it in the second season, wood and leaves nothing, and nobody anything later."""
    stuff = known(name)
    given = [season(stuff, DUG, year).per_dry for year in range(1, 7)]
    assert given[0] < 0
    assert given[1] == pytest.approx(-back * given[0])
    assert given[2:] == [0, 0, 0, 0]


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
    assert sum(season(stuff, Lying(dug), year).per_dry for year in range(1, 21)) <= stuff["nitrogen"] * (
        1 + 1e-9
    )


def test_chip_dug_in_shows_its_drawdown(site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf) -> None:
    """2 cm of chip on 10 m2 hold 30.8 kg dry: 6 g of each are tied up dug in round trees, 0.3 g on top."""
    seller, dry = buy(material="chipped wood"), 0.2 * 280 * 0.55
    for dug, grams in ((True, 6.0), (False, 0.3)):
        lifted = {"lift": ["suits"]}  # dug in among roots chip does not suit
        place = bed({"dress": {"depth": "2 cm", "dug": dug}}, kind="tree", limits=lifted)
        outcome = row_of(site_of([place], [seller]), "dress").outcome
        assert outcome.available_nitrogen == pytest.approx(-dry * grams / 1000)


def test_stuff_without_nitrogen_to_give_cannot_feed(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Chip ties nitrogen up, so it feeds nothing, and the row says why."""
    row = row_of(site_of([bed({"feed": {"nitrogen": "5 g/m2"}})], [buy(material="chipped wood")]), "feed")
    assert not row.feasible
    assert "nitrogen" in row.decision.why_not
