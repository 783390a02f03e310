"""What suits what need, and raw manure, which waits for a harvest."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from itertools import product
from typing import Any

import pytest

from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.answers.sizes import sizes
from barrowful.catalogue.suits import bars
from barrowful.measures.problems import Problem
from barrowful.needs.harvests import AHEAD
from barrowful.site.records import Place, Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
BedWith = Callable[..., tuple[Site, Option]]
START = date(2027, 3, 1)
ASH = {"like": "wood ash"}
#: A place that shows each bar of what suits what: the need, the kind of place, and words of the stuff.
UNSUITED = {
    "treated-timber": (
        {"cover": {"depth": "5 cm"}},
        "tree",
        {"class": "wood", "flags": ["treated_timber"]},
    ),
    "raw-manure-cover": ({"cover": {"depth": "2 cm"}}, "tree", {"class": "manure"}),
    "wood-where-vegetables-grow": ({"dress": {"depth": "2 cm"}}, "bed", {"class": "wood"}),
    "walnut-where-vegetables-grow": (
        {"cover": {"depth": "5 cm"}},
        "bed",
        {"class": "wood", "flags": ["walnut"]},
    ),
    "sawdust-dug-in": (
        {"raise": {"organic_matter": "2.1 %", "depth": "10 cm"}},
        "tree",
        {"class": "wood", "flags": ["fine_wood"]},
    ),
    "sawdust-dressing": ({"dress": {"depth": "2 cm"}}, "tree", {"class": "wood", "flags": ["fine_wood"]}),
    "bird-manure-by-depth": ({"dress": {"depth": "5 mm"}}, "tree", {"class": "manure", "flags": ["bird"]}),
    "kitchen-stuff": ({"dress": {"depth": "2 cm"}}, "tree", {"class": "kitchen"}),
    "kitchen-cover": ({"cover": {"depth": "1 cm"}}, "tree", {"class": "kitchen"}),
    "paper": ({"dress": {"depth": "2 mm"}}, "tree", {"class": "paper"}),
    "soil-dressing": ({"dress": {"depth": "2 cm"}}, "bed", {"class": "soil"}),
    "woody-feed": ({"feed": {"potassium": "1 g/m2"}}, "tree", {"class": "straw"}),
    "no-lime": ({"lime": {"ph": 6}}, "bed", {"class": "leaves", "neutralising_value": "5 %"}),
    "lime-by-depth": ({"feed": {"potassium": "1 g/m2"}}, "bed", {"class": "lime"}),
    "caustic-lime-at-roots": (
        {"lime": {"ph": 6}},
        "row",
        {"class": "lime", "flags": ["caustic"], "neutralising_value": "70 %"},
    ),
    "fill-of-what-rots": ({"fill": {"depth": "30 cm"}}, "bed", {"class": "leaves"}),
}
#: What does suit: the same stuff for another need, another place or in another manner.
SUITED = [
    ({"dress": {"depth": "1 cm"}}, "tree", {"class": "manure"}),
    ({"cover": {"depth": "5 cm"}}, "bed", {"class": "wood"}),
    ({"cover": {"depth": "5 cm"}}, "tree", {"class": "wood", "flags": ["walnut"]}),
    ({"dress": {"depth": "2 cm"}}, "tree", {"class": "wood"}),
    ({"cover": {"depth": "2 cm"}}, "tree", {"class": "wood", "flags": ["fine_wood"]}),
    ({"feed": {"potassium": "1 g/m2"}}, "tree", {"class": "manure", "flags": ["bird"]}),
    ({"cover": {"depth": "1 cm"}}, "tree", {"class": "kitchen", "flags": ["coffee"]}),
    ({"cover": {"depth": "5 mm"}}, "tree", {"class": "paper"}),
    ({"dress": {"depth": "2 cm"}}, "tree", {"class": "straw"}),
    ({"dress": {"depth": "2 cm"}}, "bed", {"class": "leaves"}),
]


@pytest.mark.parametrize("key", UNSUITED)
def test_what_does_not_suit(bed_with: BedWith, key: str) -> None:
    """Nothing of it is put on, the row gives the reason, and lifted it goes on."""
    need, kind, stuff = UNSUITED[key]
    _, row = bed_with(need, stuff, {"kind": kind, "soil": {"ph": 5.8}})
    decision = row.decision
    assert (row.feasible, decision.ceiling, decision.possible, decision.met_share) == (False, "suits", 0, 0)
    assert row.why_not == next(bar.because for bar in bars() if bar.key == key)
    assert not decision.every_dose
    _, row = bed_with(need, stuff, {"kind": kind, "soil": {"ph": 5.8}, "limits": {"lift": ["suits"]}})
    assert row.feasible
    assert row.loose > 0


def test_every_bar_is_shown() -> None:
    """Each entry of what suits what has its example, but for these, which have tests of their own."""
    others = {"fertiliser-by-depth", "caustic-lime-beside-other", "magnesian-lime-beside-plain"}
    others |= {"straw-dug-in-ahead-of-a-crop", "wood-dug-in-among-roots", "straw-dressed-where-a-crop-is-fed"}
    others |= {
        "raw-manure-where-food-touches-soil",
        "manure-where-roots-fork",
        "rotted-manure-where-roots-fork",
        "manure-from-a-heap-where-roots-fork",
    }
    others |= {"lime-where-acid-is-wanted", "chalk-where-acid-is-wanted"}
    assert {bar.key for bar in bars()} == {*UNSUITED, *others}


@pytest.mark.parametrize("word", ["dress", "raise"])
@pytest.mark.parametrize(("kind", "dug", "fed"), [*product(("tree", "row"), (True, False), (True, False))])
def test_wood_is_dug_in_among_no_roots(bed_with: BedWith, word: str, kind: str, dug: bool, fed: bool) -> None:
    """Among trees and in rows, fed or not, chip is neither dressed nor raised with dug in; left on top it may lie."""
    depth = {"depth": "2 cm"} if word == "dress" else {"organic_matter": "2.1 %", "depth": "10 cm"}
    others = ({"feed": {"nitrogen": "5 g/m2"}},) if fed else ()
    _, row = bed_with({word: {**depth, "dug": dug}}, {"class": "wood"}, {"kind": kind}, others=others)
    assert (row.decision.ceiling == "suits") is dug


@pytest.mark.parametrize(
    ("need", "fed", "suits"),
    [
        ({"dress": {"dose": "500 g/m2", "dug": True}}, True, False),
        ({"dress": {"dose": "500 g/m2", "dug": True}}, False, True),
        ({"dress": {"dose": "500 g/m2"}}, True, True),
        ({"cover": {"depth": "5 cm"}}, True, True),
    ],
)
def test_straw_is_not_dug_in_ahead_of_a_crop(
    bed_with: BedWith, need: dict[str, Any], fed: bool, suits: bool
) -> None:
    """Where a crop is fed straw is no dressing to dig in: it lies on top, or is dug in where none is."""
    others = ({"feed": {"nitrogen": "5 g/m2"}},) if fed else ()
    _, row = bed_with(need, {"class": "straw"}, others=others, horizon="1 year")
    assert (row.feasible, row.decision.ceiling) == (suits, "" if suits else "suits")


@pytest.mark.parametrize(
    ("need", "more", "suits"),
    [
        ({"dress": {"depth": "2 cm"}}, {}, False),
        ({"dress": {"depth": "1 in"}}, {}, False),
        ({"dress": {"depth": "5 cm"}}, {}, True),
        ({"dress": {"depth": "2 cm"}}, {"soil": {"phosphorus_test": "high"}}, True),
        ({"dress": {"depth": "2 cm"}}, {"ways": ["straw"]}, True),
        ({"dress": {"depth": "2 cm"}}, {"kind": "tree"}, True),
        ({"cover": {"depth": "5 cm"}}, {}, True),
    ],
)
def test_straw_dresses_no_fed_bed_where_compost_may(
    site_of: SiteOf, bed: Describe, need: dict[str, Any], more: dict[str, Any], suits: bool
) -> None:
    """Salad beds were dressed with the cheaper straw, which tied up what they were fed. Compost may be 25 mm a year.

    It dresses where compost may not go, is too little or is not on the list, where no crop is fed, and it covers.
    """
    ways = [
        {"name": "straw", "buy": {"material": "yellow stalks", "price": "1 EUR/m3"}},
        {"name": "yard", "buy": {"material": "green compost", "price": "60 EUR/m3"}},
    ]
    for others, fed in (({"feed": {"nitrogen": "5 g/m2"}},), True), ((), False):
        rows = options(site_of([bed(need, *others, **more)], ways, horizon="1 year")).options
        row = next(row for row in rows if (row.need, row.name) == (next(iter(need)), "straw"))
        assert (row.decision.ceiling == "suits") is (fed and not suits)


def test_beds_that_differ_in_a_feed_alone_are_told_apart(site_of: SiteOf, bed: Describe) -> None:
    """Of two beds that want the same dressing straw is dug in on that where nothing is fed, whichever comes first."""
    dress = {"dress": {"dose": "500 g/m2", "dug": True}}
    beds = [bed(dress, {"feed": {"nitrogen": "5 g/m2"}}, name="fed"), bed(dress, name="rested")]
    seller = {"name": "farm", "buy": {"material": "yellow stalks", "price": "10 EUR/m3"}}
    for places in (beds, beds[::-1]):
        row = next(row for row in options(site_of(places, [seller])).options if row.need == "dress")
        assert {of.place.name: of.met for of in row.decision.servings} == {"fed": False, "rested": True}


@pytest.mark.parametrize(
    ("dose", "stuff", "suits"),
    [
        ("250 g/m2", "feather meal", True),
        ("260 g/m2", "feather meal", False),
        ("2 kg/m2", "blood meal", False),
        ("3 kg/m2", "green compost", True),
        ("100 g/m2", "ground limestone", False),
    ],
)
def test_no_fertiliser_makes_up_a_heavy_dressing(
    bed_with: BedWith, dose: str, stuff: str, suits: bool
) -> None:
    """A dressing over 250 g/m2 is of bulky stuff; lime dresses by no dose: the soil's pH says how much."""
    _, row = bed_with({"dress": {"dose": dose}}, {"like": stuff}, {"soil": {"ph": 5.8}})
    assert (row.feasible, row.decision.ceiling) == (suits, "" if suits else "suits")
    lifted = {"soil": {"ph": 5.8}, "limits": {"lift": ["suits"]}}
    assert bed_with({"dress": {"dose": dose}}, {"like": stuff}, lifted)[1].feasible


