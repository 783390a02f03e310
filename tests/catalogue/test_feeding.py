"""Figures of feeding: manures by season, what is tied up, what counts, and what classes say of it."""

from __future__ import annotations

from itertools import product

import pytest

from barrowful.catalogue.classes import classes
from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.rates import rate, rates
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.site.load import load


def stuff(name: str) -> Material:
    """Return a material of the catalogue by its name."""
    known = material(name)
    assert known is not None
    return known


#: What the guide prints for manures in percent of total nitrogen: sand and heavier soil in autumn, the
#: same in winter, and any soil in spring.
MANURES = {
    "litter_top": (5, 10, 10, 10, 10),
    "litter_dug": (5, 10, 10, 10, 15),
    "poultry_top": (10, 25, 20, 25, 30),
    "poultry_dug": (10, 30, 20, 30, 40),
}
SEASONS = [f"{season}_{soil}" for season, soil in product(("autumn", "winter"), ("sand", "heavier"))]


@pytest.mark.parametrize("manure", MANURES)
def test_manure_by_season_is_as_printed(manure: str) -> None:
    """Each cell of the table is a rate; spring knows no soil."""
    values = [rate(f"{manure}_{season}") for season in [*SEASONS, "spring"]]
    assert values == pytest.approx([share / 100 for share in MANURES[manure]])


def test_turned_in_gives_no_less_than_on_top() -> None:
    """What is turned in loses less to the air, whatever the season and the soil."""
    for stuff, season in product(("litter", "poultry"), [*SEASONS, "spring"]):
        assert rate(f"{stuff}_dug_{season}") >= rate(f"{stuff}_top_{season}")


def test_classes_name_rates_that_there_are() -> None:
    """What a class says of tie-up and of phosphorus and potassium is the name of a share."""
    for sort in classes().values():
        named = [sort.available_phosphorus, sort.available_potassium, sort.tie_up, sort.gives_back]
        shares = [rates()[name] for name in named if name]
        assert all(share.dimension == "share" for share in shares)
        assert bool(sort.tie_up) is ("woody" in sort.flags)
    assert [name for name, sort in classes().items() if sort.manure_table] == ["manure"]


def test_finer_ties_up_more() -> None:
    """Sawdust ties up more than chip, straw in spring more than in autumn."""
    for more, less in (("sawdust", "chip"), ("straw", "straw_autumn")):
        finer, coarser = rates()[f"tie_up_{more}"], rates()[f"tie_up_{less}"]
        assert finer.likely > coarser.likely
        assert finer.high > coarser.high


def test_straw_in_autumn_is_what_the_trial_comes_to() -> None:
    """7.5 t/ha tied up 10 kg/ha of nitrogen, 15 t/ha 18 kg."""
    straw = rates()["tie_up_straw_autumn"]
    assert straw.low <= 18 / 15000 <= 10 / 7500 <= straw.high
    assert straw.likely == pytest.approx(10 / 7500, rel=0.05)


FERTILISERS = [name for name in names() if stuff(name).class_ == "fertiliser"]


def test_there_are_fertilisers_enough() -> None:
    """Meals, pellets, ash and salts stand in the catalogue."""
    wanted = {
        *("blood meal", "feather meal", "hoof and horn", "fish meal", "bone meal", "lucerne meal"),
        *("cottonseed meal", "pelleted poultry manure", "seaweed meal", "rock phosphate"),
        *("sulphate of potash", "wood ash"),
    }
    assert wanted <= set(FERTILISERS)


@pytest.mark.parametrize("name", FERTILISERS)
def test_a_fertiliser_has_what_a_dose_by_need_wants(name: str) -> None:
    """Its figures are of the product as sold; what it brings little of it does not claim to bring."""
    meal = stuff(name)
    wanted = ("density", "moisture", "nitrogen", "phosphorus", "potassium", "available_nitrogen")
    assert not meal.lacks(*wanted)
    assert meal["moisture"] == 0.0
    assert max(meal[nutrient] for nutrient in NUTRIENTS) > 0.02
    assert meal.dry_of(3.0) == 3.0
    assert meal.has("bird") or not meal.has("raw")


def test_blood_meal_for_sawdust_by_hand() -> None:
    """39 g of nitrogen tied up by 3 kg of dry sawdust is made good by 39 / (0.115 x 0.66) g of blood meal."""
    tied = 3.0 * rate("tie_up_sawdust")
    blood = stuff("blood meal")
    assert tied == pytest.approx(0.039)
    given = blood["nitrogen"] * blood["available_nitrogen"]
    assert tied / given == pytest.approx(0.039 / (0.115 * 0.66))


def test_pellets_are_as_the_guide_prints() -> None:
    """At 80 % dry matter: 3.7 % of nitrogen, and 0.92 % of phosphorus and 2.24 % of potassium as elements."""
    pellets = stuff("pelleted poultry manure")
    assert [pellets[nutrient] for nutrient in NUTRIENTS] == pytest.approx([0.037, 0.0092, 0.0224])


def test_the_most_in_a_year_is_a_dose() -> None:
    """Ash, seaweed and sulphate of potash have a most in a year, by the square metre."""
    most = {name: stuff(name)["yearly_most"] for name in FERTILISERS if not stuff(name).lacks("yearly_most")}
    assert most == pytest.approx({"wood ash": 0.098, "seaweed meal": 0.1, "sulphate of potash": 0.06})


def test_a_fertiliser_of_the_grower_goes_by_its_label() -> None:
    """What a label says is enough: no moisture is asked for, and oxides are turned into elements."""
    text = (
        "{site: s, currency: EUR, start: 2027-03-01, places: [], materials: {my pellets: {class: fertiliser,"
        " density: 0.65 kg/L, nitrogen: 5 %, phosphate: 3 %, potash: 8 %, available_nitrogen: 60 %}}}"
    )
    pellets = load(text.encode(), "x.yaml").site.materials["my pellets"]
    assert pellets["moisture"] == 0.0
    assert pellets["density"] == pytest.approx(650.0)
    shares = [pellets[nutrient] for nutrient in NUTRIENTS]
    assert shares == pytest.approx([0.05, 0.03 * 0.4364, 0.08 * 0.8301], rel=1e-4)


#: What the guide prints for manures and composts, kg of N, P2O5 and K2O in a tonne as it is, and its dry matter.
GUIDE = {
    "farmyard manure": (6.0, 3.2, 9.4, 0.25),
    "pig manure": (7.0, 6.0, 8.0, 0.25),
    "sheep manure": (7.0, 3.2, 8.0, 0.25),
    "horse manure": (5.0, 5.0, 6.0, 0.25),
    "poultry litter": (28.0, 17.0, 21.0, 0.60),
    "green compost": (7.5, 3.0, 6.8, 0.60),
    "mushroom compost": (6.0, 5.0, 9.0, 0.35),
}


@pytest.mark.parametrize("name", GUIDE)
def test_manures_hold_what_the_guide_prints(name: str) -> None:
    """Oxides as elements, and shares of the dry mass for what is printed by the tonne as it is."""
    nitrogen, phosphate, potash, dry = GUIDE[name]
    printed = [nitrogen, phosphate * 0.4364, potash * 0.8301]
    shares = [stuff(name)[nutrient] for nutrient in NUTRIENTS]
    assert shares == pytest.approx([each / 1000 / dry for each in printed], rel=0.015)
