"""Ceilings bind what is put on: each by hand where it binds, where it is silent, and where it is lifted."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from typing import Any

import pytest
from supplied import MEAL

from barrowful.answers.lines import option_lines
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.catalogue.crops import crops
from barrowful.site.checks import INSTEAD_OF
from barrowful.site.records import Site
from barrowful.tables.options import OPTIONS

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
START, AREA = date(2027, 3, 1), 10.0
CABBAGE = {"feed": {"for": "cabbage"}}
HIGH, VERY_HIGH = {"phosphorus_test": "high"}, {"phosphorus_test": "very high"}
FARM = {"farm": True}
#: Compost of which 60 % of 2 % nitrogen count at once: 3.96 kg in each m3.
QUICK = {"nitrogen": "2 %", "available_nitrogen": "60 %"}
#: Ash with 3.75 % potassium, nine tenths of which count, of which 98 g/m2 are the most in a year.
ASH = {"like": "wood ash"}
BedWith = Callable[..., tuple[Site, Option]]


@dataclass(frozen=True, kw_only=True)
class Case:
    """A need of a bed that a ceiling binds, how far it is met, and a need on which the ceiling is silent.

    The stuff is compost with 4.62 kg of nitrogen and 0.825 kg of phosphorus in each m3, 600 kg of which 330 are
    dry, but for what is said of it.
    """

    ceiling: str
    need: dict[str, Any]
    met: float  #: share
    possible: float  #: m3
    silent: dict[str, Any]  #: the need, smaller, or of another manner
    stuff: dict[str, Any] = field(default_factory=dict)
    place: dict[str, Any] = field(default_factory=dict)
    site: dict[str, Any] = field(default_factory=dict)
    others: tuple[dict[str, Any], ...] = ()
    eased: dict[str, Any] = field(default_factory=dict)  #: words of the place where it is silent


#: Phosphorus [kg/m2] that a cabbage crop carries off.
CARRIED_OFF = crops()["cabbage"].figures["phosphorus"].likely
CASES = {
    "an inch of compost a year": Case(
        ceiling="yearly_depth",
        need={"dress": {"depth": "5 cm"}},
        met=0.5,
        possible=0.25,
        silent={"dress": {"depth": "25 mm"}},
    ),
    "four inches once on a new bed": Case(
        ceiling="yearly_depth",
        need={"dress": {"depth": "15 cm"}},
        place={"new": True},
        met=100 / 150,
        possible=1.0,
        silent={"dress": {"depth": "100 mm"}},
    ),
    "manure counts double": Case(
        ceiling="yearly_depth",
        need={"dress": {"depth": "2 cm"}},
        stuff={"class": "manure"},
        met=12.5 / 20,
        possible=0.125,
        silent={"dress": {"depth": "12.5 mm"}},
    ),
    "compost of manure counts double": Case(
        ceiling="yearly_depth",
        need={"dress": {"depth": "2 cm"}},
        stuff={"class": "compost", "flags": ["manure_based"]},
        met=12.5 / 20,
        possible=0.125,
        silent={"dress": {"depth": "12.5 mm"}},
    ),
    "a depth of the grower's own for the site": Case(
        ceiling="yearly_depth",
        need={"dress": {"depth": "2 cm"}},
        site={"limits": {"depth_per_year": "1 cm"}},
        met=0.5,
        possible=0.1,
        silent={"dress": {"depth": "1 cm"}},
    ),
    "a depth of the grower's own for the place": Case(
        ceiling="yearly_depth",
        need={"dress": {"depth": "4 cm"}},
        place={"limits": {"depth_per_year": "3 cm"}},
        site={"limits": {"depth_per_year": "1 cm"}},
        met=0.75,
        possible=0.3,
        silent={"dress": {"depth": "3 cm"}},
    ),
    "a raise is cut to an inch a year": Case(
        ceiling="yearly_depth",
        need={"raise": {"organic_matter": "5 %", "depth": "20 cm", "by": "2027-03-01", "hold": "0 days"}},
        # 25 mm hold 0.025 x 330 x 0.22 kg of carbon a m2, twice that of organic matter, of 0.03 x 260 kg wanted
        met=0.025 * 330 * 0.22 * 2 / (0.03 * 260),
        possible=0.25,
        silent={"raise": {"organic_matter": "3 %", "depth": "20 cm", "by": "2027-03-01", "hold": "0 days"}},
    ),
    "a feed is cut to an inch a year": Case(
        ceiling="yearly_depth",
        need={"feed": {"nitrogen": "12 g/m2"}},
        site={"horizon": "1 year"},
        met=0.25 * 330 * 0.014 * 0.05 / 0.12,
        possible=0.25,
        silent={"feed": {"nitrogen": "5 g/m2"}},
    ),
    "half a fill of a bed is compost": Case(
        ceiling="fill_share",
        need={"fill": {"depth": "30 cm", "settled": False}},
        met=0.5,
        possible=1.5,
        silent={"dress": {"depth": "2 cm"}},
    ),
    "two thirds of a fill of a bed are soil": Case(
        ceiling="fill_share",
        need={"fill": {"depth": "30 cm", "settled": False}},
        stuff={"class": "soil"},
        met=0.67,
        possible=3 * 0.67,
        silent={"fill": {"depth": "30 cm", "mix": {"soil": "100 %"}}},
    ),
    "a third of a pot is compost": Case(
        ceiling="fill_share",
        need={"fill": {"depth": "30 cm", "settled": False}},
        place={"kind": "pot"},
        met=0.33,
        possible=3 * 0.33,
        silent={"dress": {"depth": "2 cm"}},
    ),
    "half a pot is soil": Case(
        ceiling="fill_share",
        need={"fill": {"depth": "30 cm", "settled": False}},
        place={"kind": "pot"},
        stuff={"class": "soil"},
        met=0.5,
        possible=1.5,
        silent={"fill": {"depth": "30 cm", "mix": {"soil": "100 %"}}},
    ),
    "a quarter of a fill is compost of manure": Case(
        ceiling="fill_share",
        need={"fill": {"depth": "30 cm", "settled": False}},
        stuff={"class": "compost", "flags": ["manure_based"]},
        met=0.25,
        possible=0.75,
        silent={"dress": {"depth": "12 mm"}},
    ),
    "phosphorus at a high test, with no crop": Case(
        ceiling="phosphorus",
        need={"dress": {"depth": "2 cm"}},
        place={"soil": HIGH},
        met=0.0,
        possible=0.0,
        silent={"dress": {"depth": "2 cm"}},
        eased={"soil": {"phosphorus_test": "medium"}},
    ),
    "phosphorus at a high test, what cabbage takes": Case(
        ceiling="phosphorus",
        need={"dress": {"depth": "2 cm"}},
        others=(CABBAGE,),
        place={"soil": HIGH},
        met=CARRIED_OFF * AREA / 0.825 / 0.2,
        possible=CARRIED_OFF * AREA / 0.825,
        silent={"dress": {"dose": f"{CARRIED_OFF / 0.825 * 600:.9f} kg/m2"}},
    ),
    "phosphorus at a very high test": Case(
        ceiling="phosphorus",
        need={"dress": {"depth": "2 cm"}},
        others=(CABBAGE,),
        place={"soil": VERY_HIGH},
        met=0.0,
        possible=0.0,
        silent={"dress": {"depth": "2 cm"}},
        eased={"soil": {"phosphorus_test": "medium"}},
    ),
    "nitrogen by the rules of farms": Case(
        ceiling="nitrogen",
        need={"dress": {"dose": "4 kg/m2"}},
        site={"limits": FARM},
        met=25 / (4000 * 0.55 * 0.014),
        possible=0.025 * AREA / 4.62,
        silent={"dress": {"dose": "3.2 kg/m2"}},
    ),
    "nitrogen by a limit of the site": Case(
        ceiling="nitrogen",
        need={"dress": {"dose": "4 kg/m2"}},
        site={"limits": {"nitrogen": "170 kg/ha"}},
        met=17 / (4000 * 0.55 * 0.014),
        possible=0.017 * AREA / 4.62,
        silent={"dress": {"dose": "2.2 kg/m2"}},
    ),
    "nitrogen by a limit of the place": Case(
        ceiling="nitrogen",
        need={"dress": {"dose": "4 kg/m2"}},
        site={"limits": {"nitrogen": "170 kg/ha"}},
        place={"limits": {"nitrogen": "100 kg/ha"}},
        met=10 / (4000 * 0.55 * 0.014),
        possible=0.010 * AREA / 4.62,
        silent={"dress": {"dose": "1.2 kg/m2"}},
    ),
    "so much ash a year": Case(
        ceiling="yearly_dose",
        need={"feed": {"potassium": "5 g/m2"}},
        site={"horizon": "1 year"},
        stuff=ASH,
        met=98 * 0.0375 * 0.9 / 5,
        possible=0.098 * AREA / 300,
        silent={"feed": {"potassium": "3 g/m2"}},
    ),
    "so much straw dug in a year": Case(
        ceiling="yearly_dose",
        need={"dress": {"dose": "1.5 kg/m2", "dug": True}},
        stuff={"class": "straw"},
        met=1 / 1.5,
        possible=1.0 * AREA / 600,
        silent={"dress": {"dose": "1.5 kg/m2", "dug": False}},
    ),
    "a fertiliser no heavier than manure is spread": Case(
        ceiling="yearly_dose",
        need={"feed": {"nitrogen": "12 g/m2"}},
        site={"horizon": "1 year"},
        stuff={**MEAL, "nitrogen": "0.1 %", "phosphorus": "0.1 %"},
        # 12 kg/m2 would do, of which 5 go on
        met=5 / 12,
        possible=5 * AREA / 600,
        silent={"feed": {"nitrogen": "5 g/m2"}},
    ),
    "a fertiliser brings no heap of phosphorus along": Case(
        ceiling="surplus_phosphorus",
        need={"feed": {"nitrogen": "12 g/m2"}},
        site={"horizon": "1 year"},
        stuff={**MEAL, "nitrogen": "4 %", "phosphorus": "10 %"},
        # 300 g/m2 would do, which hold 30 g of phosphorus
        met=25 / 30,
        possible=0.25 * AREA / 600,
        silent={"feed": {"nitrogen": "12 g/m2", "phosphorus": "15 g/m2"}},
    ),
    "bulky stuff brings three fifths of a feed": Case(
        ceiling="bulky_share",
        need={"feed": {"nitrogen": "10 g/m2"}},
        site={"horizon": "1 year", "limits": FARM},
        stuff=QUICK,
        met=0.6,
        possible=0.006 * AREA / 3.96,
        silent={"feed": {"potassium": "1 g/m2"}},
    ),
    "usable nitrogen for carrots": Case(
        ceiling="available_nitrogen",
        need={"feed": {"for": "carrot", "nitrogen": "20 g/m2"}},
        site={"horizon": "1 year", "limits": FARM},
        stuff=MEAL,
        met=0.9,
        possible=0.018 * AREA / 0.1 / 600,
        silent={"feed": {"for": "carrot", "nitrogen": "18 g/m2"}},
    ),
}


def with_lift(words: dict[str, Any], ceiling: str) -> dict[str, Any]:
    """Return the words of a site or a place with a ceiling lifted."""
    return {**words, "limits": {**words.get("limits", {}), "lift": [ceiling]}}


@pytest.mark.parametrize("name", CASES)
def test_where_it_binds(bed_with: BedWith, name: str) -> None:
    """The dose stops at the ceiling; its name, the share met and what is possible stand in the row."""
    case = CASES[name]
    site, row = bed_with(case.need, case.stuff, case.place, case.others, **case.site)
    [serving] = row.decision.servings
    assert (row.feasible, serving.ceiling) == (False, case.ceiling)
    assert serving.share == pytest.approx(case.met, rel=1e-6)
    assert serving.possible == pytest.approx(case.possible, rel=1e-6)
    if row.need != "raise":
        assert row.loose == pytest.approx(case.possible, rel=1e-6)
    lines = OPTIONS.table(option_lines(options(site))).rows
    line = next(line for line in lines if line["need"] == row.need)
    assert line["ceiling"] == case.ceiling
    assert line["met_percent"] == pytest.approx(100 * case.met, rel=1e-6, abs=0.06)
    assert f"({case.ceiling})" in line["remark"]


@pytest.mark.parametrize("name", CASES)
def test_where_it_is_silent(bed_with: BedWith, name: str) -> None:
    """What keeps within it is met, and no ceiling is named."""
    case = CASES[name]
    _, row = bed_with(case.silent, case.stuff, {**case.place, **case.eased}, case.others, **case.site)
    assert (row.feasible, row.decision.ceiling, row.why_not) == (True, "", "")


def limits_itself(words: dict[str, Any], ceiling: str) -> bool:
    """Say whether a limit of the grower's own stands for the ceiling there: that and its lifting contradict."""
    return any(INSTEAD_OF.get(key) == ceiling for key in words.get("limits", {}))