@pytest.mark.parametrize("need", [{"cover": {"depth": "1 cm"}}, {"fill": {"depth": "10 cm"}}])
def test_fertilisers_are_not_for_depths(bed_with: BedWith, need: dict[str, Any]) -> None:
    """Whatever figures it has, a fertiliser neither covers nor fills."""
    _, row = bed_with(need, {"class": "fertiliser"})
    assert row.decision.ceiling == "suits"


@pytest.mark.parametrize("stuff", ["ground limestone", "feather meal", "sulphate of potash"])
@pytest.mark.parametrize(
    "need",
    [
        {"cover": {"depth": "1 cm"}},
        {"fill": {"depth": "10 cm"}},
        {"raise": {"organic_matter": "3 %", "depth": "15 cm"}},
    ],
)
def test_what_does_not_suit_is_told_before_figures_it_lacks(
    bed_with: BedWith, need: dict[str, Any], stuff: str
) -> None:
    """Limestone and fertilisers of the catalogue say what they are dosed by, not that they decay by no figure."""
    soil = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "ph": 5.8}
    site, row = bed_with(need, {"like": stuff}, soil=soil)
    key = "lime-by-depth" if stuff == "ground limestone" else "fertiliser-by-depth"
    because = next(bar.because for bar in bars() if bar.key == key)
    assert (row.why_not, row.decision.ceiling) == (because, "suits")
    assert dict(sizes(site)[0].why_not) == {"yard": because}


