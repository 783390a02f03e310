"""What would serve instead of a feed that a ceiling stops: what it brings along, and what it leaves wanted."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import barrowful
from barrowful.answers.advice import advice
from barrowful.answers.choices import cheapest
from barrowful.answers.instead import _names, lacking_of_feed
from barrowful.answers.lines import option_lines
from barrowful.answers.options import options
from barrowful.catalogue.crops import crops
from barrowful.catalogue.figures import load
from barrowful.catalogue.materials import Material, material
from barrowful.catalogue.suits import why_unsuited
from barrowful.needs.feed_balance import feed_of
from barrowful.needs.meal import wanted_by
from barrowful.needs.registry import NEEDS as KINDS_OF_NEED
from barrowful.site.records import Site
from barrowful.sitefile.keys.place import PLACE_KINDS
from barrowful.soil.nitrogen import usable

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
Told = Callable[..., str]
SANDY = Path(__file__).parent / "sites" / "sandy-beds.yaml"
TAIL = "; add it as a way with your price"


def stuff(name: str) -> Material:
    """Return a material of the catalogue."""
    found = material(name)
    assert found is not None
    return found


@pytest.fixture
def instead(site_of: SiteOf, bed: Describe, buy: Describe) -> Told:
    """Give a function that returns what would serve a bed of 10 m2, whose compost stops at an inch."""

    def told(feed: dict[str, str], **more: Any) -> str:
        site = site_of([bed({"feed": feed}, area=10, **more)], [buy()])
        (line,) = option_lines(options(site))
        assert line.option.decision.ceiling == "yearly_depth"
        return line.instead

    return told


def test_a_meal_that_brings_hardly_anything_else(instead: Told) -> None:
    """12 g of nitrogen: 60 % of the 12 % of feather meal are 72 g in each kg, so 1.67 kg, with 0.2 g/m2 of others."""
    meal = stuff("feather meal")
    kilograms = 0.12 / (meal["nitrogen"] * meal["available_nitrogen"])
    assert instead({"nitrogen": "12 g/m2"}) == f"feather meal, {kilograms:.3g} kg (bed){TAIL}"


def test_pellets_bring_too_much(instead: Told) -> None:
    """Pellets meet a gram of phosphorus as well; all they hold but that gram, and all the potassium, is too much."""
    pellets = stuff("pelleted poultry manure")
    kilograms = 0.12 / (pellets["nitrogen"] * pellets["available_nitrogen"])
    phosphorus, potassium = (100 * kilograms * pellets[name] for name in ("phosphorus", "potassium"))
    assert instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2"}) == (
        f"pelleted poultry manure, {kilograms:.3g} kg (bed), with {phosphorus - 1:.2g} g/m2 phosphorus and"
        f" {potassium:.2g} g/m2 potassium too much{TAIL}"
    )


def test_what_a_crop_carries_off_is_not_too_much(instead: Told) -> None:
    """Cabbage takes phosphorus and potassium with it: so much less of what the pellets bring is too much."""
    pellets, cabbage = stuff("pelleted poultry manure"), crops()["cabbage"]
    assert cabbage.recommended is not None
    grams = 1000 * cabbage.recommended[1] / pellets["nitrogen"] / pellets["available_nitrogen"]
    over = grams * pellets["phosphorus"] - 1000 * cabbage.figures["phosphorus"].likely
    assert f"with {over:.2g} g/m2 phosphorus" in instead({"for": "cabbage"})


def test_what_no_one_thing_meets(instead: Told) -> None:
    """Of 30 g/m2 potassium beside the nitrogen no stuff brings enough: a meal for the nitrogen, and what is left."""
    meal = stuff("feather meal")
    grams = 12 / (meal["nitrogen"] * meal["available_nitrogen"])
    told = instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2", "potassium": "30 g/m2"})
    assert told.startswith("feather meal, ")
    assert told.endswith(f" and 30 g/m2 potassium still wanted{TAIL}")
    lacking = float(told.split("with ")[1].split(" ")[0])
    assert 1 - grams * meal["phosphorus"] <= lacking < 1


def test_amounts_are_for_each_metre_of_many(instead: Told) -> None:
    """Of equal beds the kilograms are for each, and so are the grams for each square metre."""
    one = instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2"})
    assert instead({"nitrogen": "12 g/m2", "phosphorus": "1 g/m2"}, count=4) == one.replace(
        " kg (bed)", " kg for each of 4 (bed)"
    )


@pytest.fixture
def beside(site_of: SiteOf, bed: Describe) -> Told:
    """Give a function that returns what would serve beside a meal of 12 % nitrogen, 60 % of it usable, on 10 m2."""

    def told(feed: dict[str, str], **more: Any) -> str:
        ways = [{"name": "corner shop", "buy": {"material": "feather meal", "price": "2 EUR/kg"}}]
        (line,) = option_lines(options(site_of([bed({"feed": feed}, area=10, **more)], ways)))
        assert not line.option.decision.ceiling
        return line.instead

    return told


def test_potassium_alone_is_brought_beside_the_way(beside: Told) -> None:
    """Feather meal for 6 g/m2 is 83.3 g/m2, with 0.1 % of potassium: of 15 g/m2 the salt brings what lacks."""
    salt, meal = stuff("sulphate of potash"), stuff("feather meal")
    brought = 6 / (0.12 * 0.6) * usable(meal, "potassium")
    kilograms = (15 - brought) / 100 / usable(salt, "potassium")
    told = beside({"nitrogen": "6 g/m2", "potassium": "15 g/m2"})
    assert told == f"sulphate of potash, {kilograms:.3g} kg (bed) beside corner shop{TAIL}"


def test_a_way_that_lacks_two_is_not_filled_up(beside: Told) -> None:
    """Where phosphorus lacks as well, what meets all is named: one salt would not do."""
    told = beside({"nitrogen": "6 g/m2", "phosphorus": "1 g/m2", "potassium": "3 g/m2"})
    assert " beside " not in told
    assert told.startswith("pelleted poultry manure, ")


def test_pellets_are_not_named_where_they_would_have_to_wait(beside: Told) -> None:
    """Raw pellets do not serve a bed with a harvest ahead."""
    feed = {"nitrogen": "6 g/m2", "phosphorus": "1 g/m2", "potassium": "3 g/m2"}
    assert "pelleted" not in beside(feed, harvest_from="06-01", eaten_raw=True)


def test_least_too_much_comes_first_where_nothing_meets_all(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """With feather meal on the site hoof and horn is next: 12 g/m2 of it bring less beside than blood meal does."""
    ways = [buy(), {"name": "sack", "have": {"material": "feather meal", "amount": "1 L"}}]
    feed = {"nitrogen": "12 g/m2", "phosphorus": "1 g/m2", "potassium": "30 g/m2"}
    lines = option_lines(options(site_of([bed({"feed": feed}, area=10)], ways)))
    over = {}
    for name in ("hoof and horn", "blood meal"):
        meal = stuff(name)
        grams = 12 / meal["nitrogen"] / meal["available_nitrogen"]
        over[name] = max(0.0, grams * meal["phosphorus"] - 1) + max(0.0, grams * meal["potassium"] - 30)
    assert over["hoof and horn"] <= over["blood meal"]
    assert {line.instead.split(",")[0] for line in lines} == {"hoof and horn"}


@pytest.mark.parametrize("kind", KINDS_OF_NEED)
@pytest.mark.parametrize("place", PLACE_KINDS)
def test_every_need_has_stuff_to_name_on_every_kind_of_place(kind: str, place: str) -> None:
    """What may be named is in the catalogue, and suits."""
    listed = _names(kind, place)
    assert listed
    for name in listed:
        assert why_unsuited(stuff(name), kind, place, kind == "raise") == ""


def test_what_may_be_named_is_listed_by_kinds_of_place_there_are() -> None:
    """A kind of place is none that is misspelt."""
    assert {key for of_kind in load("instead.toml").values() for key in of_kind} <= {"any", *PLACE_KINDS}


FED = {"nitrogen": "10 g/m2", "potassium": "39 g/m2"}
MEAL = {"name": "meal", "buy": {"material": "feather meal", "price": "3 EUR/kg"}}
POTASH = {"name": "potash", "buy": {"material": "sulphate of potash", "price": "2 EUR/kg"}}


def test_what_a_way_brings_already_is_not_named_again(site_of: SiteOf, bed: Describe) -> None:
    """Meal of the file brings all nitrogen, and its potash too little potassium: no second meal is named."""
    pile = {"name": "pile", "have": {"material": "green compost", "amount": "20 L"}}
    answer = options(site_of([bed({"feed": FED}, area=10)], [MEAL, POTASH, pile], horizon="1 year"))
    assert [line.instead for line in option_lines(answer)] == ["", "", ""]
    told = " ".join(advice(cheapest(answer)))
    assert "Would serve" not in told
    assert "meal by itself leaves 39 g/m2 potassium wanted." in told


def test_straw_that_ties_up_nitrogen_lacks_none_where_none_is_asked_for(
    site_of: SiteOf, bed: Describe
) -> None:
    """Straw for one season brings its phosphorus and ties up nitrogen, which the feed does not ask for."""
    place = bed({"feed": {"phosphorus": "3 g/m2"}}, area=12, limits={"lift": ["suits"]})
    pile = {"name": "stalks", "have": {"material": "straw", "amount": "2 m3"}}
    (line,) = option_lines(options(site_of([place], [pile], horizon="2 years")))
    assert not line.option.feasible
    assert line.instead.startswith("bone meal, ")


def test_of_two_nutrients_the_one_that_lacks_most_is_named(site_of: SiteOf, bed: Describe) -> None:
    """Beside meal potash is named for 22 g/m2 of potassium, of 8 of phosphorus 0.1 are brought and the rest told."""
    fed = {"nitrogen": "10 g/m2", "phosphorus": "8 g/m2", "potassium": "22 g/m2"}
    place = bed({"feed": fed}, area=10, harvest_from="04-01")  # nothing raw
    answer = options(site_of([place], [MEAL], horizon="1 year"))
    (line,) = option_lines(answer)
    assert line.instead.startswith("sulphate of potash, 0.5")
    assert line.instead.endswith(f" beside meal, with 7.9 g/m2 phosphorus still wanted{TAIL}")


@pytest.mark.parametrize(("kind", "wide"), [("tree", True), ("row", False), ("bed", False)])
def test_what_a_tree_would_take_goes_over_its_roots(instead: Told, kind: str, wide: bool) -> None:
    """On the ring alone the meal named for a citrus of six years came to 154 g/m2 of nitrogen."""
    told = instead({"nitrogen": "12 g/m2"}, kind=kind)
    assert told.startswith("feather meal, ")
    assert ("(bed, over the whole root area)" in told) is wide


def test_a_feed_is_sized_by_what_lacks_beside_the_mulch(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Chip on the ground ties nitrogen up: the meal brings what is told to lack, and brought as a way it does."""
    chip = buy("chip", "arborist chip", "9 EUR/m3")
    place = bed({"cover": {"depth": "5 cm"}}, {"feed": {"nitrogen": "4.5 g/m2"}}, area=48)
    lacks = " ".join(advice(cheapest(options(site_of([place], [chip], horizon="1 year")))))
    grams = float(lacks.split("lacks ")[1].split(" g of nitrogen")[0])
    assert grams > 48 * 4.5
    meal = stuff("feather meal")
    kilograms = grams / 1000 / (meal["nitrogen"] * meal["available_nitrogen"])
    told = float(lacks.split("feather meal, ")[1].split(" kg")[0])
    assert told == pytest.approx(kilograms, rel=5e-3)  # both to three figures
    pile = {"name": "meal", "have": {"material": "feather meal", "amount": "20 L"}}
    fed = site_of([place], [chip, pile], horizon="1 year")
    dose = next(dose for dose in cheapest(options(fed)).together.all_doses if dose.way == "meal")
    assert meal.wet_mass(dose.loose) == pytest.approx(told, rel=5e-3)