#: The cases with whether it is lifted at the place: not beside a limit of its own, nor further away than that.
LIFTED = [
    (name, at_place)
    for name, case in CASES.items()
    for at_place in (True, False)
    if not limits_itself(case.place, case.ceiling)
    and (at_place or not limits_itself(case.site, case.ceiling))
]


@pytest.mark.parametrize(("name", "at_place"), LIFTED)
def test_where_it_is_lifted(bed_with: BedWith, name: str, at_place: bool) -> None:
    """Lifted by name, at the place or for the whole site, it stops nothing any more."""
    case = CASES[name]
    place = with_lift(case.place, case.ceiling) if at_place else case.place
    site = case.site if at_place else with_lift(case.site, case.ceiling)
    _, row = bed_with(case.need, case.stuff, place, case.others, **site)
    assert row.decision.ceiling != case.ceiling
    assert (row.feasible, row.decision.met_share) == (True, 1.0)
    assert row.loose > case.possible


@pytest.mark.parametrize("stuff", ["autumn leaves", "shredded leaves", "straw"])
def test_a_ceiling_that_lets_nothing_on_is_the_reason(bed_with: BedWith, stuff: str) -> None:
    """Leaves come too late for a raise by March; where the soil's phosphorus bars them at all, it is named."""
    need = {"raise": {"organic_matter": "2.5 %", "depth": "15 cm", "by": "2028-03-01"}}
    _, row = bed_with(need, {"like": stuff}, {"soil": VERY_HIGH})
    [serving] = row.decision.servings
    assert (row.feasible, serving.ceiling) == (False, "phosphorus")
    assert (serving.share, serving.possible, row.decision.every_dose) == (0, 0, ())
    assert row.why_not.startswith("stops at what the soil's phosphorus allows (phosphorus): ")
    _, late = bed_with(need, {"like": stuff}, {"soil": {"phosphorus_test": "medium"}})
    assert (late.feasible, late.decision.ceiling) == (False, "")
    assert late.decision.every_dose