def test_soil_says_what_it_is_for(bed_with: BedWith) -> None:
    """It is no matter of figures that topsoil covers nothing, nor of what rots in it: potting compost may be soil."""
    _, row = bed_with({"cover": {"depth": "5 cm"}}, {"like": "topsoil"})
    assert row.why_not.endswith("counts as soil, which fills and serves no other need")


@pytest.mark.parametrize(("need", "kind", "stuff"), SUITED)
def test_what_does_suit(bed_with: BedWith, need: dict[str, Any], kind: str, stuff: dict[str, Any]) -> None:
    """The same stuff elsewhere, for something else or left on top, is met."""
    _, row = bed_with(need, stuff, {"kind": kind}, horizon="1 year")
    assert (row.feasible, row.decision.ceiling) == (True, "")


@pytest.mark.parametrize(
    ("stuff", "need", "ph", "suits"),
    [
        (ASH, {"feed": {"potassium": "1 g/m2"}}, "6.9", True),
        (ASH, {"feed": {"potassium": "1 g/m2"}}, "7", False),
        ({"like": "rock phosphate"}, {"feed": {"phosphorus": "0.1 g/m2"}}, "5.9", True),
        ({"like": "rock phosphate"}, {"feed": {"phosphorus": "0.1 g/m2"}}, "6.1", False),
    ],
)
def test_what_suits_by_the_soil(
    bed_with: BedWith, stuff: dict[str, Any], need: dict[str, Any], ph: str, suits: bool
) -> None:
    """Ash limes ground that needs no lime from pH 7 on; rock phosphate gives nothing above pH 6."""
    _, row = bed_with(need, stuff, {"soil": {"ph": ph}}, horizon="1 year")
    assert row.feasible is suits
    assert row.decision.ceiling == ("" if suits else "suits")


