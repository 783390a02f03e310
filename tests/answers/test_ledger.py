"""The nutrient ledger: nothing appears from nowhere, nothing is counted twice, and donors are told."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.ledger import Account, brought_later, ledger
from barrowful.answers.options import Answer
from barrowful.answers.orders import decide
from barrowful.measures.problems import Problem
from barrowful.site.records import Site
from barrowful.site.ways import Buy, Have
from barrowful.supplies.flow import nutrients_in

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
NUTRIENTS = ("nitrogen", "phosphorus", "potassium")
FROSTS = {"annual_mean": "15 degC", "last_frost": "04-20", "first_frost": "10-25"}


class Books:
    """The accounts of a site, by zone and nutrient."""

    def __init__(self, site: Site, way: str = "") -> None:
        said = decide(site, way)
        self.answer, self.chosen = said.answer, said.chosen
        self.accounts = ledger(site, self.answer, self.chosen)

    def one(self, zone: str, sort: str, nutrient: str = "nitrogen") -> Account:
        """Return the account of a zone."""
        found = [one for one in self.accounts if (one.zone, one.sort, one.nutrient) == (zone, sort, nutrient)]
        assert len(found) == 1
        return found[0]

    def zones(self, nutrient: str) -> list[Account]:
        """Return the accounts of all zones but the whole."""
        return [one for one in self.accounts if one.nutrient == nutrient and one.sort != "site"]


def balanced(books: Books) -> None:
    """Hold the books: what all zones gained is what came in, less what left; moves cancel out."""
    for nutrient in NUTRIENTS:
        zones, whole = books.zones(nutrient), books.one("site", "site", nutrient)
        scale = 1e-9 * max(1.0, whole.brought)
        gained = whole.brought + whole.fixed - whole.harvested - whole.lost
        assert sum(zone.balance for zone in zones) == pytest.approx(gained, rel=1e-9, abs=scale)
        for part in ("brought", "fixed", "harvested", "lost"):
            assert sum(getattr(zone, part) for zone in zones) == pytest.approx(
                getattr(whole, part), abs=scale
            )
        assert sum(zone.moved_in for zone in zones) == pytest.approx(
            sum(zone.moved_out for zone in zones), abs=scale
        )
        assert whole.moved_in == whole.moved_out
        assert all(
            getattr(zone, part) >= 0 for zone in zones for part in ("brought", "fixed", "moved_in", "lost")
        )


@st.composite
def holdings(draw: st.DrawFn) -> tuple[list[dict[str, Any]], list[dict[str, Any]]]:
    """Draw the needs of one or two beds and one to four ways of every sort."""
    needs = {
        "cover": {"depth": f"{draw(st.integers(1, 9))} cm"},
        "dress": {"depth": f"{draw(st.integers(1, 30))} mm", "dug": draw(st.booleans())},
        "raise": {"organic_matter": "2.6 %", "depth": "15 cm", "by": "2030-01-01"},
        "feed": draw(st.sampled_from([{"nitrogen": "3 g/m2"}, {"for": "lettuce"}, {"for": "cabbage"}])),
    }
    places = []
    for index in range(draw(st.integers(1, 2))):
        kinds = draw(st.lists(st.sampled_from(list(needs)), min_size=1, max_size=3, unique=True))
        shape = {"area": f"{draw(st.integers(1, 12))} m2"}
        places.append(
            {
                "name": f"bed {index}",
                "kind": "bed",
                "shape": shape,
                "needs": [{kind: needs[kind]} for kind in kinds],
            }
        )
    share = draw(st.sampled_from(["0 %", "40 %", "90 %"]))
    kinds_of_way = {
        "yard": {"buy": {"material": "dark stuff", "price": "40 EUR/m3"}},
        "crew": {"buy": {"material": "chipped wood", "price": "9 EUR/m3"}},
        "own pile": {"have": {"material": "yellow stalks", "amount": "9 m3", "from_site": True}},
        "given pile": {"have": {"material": "dark stuff", "amount": "1 m3", "per_year": True}},
        "comfrey": {"grow": {"plant": "comfrey", "area": "90 m2", "planted": "2020-04-01"}},
        "hedge": {"grow": {"plant": "tithonia", "row": "90 m", "planted": "2020-04-01"}},
        "vetch": {
            "grow": {"plant": "hairy vetch", "area": "120 m2", "planted": "2026-09-13", "fixed_share": share}
        },
        "heap": {
            "make": {
                "bay": "1 m3",
                "bays": 2,
                "turn_every": "2 weeks",
                "from": [
                    {"material": "chipped wood", "volume": "9 m3"},
                    {"material": "coffee grounds", "weekly": "40 kg"},
                    {"material": "grass clippings", "weekly": "90 L"},
                ],
            }
        },
    }
    names = draw(st.lists(st.sampled_from(list(kinds_of_way)), min_size=1, max_size=4, unique=True))
    return places, [{"name": name, **kinds_of_way[name]} for name in names]


@draws(25)
@given(holdings())
def test_the_books_balance(site_of: SiteOf, drawn: tuple[list[Any], list[Any]]) -> None:
    """For any small site and any choice, the sums over zones are the site's own."""
    site = site_of(*drawn, climate=FROSTS)
    for way in ("", *(one["name"] for one in drawn[1])):
        balanced(Books(site, way))