def test_what_lies_there_is_not_told_as_the_meals_own(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Compost that dresses the bed brings more potassium than is wanted; the meal beside it brings hardly any."""
    place = bed({"dress": {"depth": "1 cm"}}, {"feed": {"nitrogen": "9 g/m2"}})
    compost = buy("yard", "green compost", "40 EUR/m3")
    told = " ".join(advice(cheapest(options(site_of([place], [compost], horizon="1 year")))))
    assert "Would serve: feather meal, " in told
    assert "too much" not in told


def test_what_a_field_lacks_is_told_in_kilograms(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A hectare that wants 12 g/m2 lacks 120 kg; nobody weighs 120000 g."""
    field = bed({"feed": {"nitrogen": "12 g/m2"}}, area=10_000)
    told = " ".join(
        advice(cheapest(options(site_of([field], [buy(material="bark mulch")], horizon="1 year"))))
    )
    assert "(lacks 120 kg of nitrogen)" in told


def test_first_lines_have_amounts_where_there_is_room_for_little() -> None:
    """The compost alone takes four lines: how much of each way is ordered first is told in its place.

    The compost that covers the round bed would be a dressing as well. Straw dresses it, as 0.13 m3 less compost
    covers it then: that goes to the feed with no further delivery, which saves a bag of pellets, 450 EUR for 468.
    """
    told = advice(cheapest(options(barrowful.load(SANDY).site)))
    first = "- 2 m3 of green yard, 0.21 m3 of old straw, 1 load of chip drop, 4 bags of pellets"
    assert told[1] == f"{first}: see the orders."


def test_what_a_mulch_ties_up_is_lacking_too() -> None:
    """Twelve trees want 53.7 g of nitrogen each and lack 58.6: the chip of their mulch ties up the rest."""
    site = barrowful.load(SANDY).site
    whole = cheapest(options(site))
    told = lacking_of_feed(whole, "feed", "young trees")
    assert told == " (lacks 58.6 g of nitrogen each, 4.9 g of it tied up by what goes on)"
    trees = site.place("young trees")
    assert wanted_by(trees, feed_of(trees))["nitrogen"] / trees.count == pytest.approx(
        (58.6 - 4.9) / 1000, abs=5e-5
    )


def first_lines(site: Site) -> list[str]:
    """Return what a screen says first."""
    return list(advice(cheapest(options(site))))


def test_a_feed_that_falls_short_of_one_nutrient_is_put_on_all_the_same(
    site_of: SiteOf, bed: Describe
) -> None:
    """A millimetre of litter brings all nitrogen and half the potassium: it is told, with how."""
    pile = {"name": "litter", "have": {"material": "poultry litter", "amount": "200 L"}}
    fed = {"nitrogen": "7 g/m2", "phosphorus": "1 g/m2", "potassium": "18.6 g/m2"}
    site = site_of([bed({"feed": fed}, area=7.2)], [pile], horizon="1 year")
    head, *_, last = first_lines(site)
    assert head == "No way meets a need whole; what goes part of the way is told below."
    dose = cheapest(options(site), partial=True).together.all_doses[0]
    assert dose.loose / 7.2 < 0.005, "thinner than is spread of what there is too little of"
    share = dose.brings["potassium"] / (7.2 * 0.0186)
    assert last == (
        f"Part of the way: litter, feed bed, {dose.material.told(dose.loose, 0)} (1 barrow) from {dose.day} (100%"
        f' of the nitrogen, 100% of the phosphorus and {share:.0%} of the potassium); "barrowful orders --partial"'
        " has it."
    )


def test_a_dressing_deeper_than_it_may_be_is_told_as_far_as_it_goes(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Compost may be 25 mm deep in a year: of 30 mm that is 83 %, and the bed does not go without."""
    site = site_of([bed({"dress": {"depth": "30 mm"}})], [buy(material="green compost")], horizon="1 year")
    head, *_, last = first_lines(site)
    assert head == "No way meets a need whole; what goes part of the way is told below."
    assert last.startswith("Part of the way: yard, dress bed, ")
    assert last.endswith('(83% of it); "barrowful orders --partial" has it.')


def test_what_meets_most_goes_part_of_the_way(site_of: SiteOf, bed: Describe) -> None:
    """Of two ways that meet no place whole the one that brings most is told, not the cheaper one."""
    little = {"name": "ash", "have": {"material": "sulphate of potash", "amount": "1 kg"}}
    fed = {"nitrogen": "12 g/m2", "phosphorus": "2 g/m2", "potassium": "60 g/m2"}
    pellets = {"name": "pellets", "buy": {"material": "pelleted poultry manure", "price": "2 EUR/kg"}}
    for ways in ([little, pellets], [pellets, little]):
        told = " ".join(first_lines(site_of([bed({"feed": fed})], ways, horizon="1 year")))
        assert "Part of the way: " in told
        assert "pellets, feed bed" in told.split("Part of the way: ")[1]


def test_what_would_serve_is_sized_by_the_season_that_lacks_it(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Chip of October ties up nitrogen of the season that ends in December, which is not fed: 6 g/m2 on 10 m2 of
    meal that gives 60 % of its 12 % are 833 g, and that is what feeds the bed once the meal is a way.
    """
    chipped = bed({"cover": {"depth": "8 cm"}}, {"feed": {"nitrogen": "6 g/m2"}}, area=10)
    more = {
        "start": "2027-10-01",
        "climate": {"annual_mean": "16 degC", "last_frost": "02-20", "first_frost": "12-15"},
        "horizon": "2 years",
    }
    chip = buy("chip", "arborist chip", "5 EUR/m3")
    told = " ".join(first_lines(site_of([chipped], [chip], **more)))
    assert "lacks 60 g of nitrogen)" in told
    assert "Would serve: feather meal, 0.833 kg (bed)" in told
    [fed] = [
        row
        for row in options(site_of([chipped], [chip, MEAL], **more)).options
        if row.feasible and row.need == "feed"
    ]
    first = fed.decision.doses[0]
    assert first.material.wet_mass(first.loose) == pytest.approx(0.06 / 0.12 / 0.6)


def test_a_place_that_is_fed_whole_is_not_told_as_part_of_the_way(site_of: SiteOf, bed: Describe) -> None:
    """Meal feeds the first bed whole, and may not go on the second: nothing goes part of the way."""
    bark = {"name": "bark", "buy": {"material": "bark mulch", "price": "2 EUR/m3"}}
    one = bed({"feed": {"nitrogen": "9 g/m2"}})
    two = bed({"feed": {"nitrogen": "9 g/m2", "potassium": "9 g/m2"}}, name="other", ways=["bark"])
    told = " ".join(first_lines(site_of([one, two], [MEAL, bark], horizon="1 year")))
    assert "Do this: " in told
    assert "Not met: feed, other" in told
    assert "Part of the way" not in told


def test_where_phosphorus_stops_all_what_brings_little_is_named(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """No compost goes on ground that tests very high: chip, leaves or a legume are told of, as advisers do."""
    compost = [buy("yard", "green compost", "40 EUR/m3")]
    rich = {"organic_matter": "2 %", "phosphorus_test": "very high"}
    mulch = "Little of it comes with a mulch of chip, straw or leaves, or with clover or vetch grown there."
    for need, mulched in (
        ({"dress": {"depth": "2 cm"}}, True),
        ({"raise": {"organic_matter": "3 %", "depth": "15 cm"}}, False),
    ):
        told = " ".join(first_lines(site_of([bed(need)], compost, soil=rich)))
        assert (mulch in told) is mulched, "a mulch on top raises nothing"
        assert ("Clover or vetch grown there, cut and left" in told) is not mulched
    fed = site_of([bed({"feed": {"nitrogen": "9 g/m2"}})], compost, soil=rich)
    assert "Little of it" not in " ".join(first_lines(fed)), "feather meal serves"


def test_without_money_nothing_is_named_that_has_to_be_bought(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """Meal is bought; leaves and straw for a mulch may be had for nothing."""
    chip, bark = (buy("crew", of, "0 EUR/m3") for of in ("green compost", "bark mulch"))
    for cash, named in (("0 EUR", False), ("9 EUR", True)):
        fed = site_of([bed({"feed": {"nitrogen": "9 g/m2"}})], [bark], limits={"cash": cash})
        assert ("feather meal" in " ".join(first_lines(fed))) is named
        covered = site_of([bed({"cover": {"depth": "8 cm"}})], [chip], limits={"cash": cash})
        assert "Would serve: straw" in " ".join(first_lines(covered))


def test_what_feeds_the_first_season_alone_is_told_as_that(site_of: SiteOf, bed: Describe) -> None:
    """A pile that is used up in the first of three seasons feeds it whole, and no later one."""
    pile = {"name": "litter", "have": {"material": "poultry litter", "amount": "12 L"}}
    site = site_of(
        [bed({"feed": {"nitrogen": "7 g/m2", "phosphorus": "1 g/m2"}}, area=7.2)], [pile], horizon="3 years"
    )
    assert "(all of it in the first season, less later); " in " ".join(first_lines(site))


def test_what_brings_hardly_anything_is_not_told(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A litre of compost beside chip that ties nitrogen up leaves the ground with none for the crop."""
    pile = {"name": "pile", "have": {"material": "green compost", "amount": "1 L"}}
    place = bed({"cover": {"depth": "5 cm"}}, {"feed": {"nitrogen": "5 g/m2"}}, area=48)
    told = " ".join(
        first_lines(site_of([place], [buy("crew", "arborist chip", "9 EUR/m3"), pile], horizon="1 year"))
    )
    assert "Not met: feed" in told
    assert "Part of the way" not in told