RAW = [
    ({"dress": {"depth": "5 mm"}}, {}),
    ({"raise": {"organic_matter": "2.3 %", "depth": "15 cm"}}, {}),
    ({"feed": {"nitrogen": "2 g/m2"}}, {}),
    ({"dress": {"depth": "5 mm"}}, {"have": {"material": "thing", "amount": "3 m3"}}),
    (
        {"raise": {"organic_matter": "2.3 %", "depth": "15 cm"}},
        {"have": {"material": "thing", "amount": "3 m3"}},
    ),
    ({"feed": {"nitrogen": "2 g/m2"}}, {"have": {"material": "thing", "amount": "3 m3"}}),
]


@pytest.mark.parametrize(("need", "way"), RAW)
@pytest.mark.parametrize(
    ("words", "opens"),
    [
        ({}, None),
        ({"harvest_from": "05-31"}, None),
        ({"harvest_from": "05-29"}, date(2027, 10, 21)),
        ({"harvest_from": "06-30", "eaten_raw": True}, None),
        ({"harvest_from": "06-28", "eaten_raw": True}, date(2027, 10, 21)),
        ({"harvest_from": "02-01"}, date(2027, 10, 21)),
    ],
)
def test_raw_manure_waits_for_the_harvest(
    site_of: SiteOf,
    bed: Describe,
    row_of: RowOf,
    within_wait: Callable[[Place, date], bool],
    need: dict[str, Any],
    way: dict[str, Any],
    words: dict[str, Any],
    opens: date | None,
) -> None:
    """Manure of 1 March is 90 days before 30 May, 120 before 29 June: nearer, it waits until after the frost.

    No dose of it, of this year or a later one, lies between those days and the first frost of the year. A feed
    then comes too late for its first season, which ends with the frost: it waits on for the spring. Where what
    is eaten touches the soil it is dug in.
    """
    need = {word: {**terms, "dug": True} if words.get("eaten_raw") else terms for word, terms in need.items()}
    if "feed" in need and opens is not None and words["harvest_from"] > "03":
        opens = date(2028, 2, 1)
    ways = [{"name": "yard", **(way or {"buy": {"material": "thing", "price": "40 EUR/m3"}})}]
    site = site_of(
        [bed(need, area=10, **words)],
        ways,
        materials={"thing": {"like": "cattle manure"}},
        climate={"annual_mean": "15 degC", "first_frost": "10-20"},
    )
    row = row_of(site, next(iter(need)))
    late = row.need == "feed" and opens is not None
    assert (row.feasible, row.decision.ceiling) == (not late, "raw_manure" if late else "")
    assert row.decision.every_dose[0].day == (opens or START)
    assert not any(within_wait(site.places[0], dose.day) for dose in row.decision.every_dose)