@pytest.mark.parametrize(
    ("put_on", "waits"), [("2026-04-10", True), ("2026-11-20", True), ("2026-01-05", False)]
)
def test_when_there_is_room_again(bed_with: BedWith, put_on: str, waits: bool) -> None:
    """A dressing waits until a dose of the history leaves room for all of it; beyond the horizon it is told."""
    entry = {"date": put_on, "place": "bed", "material": "thing", "amount": "0.25 m3", "dug": True}
    _, row = bed_with({"dress": {"depth": "2 cm"}}, history=[entry])
    again = put_on.replace("2026", "2027") if waits else "2027-03-01"
    assert (row.feasible, str(row.ready_on)) == (True, again)
    _, row = bed_with({"dress": {"depth": "2 cm"}}, history=[entry], horizon="3 weeks")
    assert row.feasible is not waits


@pytest.mark.parametrize(("put_on", "told"), [("2026-04-10", True), ("2026-11-20", False)])
def test_room_again_after_the_season_is_no_help_to_a_feed(bed_with: BedWith, put_on: str, told: bool) -> None:
    """A feed that stops says when there is room again where that is before the frost that ends its season."""
    entry = {"date": put_on, "place": "bed", "material": "green compost", "amount": "0.25 m3", "dug": True}
    frost = {"annual_mean": "12 degC", "first_frost": "10-20"}
    _, row = bed_with({"feed": {"nitrogen": "20 g/m2"}}, QUICK, history=[entry], climate=frost)
    assert not row.feasible
    assert row.decision.ceiling == "yearly_depth"
    assert ("there is room again from 2027-04-10" in row.why_not) is told


@pytest.mark.parametrize(
    ("stuff", "ground", "stops"),
    [
        ("hay", VERY_HIGH, "phosphorus"),
        ("straw", VERY_HIGH, ""),
        ("autumn leaves", VERY_HIGH, ""),
        ("hay", {"phosphorus_test": "medium"}, ""),
    ],
)
def test_hay_is_no_poor_mulch(bed_with: BedWith, stuff: str, ground: dict[str, str], stops: str) -> None:
    """10 cm of hay brought 40 g/m2 of phosphorus to ground that has too much; straw holds a third of that."""
    _, row = bed_with({"cover": {"depth": "5 cm"}}, {"like": stuff}, {"soil": ground}, horizon="1 year")
    assert row.decision.ceiling == stops