@draws(25)
@given(holdings())
def test_only_what_is_bought_or_fixed_is_new(site_of: SiteOf, drawn: tuple[list[Any], list[Any]]) -> None:
    """Phosphorus comes with what was bought, given or carried to the heap; none comes from the air."""
    site = site_of(*drawn, climate=FROSTS)
    books = Books(site)
    for nutrient in ("phosphorus", "potassium"):
        assert books.one("site", "site", nutrient).fixed == 0
    outside = {
        way.name for way in site.ways if isinstance(way, Buy) or (isinstance(way, Have) and not way.from_site)
    }
    direct = any(dose.way in outside for row in books.chosen for dose in row.decision.doses)
    heap = any(
        doses and part.way.kind == "make"
        for row in books.chosen
        for part, doses in row.supply.divide(row.decision.doses)
    )
    assert (books.one("site", "site", "phosphorus").brought > 0) == (direct or heap)


def test_bought_compost_by_hand(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """200 L of compost bring 66 kg dry with 1.4 % nitrogen, 0.25 % phosphorus and 0.9 % potassium."""
    books = Books(site_of([bed({"dress": {"depth": "2 cm"}})], [buy()]))
    for nutrient, share in zip(NUTRIENTS, (0.014, 0.0025, 0.009), strict=True):
        one = books.one("bed", "place", nutrient)
        assert (one.brought, one.moved_in, one.fixed) == (pytest.approx(66 * share), 0, 0)
        assert one.balance == pytest.approx(66 * share)


def test_a_crop_takes_its_season(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A bed fed for cabbage gives up one crop's nitrogen, 14 g/m2 over 10 m2; a stated dose takes nothing.

    It gives it up though no way feeds it.
    """
    books = Books(site_of([bed({"feed": {"for": "cabbage"}})], [buy()]))
    assert books.one("bed", "place").harvested == pytest.approx(0.14)
    assert books.one("site", "site").harvested == pytest.approx(0.14)
    plain = Books(site_of([bed({"feed": {"nitrogen": "4 g/m2"}})], [buy()]))
    assert plain.one("bed", "place").harvested == 0


GROWN = {"area": "60 m2", "planted": "2020-04-01"}


@pytest.mark.parametrize(
    "plant", ["comfrey", "tithonia", "borage", "mustard", "rye", "phacelia", "buckwheat", "nettle"]
)
def test_these_move_nitrogen_and_fix_none(
    site_of: SiteOf, bed: Describe, problems_of: Callable[..., tuple[Problem, ...]], plant: str
) -> None:
    """None of these fixes nitrogen: the ledger shows none fixed and a file that claims it is refused."""
    terms = {"plant": plant, "area": "60 m2", "planted": "2026-09-13"}
    places = [bed({"dress": {"dose": "0.5 kg/m2"}}, area=2)]
    site = site_of(places, [{"name": "strip", "grow": terms}], climate=FROSTS)
    books = Books(site, "strip")
    assert all(one.fixed == 0 for one in books.accounts)
    for share in ("1 %", "70 %", "100 %"):
        claimed = problems_of(
            places, [{"name": "strip", "grow": {**terms, "fixed_share": share}}], climate=FROSTS
        )
        assert [one.code for one in claimed] == ["not-a-fixer"]
        assert plant in claimed[0].message


def cut_of(answer: Answer, books: Books, way: str) -> float:
    """Return the nitrogen in what was cut of a way and laid on the places [kg]."""
    stuff = answer.supplies[way].material
    loose = sum(dose.loose for row in books.chosen for dose in row.decision.doses if dose.way == way)
    return loose * stuff["density"] * (1 - stuff["moisture"]) * stuff["nitrogen"]


@pytest.mark.parametrize("share", [0, 25, 70, 100])
def test_a_legume_brings_its_fixed_share_alone(site_of: SiteOf, bed: Describe, share: int) -> None:
    """Of the nitrogen in cut vetch the fixed share is new; the rest left the strip it grew on."""
    terms = {"plant": "hairy vetch", "area": "90 m2", "planted": "2026-09-13", "fixed_share": f"{share} %"}
    site = site_of([bed({"dress": {"dose": "1 kg/m2"}})], [{"name": "strip", "grow": terms}], climate=FROSTS)
    books = Books(site)
    cut = cut_of(books.answer, books, "strip")
    assert cut > 0
    assert books.one("site", "site").fixed == pytest.approx(cut * share / 100)
    assert books.one("site", "site").brought == 0
    assert books.one("strip", "strip").balance == pytest.approx(cut * (share / 100 - 1), abs=1e-12)
    assert books.one("bed", "place").balance == pytest.approx(cut)


def test_a_legume_by_way_of_the_heap_brings_its_fixed_share_too(site_of: SiteOf, bed: Describe) -> None:
    """Vetch that goes through a heap has taken as much from the air as vetch laid on a bed."""
    terms = {"plant": "hairy vetch", "area": "90 m2", "planted": "2026-09-13", "fixed_share": "70 %"}
    ways = [
        {"name": "strip", "grow": terms},
        {
            "name": "heap",
            "make": {
                "bay": "0.8 m3",
                "turn_every": "2 weeks",
                "from": [{"way": "strip"}, {"material": "yellow stalks", "volume": "9 m3"}],
            },
        },
    ]
    site = site_of([bed({"dress": {"depth": "1 cm"}}, ways=["heap"])], ways, climate=FROSTS)
    books = Books(site)
    strip = books.one("strip", "strip")
    assert strip.moved_out > 0
    assert books.one("site", "site").fixed == pytest.approx(0.7 * strip.moved_out)


def test_a_strip_that_gives_more_than_it_gets_is_told(site_of: SiteOf, bed: Describe) -> None:
    """A comfrey strip cut for a bed runs down in all three, by what the bed gained, and that is said."""
    site = site_of(
        [bed({"dress": {"dose": "1 kg/m2"}})], [{"name": "strip", "grow": {"plant": "comfrey", **GROWN}}]
    )
    books = Books(site)
    for nutrient in NUTRIENTS:
        strip, place = books.one("strip", "strip", nutrient), books.one("bed", "place", nutrient)
        assert strip.balance == pytest.approx(-place.balance)
        assert strip.balance < 0
        assert "runs down" in strip.remark
        (each,) = re.findall(r", ([\d.]+) g/m2:", strip.remark)
        assert float(each) == pytest.approx(-1000 * strip.balance / 60, abs=0.051)
        assert books.one("site", "site", nutrient).balance == pytest.approx(0, abs=1e-12)


def test_a_strip_that_fixes_all_it_gives_does_not_run_down_in_nitrogen(
    site_of: SiteOf, bed: Describe
) -> None:
    """A legume that draws all its nitrogen from the air runs down in phosphorus and potassium alone."""
    terms = {"plant": "hairy vetch", "area": "90 m2", "planted": "2026-09-13", "fixed_share": "100 %"}
    site = site_of([bed({"dress": {"dose": "1 kg/m2"}})], [{"name": "strip", "grow": terms}], climate=FROSTS)
    books = Books(site)
    assert books.one("strip", "strip").remark == ""
    assert "runs down" in books.one("strip", "strip", "phosphorus").remark
    assert "runs down" in books.one("strip", "strip", "potassium").remark


@pytest.mark.parametrize("name", ["bed", "site", "outside", "air", "lost", "crop", "way: bed", "place: bed"])
def test_a_place_and_a_way_of_one_name_keep_their_own_accounts(
    site_of: SiteOf, bed: Describe, name: str
) -> None:
    """A strip that bears a place's name, or a word of the books, mixes nothing up."""
    strip = {"name": name, "grow": {"plant": "comfrey", **GROWN}}
    books = Books(site_of([bed({"dress": {"dose": "1 kg/m2"}}, name=name)], [strip]))
    balanced(books)
    assert books.one(name, "strip").moved_out == pytest.approx(books.one(name, "place").moved_in)
    assert books.one(name, "strip").moved_in == 0
    assert books.one(name, "place").moved_out == 0


def test_stock_grown_here_is_moved_and_stock_from_elsewhere_is_brought(
    site_of: SiteOf, bed: Describe
) -> None:
    """Leaves of the own trees are moved within the site; leaves of the lane are new to it."""
    for own in (True, False):
        pile = {"name": "pile", "have": {"material": "dark stuff", "amount": "1 m3", "from_site": own}}
        books = Books(site_of([bed({"dress": {"depth": "2 cm"}})], [pile]))
        whole = books.one("site", "site")
        assert (whole.brought > 0, whole.moved_in > 0) == (not own, own)
        balanced(books)


def test_a_heap_loses_nitrogen_alone(site_of: SiteOf, bed: Describe) -> None:
    """What a heap loses is nitrogen; its phosphorus and potassium go on or stay in the bay."""
    heap = {
        "name": "heap",
        "make": {
            "bay": "1 m3",
            "turn_every": "2 weeks",
            "from": [
                {"material": "chipped wood", "volume": "9 m3"},
                {"material": "coffee grounds", "weekly": "40 kg"},
                {"material": "grass clippings", "weekly": "90 L"},
            ],
        },
    }
    books = Books(site_of([bed({"dress": {"depth": "2 cm"}})], [heap]))
    nitrogen = books.one("heap", "heap")
    assert 0 < nitrogen.lost < nitrogen.brought + nitrogen.moved_in
    for nutrient in ("phosphorus", "potassium"):
        one = books.one("heap", "heap", nutrient)
        assert one.lost == 0
        assert one.balance >= -1e-9
    assert nitrogen.balance >= -1e-9


def test_cut_grass_is_moved_and_grounds_are_brought(site_of: SiteOf, bed: Describe) -> None:
    """Grass of the own lawn is no import; coffee grounds and chip are; a statement stands over both."""
    parts = [
        {"material": "chipped wood", "volume": "9 m3"},
        {"material": "coffee grounds", "weekly": "40 kg"},
        {"material": "grass clippings", "weekly": "90 L"},
    ]
    needs = [{"dress": {"depth": "2 cm"}}]

    def books(*mine: bool) -> Books:
        stated = (
            [{**part, "from_site": own} for part, own in zip(parts, mine, strict=True)] if mine else parts
        )
        heap = {"name": "heap", "make": {"bay": "1 m3", "turn_every": "2 weeks", "from": stated}}
        return Books(site_of([bed(*needs)], [heap]))

    plain, all_own, all_bought = books(), books(True, True, True), books(False, False, False)
    inside = plain.one("heap", "heap").moved_in
    assert inside > 0
    assert plain.one("heap", "heap").brought > 0
    assert all_own.one("site", "site").brought == 0
    assert all_bought.one("heap", "heap").moved_in == 0
    whole = all_bought.one("heap", "heap").brought
    assert plain.one("heap", "heap").brought + inside == pytest.approx(whole)


def test_phosphorus_that_builds_up_is_told(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """A place that gains phosphorus is told so: 2.2417 g/m2 of phosphate lift a soil test by 1 ppm."""
    books = Books(site_of([bed({"dress": {"depth": "2 cm"}})], [buy()]))
    one = books.one("bed", "place", "phosphorus")
    gained = 1000 * one.balance / 10 / 0.4364
    assert f"{gained / 2.2417:.0f} ppm" in one.remark
    high = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "phosphorus_test": "high"}
    written = [{"place": "bed", "need": "dress", "way": "yard", "amount": "200 L"}]
    warned = Books(site_of([bed({"dress": {"depth": "2 cm"}})], [buy()], soil=high, plan=written))
    assert "high already" in warned.one("bed", "place", "phosphorus").remark


def test_what_builds_up_counts_every_season(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Three seasons bring their phosphorus, though the table has but the first."""
    meal = {"name": "meal", "buy": {"material": "fish meal", "price": "1 EUR/kg"}}
    books = Books(site_of([bed({"feed": {"nitrogen": "9 g/m2"}})], [meal], horizon="3 years"))
    one = books.one("bed", "place", "phosphorus")
    brought = 1000 * sum(
        nutrients_in(dose.material, dose.loose)[1] for row in books.chosen for dose in row.decision.every_dose
    )
    gained = brought / 10 / 0.4364
    assert brought > 2.5 * 1000 * one.brought
    assert f"{gained / 2.2417:.0f} ppm by 2030-" in one.remark
    assert brought_later(books.chosen)["phosphorus"] == pytest.approx(brought / 1000 - one.brought)
    lines = [{"place": "bed", "need": "feed", "way": "meal", "amount": "9 kg"}]
    cropped = Books(site_of([bed({"feed": {"for": "lettuce"}})], [meal], horizon="3 years", plan=lines))
    one = cropped.one("bed", "place", "phosphorus")
    assert one.harvested > 0
    left = 1000 * (one.brought - 3 * one.harvested) / 10 / 0.4364
    assert f"{left / 2.2417:.0f} ppm" in one.remark


def test_what_fills_a_bed_is_its_ground(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Phosphorus of the fill builds up nothing: there is no ground yet that it would be added to."""
    limits = {"lift": ["fill_share"]}
    fill = {"fill": {"volume": "1 m3"}}
    only = Books(site_of([bed(fill, limits=limits)], [buy()]))
    assert only.one("bed", "place", "phosphorus").balance > 0
    assert only.one("bed", "place", "phosphorus").remark == ""


def test_a_harvest_that_is_not_known_is_not_told_as_nothing(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """No source has the phosphorus of hungry vegetables: its cell is empty, and what builds up is less of it."""
    dressed = {"dress": {"depth": "2 cm"}}
    books = Books(site_of([bed({"feed": {"for": "hungry vegetables"}}, dressed)], [buy()]))
    assert books.one("bed", "place").harvested == pytest.approx(0.146)
    for nutrient in ("phosphorus", "potassium"):
        assert books.one("bed", "place", nutrient).harvested is None
        assert books.one("site", "site", nutrient).harvested is None
    built = books.one("bed", "place", "phosphorus").remark
    assert built.startswith("builds up: a soil test rises by about")
    assert built.endswith(", less what is harvested, which is not known")
    assert (
        books.one("bed", "place", "potassium").remark
        == "what is harvested is not known, and none is reckoned"
    )
    bare = Books(site_of([bed(dressed)], [buy()])).one("bed", "place", "phosphorus")
    assert bare.harvested == 0
    assert bare.remark.endswith(", less any harvest")
    fed = Books(site_of([bed({"feed": {"for": "cabbage"}}, dressed)], [buy()], horizon="1 year"))
    assert fed.one("bed", "place", "phosphorus").harvested
    assert "less" not in fed.one("bed", "place", "phosphorus").remark


def test_what_a_tree_bears_is_not_known(site_of: SiteOf, buy: Describe) -> None:
    """What a tree is fed is advice: what its fruit takes is empty, of nitrogen too."""
    fed = {"feed": {"for": "fruit tree", "age": "4 years"}}
    needs = [fed, {"dress": {"depth": "2 cm"}}]
    tree = {"name": "tree", "kind": "tree", "shape": {"ring": {"radius": "1 m"}}, "needs": needs}
    books = Books(site_of([tree], [buy()]))
    assert {books.one("tree", "place", nutrient).harvested for nutrient in NUTRIENTS} == {None}