@pytest.mark.parametrize(
    ("harvest", "opens"),
    [("11-15", date(2027, 5, 6)), ("12-20", date(2027, 5, 6)), ("02-10", date(2027, 10, 26))],
)
def test_raw_manure_waits_for_a_winter_crop(
    site_of: SiteOf,
    bed: Describe,
    buy: Describe,
    row_of: RowOf,
    harvest: str,
    opens: date,
) -> None:
    """Leeks are picked to the end of winter: before, no day of the year was open. Later crops, to autumn."""
    site = site_of(
        [bed({"dress": {"depth": "5 mm"}}, area=10, harvest_from=harvest)],
        [buy(material="cattle manure")],
        climate={"annual_mean": "10 degC", "last_frost": "05-05", "first_frost": "10-25"},
    )
    [dose] = row_of(site, "dress").decision.doses
    assert dose.day == opens


def test_raw_manure_feeds_no_crop_that_is_over(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf
) -> None:
    """Manure of October is washed out before asparagus is cut in April, and later it is raw too near the harvest."""
    site = site_of(
        [bed({"feed": {"nitrogen": "2 g/m2"}}, area=10, harvest_from="04-25")],
        [buy(material="cattle manure")],
        climate={"annual_mean": "10 degC", "last_frost": "05-01", "first_frost": "10-25"},
    )
    decision = row_of(site, "feed").decision
    assert (decision.ceiling, decision.every_dose) == ("raw_manure", ())


def test_a_wait_beyond_the_horizon_is_named(bed_with: BedWith) -> None:
    """Where manure may not go on until all is over, the wait is what stops it, and nothing goes on."""
    dress, words = {"dress": {"depth": "5 mm"}}, {"harvest_from": "04-01"}
    _, row = bed_with(dress, {"like": "cattle manure"}, words, horizon="6 months")
    assert (row.feasible, row.decision.ceiling, row.decision.met_share) == (False, "raw_manure", 0.0)
    assert not row.decision.every_dose


def test_compost_waits_for_no_harvest(bed_with: BedWith) -> None:
    """Only what is raw waits: compost of manure goes on when it comes."""
    stuff = {"class": "compost", "flags": ["manure_based"]}
    words = {"harvest_from": "05-01", "eaten_raw": True}
    _, row = bed_with({"dress": {"depth": "5 mm"}}, stuff, words)
    assert row.decision.doses[0].day == START


def test_the_wait_of_raw_manure_cannot_be_lifted(
    bed: Describe, problems_of: Callable[..., tuple[Problem, ...]]
) -> None:
    """It is no name that can be lifted: asking for it is a problem that names those that can."""
    [problem] = problems_of([bed(limits={"lift": ["raw_manure"]})], [])
    assert "raw_manure" in problem.message
    assert "yearly_depth" in problem.message


def test_raw_manure_is_no_cover_before_a_harvest_even_where_it_suits(
    bed_with: BedWith, within_wait: Callable[[Place, date], bool]
) -> None:
    """With what suits lifted, neither the first layer nor a top-up of manure comes while it has to wait."""
    words = {"harvest_from": "06-01", "limits": {"lift": ["suits"]}}
    climate = {"annual_mean": "15 degC", "first_frost": "10-20"}
    site, row = bed_with({"cover": {"depth": "3 cm"}}, {"like": "cattle manure"}, words, climate=climate)
    assert row.decision.doses[0].day == START
    assert row.decision.servings[0].ceiling == "raw_manure"
    assert not any(within_wait(site.places[0], dose.day) for dose in row.decision.every_dose)


def test_a_cover_of_manure_goes_on_once_it_suits(bed_with: BedWith) -> None:
    """Raw manure is no mulch; with that lifted no depth is known for it, and none binds."""
    cover = {"cover": {"depth": "3 cm"}}
    _, row = bed_with(cover, {"class": "manure"})
    assert (row.feasible, row.decision.ceiling) == (False, "suits")
    assert bed_with(cover, {"class": "manure"}, {"limits": {"lift": ["suits"]}})[1].feasible


@pytest.mark.parametrize(
    ("crop", "told", "waits"),
    [
        ("radish", None, 120),
        ("lettuce", None, 120),
        ("strawberry", None, 120),
        ("radish", False, 90),
        ("kale", None, 90),
        ("kale", True, 120),
        ("sweet corn", None, 90),
    ],
)
def test_what_touches_the_soil_waits_by_its_crop(
    site_of: SiteOf, bed: Describe, crop: str, told: bool | None, waits: int
) -> None:
    """Litter went on 115 days ahead of radishes, as nobody had written that they are eaten raw."""
    litter = [{"name": "litter", "have": {"material": "poultry litter", "amount": "2 m3"}}]
    more: dict[str, Any] = {"harvest_from": "07-05", **({} if told is None else {"eaten_raw": told})}
    if crop == "strawberry":  # else it waits till they are picked too
        more["limits"] = {"lift": [AHEAD]}
    for days in (waits, waits - 1):
        start = date(2027, 7, 5) - timedelta(days=days)
        place = bed({"feed": {"for": crop, "dug": True}}, area=10, **more)
        [row] = options(site_of([place], litter, start=str(start), horizon="1 year")).options
        assert (start in {dose.day for dose in row.decision.every_dose}) is (days == waits)


def acid_rows(
    site_of: SiteOf, bed: Describe, ph: float, need: dict[str, Any], *more: dict[str, Any], **words: Any
) -> dict[str, bool]:
    """Return which of some bought stuffs suit a need of a bed of a pH, by their names."""
    stuffs = ("green compost", "mushroom compost", "bark mulch", "feather meal")
    sellers = [{"name": name, "buy": {"material": name, "price": "1 EUR/kg"}} for name in stuffs]
    rows = options(
        site_of([bed(need, *more, **words)], sellers, soil={"ph": ph, "organic_matter": "4 %"})
    ).options
    return {row.name: row.decision.ceiling != "suits" for row in rows if row.need == next(iter(need))}


COVER: dict[str, Any] = {"cover": {"depth": "2 cm"}}


def test_what_limes_gives_way_on_acid_ground(site_of: SiteOf, bed: Describe) -> None:
    """Compost neutralises: where blueberries may grow it covers and feeds nothing that other bought stuff does."""
    barred = {"green compost": False, "mushroom compost": False}
    assert acid_rows(site_of, bed, 5.0, COVER) == {**barred, "bark mulch": True, "feather meal": False}
    fed = acid_rows(site_of, bed, 5.0, {"feed": {"nitrogen": "5 g/m2"}})
    assert fed == {**barred, "bark mulch": False, "feather meal": True}


@pytest.mark.parametrize(
    ("ph", "more", "words"),
    [
        (5.6, [], {}),
        (5.0, [{"lime": {"ph": 6.2}}], {}),
        (5.0, [{"feed": {"for": "potato"}}], {}),
        (5.0, [], {"limits": {"lift": ["suits"]}}),
        (5.0, [], {"ways": ["green compost", "mushroom compost"]}),
    ],
)
def test_compost_suits_all_other_ground(
    site_of: SiteOf, bed: Describe, ph: float, more: list[dict[str, Any]], words: dict[str, Any]
) -> None:
    """It does where ground is less acid, is limed, is for a crop that is named, or where there is nothing else."""
    assert acid_rows(site_of, bed, ph, COVER, *more, **words)["green compost"]


@pytest.mark.parametrize(
    ("stuff", "suits"),
    [("green compost", False), ("mushroom compost", False), ("bark mulch", True), ("wood ash", False)],
)
def test_what_limes_goes_to_no_crop_that_wants_acid_ground(
    site_of: SiteOf, bed: Describe, stuff: str, suits: bool
) -> None:
    """Blueberries were told of compost with chalk at pH 6.2: they want 5.3 or less, whatever the soil has."""
    names = dict.fromkeys([stuff, "bark mulch"])
    sellers = [{"name": name, "buy": {"material": name, "price": "1 EUR/kg"}} for name in names]
    places = [bed({"cover": {"depth": "3 cm"}}, {"feed": {"for": "blueberry"}}, kind="row")]
    for soil in ({"organic_matter": "4 %"}, {"organic_matter": "4 %", "ph": 6.2}):
        rows = options(site_of(places, sellers, soil=soil)).options
        row = next(row for row in rows if (row.need, row.name) == ("cover", stuff))
        assert (row.decision.ceiling != "suits") is suits


@pytest.mark.parametrize(("ph", "suits"), [(6.9, True), (7.0, False), (7.9, False)])
def test_chalk_goes_on_no_ground_that_is_neutral(
    site_of: SiteOf, bed: Describe, ph: float, suits: bool
) -> None:
    """Mushroom compost is not for neutral, alkaline or chalky soil (Royal Horticultural Society)."""
    seller = [{"name": "shed", "buy": {"material": "mushroom compost", "price": "30 EUR/m3"}}]
    [row] = options(site_of([bed({"dress": {"depth": "1 cm"}})], seller, soil={"ph": ph})).options
    assert row.feasible is suits


@pytest.mark.parametrize(
    ("crop", "dug", "suits"),
    [
        ("strawberry", False, False),
        ("strawberry", True, True),
        ("kale", False, True),
        ("carrot", True, False),
    ],
)
@pytest.mark.parametrize("need", ["dress", "feed"])
def test_raw_manure_among_what_is_eaten_at_the_soil(
    site_of: SiteOf, bed: Describe, need: str, crop: str, dug: bool, suits: bool
) -> None:
    """The wait of 120 days counts from the day it is dug in: none lies among strawberries, nor under carrots."""
    pile = [{"name": "pile", "have": {"material": "horse manure", "amount": "5 m3"}}]
    feed = {"feed": {"for": crop, "dug": dug and need == "feed"}}
    needs = [{"dress": {"depth": "5 mm", "dug": dug}}, feed] if need == "dress" else [feed]
    rows = options(site_of([bed(*needs, harvest_from="08-01")], pile)).options
    row = next(row for row in rows if row.need == need)
    assert (row.decision.ceiling != "suits") is suits


def test_what_feeds_nothing_that_is_wanted_first_is_no_other_stuff(site_of: SiteOf, bed: Describe) -> None:
    """Beside potash alone compost still brings the nitrogen, on ground however acid."""
    sellers = [
        {"name": name, "buy": {"material": name, "price": "1 EUR/kg"}}
        for name in ("green compost", "sulphate of potash")
    ]
    place = bed({"feed": {"nitrogen": "1 g/m2", "potassium": "1 g/m2"}})
    rows = options(site_of([place], sellers, soil={"ph": 5.0, "organic_matter": "4 %"})).options
    assert next(row for row in rows if row.name == "green compost").decision.ceiling != "suits"
