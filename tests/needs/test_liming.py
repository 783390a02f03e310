"""Liming: how much by the table, in how many years, by what, and what is said where it cannot be."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st

from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import whole_site
from barrowful.answers.course import CourseRequest, course
from barrowful.answers.instead import instead
from barrowful.answers.lasting import lasting
from barrowful.answers.ledger import ledger
from barrowful.answers.options import Option, options
from barrowful.answers.orders import decide
from barrowful.answers.sizes import sizes
from barrowful.catalogue.materials import material
from barrowful.measures.problems import Problem
from barrowful.needs.lime import factor_of
from barrowful.site.load import load
from barrowful.site.records import Site, Soil

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
RowOf = Callable[..., Option]
#: Ground limestone of 50 %, a litre of which weighs a kilogram.
HALF = {"class": "lime", "density": "1000 kg/m3", "neutralising_value": "50 %"}
CLAY = {"ph": 5.5, "clay": "30 %", "stones": "0 %"}
STEADY = draws(40, derandomize=True)


@pytest.fixture(scope="session")
def limed(site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf) -> Callable[..., Option]:
    """Give a function that returns the lime row of a bed of 10 m2 by one stuff at 1 EUR/kg."""

    def find(
        stuff: dict[str, str] | None = None,
        soil: dict[str, Any] | None = None,
        place: dict[str, Any] | None = None,
        more: dict[str, Any] | None = None,
        **need: Any,
    ) -> Option:
        described = bed({"lime": {"ph": 6.7, **need}}, **(place or {}))
        words = {"soil": soil or CLAY, "materials": {"stuff": stuff or HALF}, **(more or {})}
        return row_of(site_of([described], [buy(material="stuff", price="1 EUR/kg")], **words), "lime")

    return find


def put_on(row: Option) -> list[tuple[date, float]]:
    """Return days and kg of what is put on."""
    return [(dose.day, dose.material.wet_mass(dose.loose)) for dose in row.decision.doses]


def in_all(row: Option) -> float:
    """Return the kg that are put on."""
    return sum(mass for _, mass in put_on(row))


@pytest.mark.parametrize(
    ("soil", "need", "value", "kilograms"),
    [
        ({"ph": 5.5, "clay": "30 %"}, {}, "50 %", 9.6),
        ({"ph": 5.5, "clay": "30 %", "stones": "20 %"}, {}, "50 %", 7.68),
        ({"ph": 5.5, "clay": "30 %", "stones": "20 %"}, {"depth": "15 cm"}, "50 %", 5.76),
        ({"ph": 5.5, "clay": "30 %", "stones": "20 %"}, {"depth": "15 cm"}, "30 %", 9.6),
        ({"ph": 6.0, "clay": "5 %"}, {}, "50 %", 4.2),
        ({"ph": 6.0, "clay": "14 %"}, {"ph": 6.5}, "50 %", 3.5),
        ({"ph": 6.0, "clay": "14 %"}, {"ph": 6.5, "allowance": "10 %"}, "50 %", 3.85),
    ],
)
def test_lime_by_hand(
    limed: Callable[..., Option], soil: dict[str, Any], need: dict[str, Any], value: str, kilograms: float
) -> None:
    """Factor x rise, by depth, stones and what the stuff neutralises: kg on 10 m2 are t on a hectare."""
    row = limed({**HALF, "neutralising_value": value}, soil, **need)
    assert row.feasible
    assert in_all(row) == pytest.approx(kilograms, rel=1e-9)
    assert row.mass == pytest.approx(kilograms, rel=1e-9)


@pytest.mark.parametrize(
    ("soil", "factor"),
    [
        (Soil(clay=0.099), 0.6),
        (Soil(clay=0.10), 0.7),
        (Soil(clay=0.179), 0.7),
        (Soil(clay=0.18), 0.8),
        (Soil(), 0.7),
        (Soil(clay=0.05, organic_matter=0.10), 0.8),
        (Soil(clay=0.05, organic_matter=0.20), 0.8),
        (Soil(clay=0.30, organic_matter=0.21), 1.6),
    ],
)
def test_texture_by_clay_and_organic_matter(soil: Soil, factor: float) -> None:
    """Sand, loam and clay by clay, a loam where none is known; organic soil and peat by organic matter."""
    assert factor_of(soil) == pytest.approx(factor)


def test_a_bare_label_is_enough(limed: Callable[..., Option]) -> None:
    """Sold by weight, lime needs no density: the class has one, and the mass is the same."""
    assert in_all(limed({"class": "lime", "neutralising_value": "50 %"})) == pytest.approx(9.6, rel=1e-9)


def test_the_most_at_once_splits_it(limed: Callable[..., Option]) -> None:
    """9.6 t/ha of a lime of 50 go on as 7.5 and, a year later, 2.1; a stronger one stops at less."""
    row = limed()
    assert [day for day, _ in put_on(row)] == [date(2027, 3, 1), date(2028, 3, 1)]
    assert [mass for _, mass in put_on(row)] == pytest.approx([7.5, 2.1], rel=1e-9)
    assert row.ready_on == date(2028, 3, 1)
    strong = put_on(limed({**HALF, "neutralising_value": "75 %"}))
    assert [mass for _, mass in strong] == pytest.approx([5.0, 1.4], rel=1e-9)


def test_the_most_at_once_is_silent_below(limed: Callable[..., Option]) -> None:
    """7 t/ha go on at once."""
    assert put_on(limed(soil={"ph": 5.7, "clay": "14 %"})) == [(date(2027, 3, 1), pytest.approx(7.0))]


def test_the_most_at_once_can_be_lifted(limed: Callable[..., Option]) -> None:
    """Lifted, all goes on at once."""
    row = limed(place={"limits": {"lift": ["lime_at_once"]}})
    assert put_on(row) == [(date(2027, 3, 1), pytest.approx(9.6))]


def test_what_the_horizon_does_not_hold_is_told(limed: Callable[..., Option]) -> None:
    """Within a season 7.5 of 9.6 t/ha may go on: the row says how far that gets and by which ceiling."""
    row = limed(more={"horizon": "6 months"})
    assert not row.feasible
    assert row.decision.ceiling == "lime_at_once"
    assert row.decision.met_share == pytest.approx(7.5 / 9.6)
    assert row.decision.possible == pytest.approx(0.0075)
    assert row.why_not.endswith("(lime_at_once): gets to pH 6.4 of 6.7")


@pytest.mark.parametrize(("ash", "masses"), [("wood ash", [0.98] * 5)])
def test_ash_goes_on_year_by_year(limed: Callable[..., Option], ash: str, masses: list[float]) -> None:
    """Ash stops at its yearly most each year, and says how far five doses get: 5 x 27 g of 480."""
    row = limed({"like": ash})
    assert [mass for _, mass in put_on(row)] == pytest.approx(masses)
    assert (row.feasible, row.decision.ceiling) == (False, "yearly_dose")
    assert row.decision.met_share == pytest.approx(5 * 0.098 * 0.28 / 0.48, rel=1e-9)
    assert "gets to pH 5.8 of 6.7" in row.why_not


def test_ash_meets_a_small_rise(limed: Callable[..., Option]) -> None:
    """0.1 on sand takes 30 g of CaO on a square metre: 98 g of ash now, the rest a year later."""
    row = limed({"like": "wood ash"}, {"ph": 6.0, "clay": "5 %"}, ph=6.1)
    assert row.feasible
    assert [mass for _, mass in put_on(row)] == pytest.approx([0.98, 10 * 0.03 / 0.28 - 0.98])


@pytest.mark.parametrize("there", [6.7, 6.8, 7.2])
def test_a_pH_that_is_there_needs_nothing(limed: Callable[..., Option], there: float) -> None:
    """At the target, or less than half a pH over it, nothing is put on and the need is met."""
    row = limed(soil={"ph": there, "clay": "30 %"})
    assert (row.feasible, row.decision.doses, row.cash) == (True, (), 0)


def test_a_fall_is_not_served(limed: Callable[..., Option]) -> None:
    """A pH well over the target is not lowered, and the row says so."""
    row = limed(soil={"ph": 6.5, "clay": "30 %"}, ph=4.5)
    assert not row.feasible
    assert row.why_not.startswith("lime raises a pH and cannot lower one: the soil has 6.5, wanted is 4.5")


def test_ground_at_seven_is_not_limed(limed: Callable[..., Option]) -> None:
    """From pH 7 on nothing that limes goes on, lifted it does."""
    row = limed(soil={"ph": 7.0, "clay": "30 %"}, ph=7.2)
    assert (row.feasible, row.decision.ceiling) == (False, "suits")
    assert limed(soil={"ph": 7.0, "clay": "30 %"}, place={"limits": {"lift": ["suits"]}}, ph=7.2).feasible


def test_compost_limes_by_its_own_value_within_its_ceiling(limed: Callable[..., Option]) -> None:
    """25 mm of green compost bring 9 kg dry and 113 g of CaO on a square metre, of 480, and no more in the years after."""
    row = limed({"like": "green compost"})
    assert (row.feasible, row.decision.ceiling) == (False, "yearly_depth")
    assert row.decision.possible == pytest.approx(0.25)
    assert row.decision.met_share == pytest.approx(0.025 * 600 * 0.6 * 0.0126 / 0.48, rel=1e-9)
    assert row.why_not.endswith("gets to pH 5.7 of 6.7")


def test_what_limes_nothing_says_so_and_limestone_would_serve(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """A site of straw and nameless compost is told of ground limestone, with kg for each bed, split in years or not."""
    described = bed({"lime": {"ph": 6.7}}, count=3)
    answer = options(site_of([described], [buy(), buy("farm", "yellow stalks")], soil=CLAY))
    row, straw = answer.options
    assert row.why_not.startswith("no neutralising value is known of it")
    assert straw.why_not == "lime, ash and compost raise a pH; this is none of them"
    assert instead(answer, straw) == instead(answer, row)
    each = 9.6 * 0.5 / 0.525
    assert instead(answer, row) == (
        f"ground limestone, {each:.3g} kg for each of 3 (bed); add it as a way with your price"
    )


def test_history_after_the_test_counts(limed: Callable[..., Option]) -> None:
    """2 kg of the lime put on since the test come off; before it the test has seen them."""
    entry = {"place": "bed", "material": "stuff", "amount": "2 kg"}
    soil = {**CLAY, "ph": 6.0, "tested": "2025-09-10"}

    def kilograms(day: str, **more: Any) -> float:
        return in_all(limed(soil={**soil, **more}, more={"history": [{**entry, "date": day}]}))

    assert kilograms("2025-11-20") == pytest.approx(5.6 - 2)
    assert kilograms("2025-08-20") == pytest.approx(5.6)
    untested = {**CLAY, "ph": 6.0}
    row = limed(soil=untested, more={"history": [{**entry, "date": "2025-11-20"}]})
    assert in_all(row) == pytest.approx(5.6)


def test_history_counts_against_the_most_at_once(limed: Callable[..., Option]) -> None:
    """5 kg last autumn leave 2.5 now and the rest a year after that autumn's."""
    history = [{"date": "2026-11-20", "place": "bed", "material": "stuff", "amount": "5 kg"}]
    row = limed(more={"history": history})
    assert put_on(row) == [(date(2027, 3, 1), pytest.approx(2.5)), (date(2027, 11, 20), pytest.approx(5.0)),
                           (date(2028, 3, 1), pytest.approx(2.1))]  # fmt: skip


def test_a_pile_lasts_as_far_as_it_goes(site_of: SiteOf, bed: Describe, row_of: RowOf) -> None:
    """4 kg on hand of 5.6 are put on, and what is short is told by weight."""
    way = {"name": "sack", "have": {"material": "stuff", "amount": "4 kg"}}
    described = bed({"lime": {"ph": 6.7}})
    soil = {**CLAY, "ph": 6.0}
    row = row_of(site_of([described], [way], soil=soil, materials={"stuff": HALF}), "lime")
    assert in_all(row) == pytest.approx(4.0)
    assert row.why_not.startswith("brings 4 kg, 1.6 kg short by 2031-03-01")


def test_most_per_application_splits_too(limed: Callable[..., Option]) -> None:
    """0.3 mm of it at a time are 3 kg on 10 m2."""
    row = limed(soil={**CLAY, "ph": 6.0}, most_per_application="0.3 mm")
    assert [mass for _, mass in put_on(row)] == pytest.approx([3.0, 2.6])


@STEADY
@given(
    data=st.data(),
    clay=st.integers(0, 60),
    ph=st.integers(40, 66),
    area=st.floats(0.5, 200.0),
    stones=st.integers(0, 60),
)
def test_more_clay_never_takes_less_and_half_the_depth_takes_half(
    site_of: SiteOf, bed: Describe, buy: Describe, row_of: RowOf, data: st.DataObject,
    clay: int, ph: int, area: float, stones: int,
) -> None:  # fmt: skip
    """Lime grows with clay, goes with depth and area, and is none where the pH is there."""

    def kilograms(clay: int, depth: str, area: float) -> float:
        place = bed({"lime": {"ph": 6.7, "depth": depth}}, area=area, limits={"lift": ["lime_at_once"]})
        soil = {"ph": ph / 10, "clay": f"{clay} %", "stones": f"{stones} %"}
        site = site_of(
            [place], [buy(material="stuff", price="1 EUR/kg")], soil=soil, materials={"stuff": HALF}
        )
        return in_all(row_of(site, "lime"))

    whole = kilograms(clay, "20 cm", area)
    assert kilograms(data.draw(st.integers(clay, 100)), "20 cm", area) >= whole * (1 - 1e-9)
    assert kilograms(clay, "10 cm", area) == pytest.approx(whole / 2, rel=1e-9)
    assert kilograms(clay, "20 cm", 2 * area) == pytest.approx(2 * whole, rel=1e-6)


def test_splitting_a_bed_and_the_order_of_the_file_change_nothing(
    site_of: SiteOf, bed: Describe, buy: Describe
) -> None:
    """One bed of 30 m2, three of 10, and two in either order take the same lime on the same days."""
    need = {"lime": {"ph": 6.7}}
    ways = [buy("grit", "stuff", "1 EUR/kg"), buy("cake", "weak", "0.1 EUR/kg")]
    stuffs = {"stuff": HALF, "weak": {**HALF, "neutralising_value": "25 %"}}

    def answers(*places: dict[str, Any], turned: bool = False) -> set[tuple[str, Any, float, Any]]:
        site = site_of(
            list(places)[:: -1 if turned else 1], ways[:: -1 if turned else 1], soil=CLAY, materials=stuffs
        )
        whole = next(row for row in whole_site(options(site)) if row.title == "cheapest for each need")
        masses: dict[tuple[str, Any], float] = {}
        for dose in whole.together.all_doses:
            masses[dose.way, dose.day] = masses.get((dose.way, dose.day), 0.0) + dose.loose
        return {(*key, round(loose, 9), whole.bill.cash) for key, loose in masses.items()}

    one = answers(bed(need, area=30))
    assert one
    assert answers(bed(need, area=10, count=3)) == one
    assert answers(bed(need, area=10), bed(need, area=20, name="other")) == one
    assert answers(bed(need, area=10), bed(need, area=20, name="other"), turned=True) == one


def test_units_do_not_matter(limed: Callable[..., Option]) -> None:
    """Inches and fractions of density say the same."""
    metric = limed(depth="254 mm")
    customary = limed({**HALF, "density": "1 g/cm3", "neutralising_value": "500 g/kg"}, depth="10 in")
    assert put_on(metric) == [(day, pytest.approx(mass)) for day, mass in put_on(customary)]


def test_ash_feeds_beside(site_of: SiteOf, bed: Describe) -> None:
    """The potassium of ash put on to lime counts to a feed of the same season."""
    way = {"name": "stove", "have": {"material": "wood ash", "amount": "0.9 kg"}}
    described = bed({"lime": {"ph": 6.1}}, {"feed": {"potassium": "3 g/m2"}})
    site = site_of([described], [way], soil={"ph": 6.05, "clay": "5 %"}, horizon="11 months")
    whole = next(row for row in whole_site(options(site)) if row.title == "cheapest for each need")
    [lime] = [dose for dose in whole.together.all_doses if dose.kind == "lime"]
    assert lime.brings["potassium"] == pytest.approx(10 * 0.015 / 0.28 * 0.0375 * 0.9)
    of_feed = [dose for dose in whole.together.all_doses if dose.kind == "feed"]
    assert sum(dose.brings["potassium"] for dose in of_feed) == pytest.approx(0.03 - lime.brings["potassium"])
    assert whole.unmet == ()


def test_lime_is_no_part_of_a_dressing(
    site_of: SiteOf, bed: Describe, buy: Describe, dark: dict[str, Any]
) -> None:
    """The bed gets its centimetre of compost whole, whatever lime is dug in with it."""
    described = bed({"lime": {"ph": 6.7}}, {"dress": {"depth": "1 cm", "dug": True}})
    ways = [buy("grit", "stuff", "1 EUR/kg"), buy()]
    stuffs = {"stuff": HALF, "dark stuff": dark}
    site = site_of([described], ways, soil=CLAY, materials=stuffs)
    whole = next(row for row in whole_site(options(site)) if row.title == "cheapest for each need")
    assert sum(dose.loose for dose in whole.together.all_doses if dose.kind == "dress") == pytest.approx(0.1)
    assert whole.unmet == ()


def test_every_command_takes_it(site_of: SiteOf, bed: Describe, buy: Describe) -> None:
    """Sizes give the kilograms, the ledger its potassium, a course says that no pH is followed."""
    described = bed({"lime": {"ph": 6.7}})
    site = site_of([described], [buy(material="wood ash", price="1 EUR/kg")], soil={"ph": 6.6, "clay": "5 %"})
    [size] = sizes(site)
    assert size.mass == pytest.approx(10 * 0.03 / 0.28)
    chosen = decide(site, "")
    accounts = ledger(site, chosen.answer, chosen.chosen)
    [potassium] = [of for of in accounts if of.zone == "bed" and of.nutrient == "potassium"]
    assert potassium.brought == pytest.approx(10 * 0.03 / 0.28 * 0.0375)
    _, courses = course(site, CourseRequest())
    assert lasting(courses)[-1] == "What lime does to the pH is not followed over time: test it again."


@pytest.mark.parametrize(
    ("line", "met", "because"),
    [
        ({"amount": "9.6 kg"}, 1.0, ""),
        ({"amount": "9.5 kg"}, 9.5 / 9.6, "gets to pH 6.6 of 6.7"),
        ({"amount": "4.8 kg", "date": "2027-10-01"}, 0.5, "gets to pH 6.1 of 6.7"),
        ({}, 1.0, ""),
    ],
)
def test_a_typed_line_is_followed_and_judged(
    site_of: SiteOf, bed: Describe, buy: Describe, line: dict[str, str], met: float, because: str
) -> None:
    """An amount of the grower's is put on as it is, and the row says how far it gets."""
    plan = [{"place": "bed", "need": "lime", "way": "yard", **line}]
    ways = [buy(material="stuff", price="1 EUR/kg")]
    site = site_of([bed({"lime": {"ph": 6.7}})], ways, soil=CLAY, materials={"stuff": HALF}, plan=plan)
    selection = decide(site, "")
    [row] = selection.chosen
    assert row.decision.met_share == pytest.approx(met)
    assert row.why_not == because
    warned = any("lime_at_once" in warning for warning in selection.warnings)
    assert warned is (line.get("amount") in {"9.6 kg", "9.5 kg"})


def test_cautions(site_of: SiteOf, bed: Describe) -> None:
    """Caustic, magnesian and dusty stuff call for theirs; beside manure, or wood dug in, lime is kept from it."""

    def told(name: str, *others: dict[str, Any], beside: str = "green compost", **words: Any) -> set[str]:
        ways = [
            {"name": way, "buy": {"material": stuff, "price": "1 EUR/kg"}}
            for way, stuff in (("yard", name), ("beside", beside))
        ]
        site = site_of([bed({"lime": {"ph": 6.7}}, *others, **words)], ways, soil=CLAY)
        return {one.caution.key for one in cautions_for(options(site))}

    plain = told("ground limestone")
    assert {"lime-dust", "lime-takes-months", "lime-label", "limes-the-ground"} <= plain
    assert not {"lime-caustic", "lime-magnesian", "lime-and-manure", "lime-and-wood"} & plain
    assert "lime-caustic" in told("burnt lime")
    assert "lime-caustic" in told("hydrated lime")
    assert "lime-magnesian" in told("dolomitic limestone")
    apart, dress = {"lime-and-manure", "lime-and-wood"}, {"dress": {"depth": "1 cm", "dug": True}}
    assert not apart & told("ground limestone", dress)
    assert apart & told("ground limestone", dress, beside="horse manure") == {"lime-and-manure"}
    lifted = {"kind": "row", "limits": {"lift": ["suits"]}}  # chip dug in does not suit
    assert apart & told("ground limestone", dress, beside="arborist chip", **lifted) == {"lime-and-wood"}


def caustic(site_of: SiteOf, bed: Describe, stuffs: dict[str, str], **words: Any) -> dict[str, Option]:
    """Return the lime rows of a place of 10 m2 by sellers of some stuff each."""
    sellers = [
        {"name": name, "buy": {"material": stuff, "price": "1 EUR/kg"}} for name, stuff in stuffs.items()
    ]
    answer = options(site_of([bed({"lime": {"ph": 6.2}}, **words)], sellers, soil=CLAY))
    return {row.name: row for row in answer.options}


@pytest.mark.parametrize("stuff", ["burnt lime", "hydrated lime"])
def test_caustic_lime_is_for_beds_that_have_no_other(site_of: SiteOf, bed: Describe, stuff: str) -> None:
    """Round trees, in rows and in pots it goes on nowhere, and on beds not where another lime is among the ways.

    Ash and compost are no other lime. Lifted it goes on everywhere.
    """
    alone, both = {"kiln": stuff}, {"kiln": stuff, "quarry": "ground limestone"}
    for kind in ("tree", "row", "pot"):
        [row] = caustic(site_of, bed, alone, kind=kind).values()
        assert (row.feasible, row.decision.ceiling) == (False, "suits")
        assert row.why_not == "it burns roots and stems: ground limestone does the same without burning"
        lifted = caustic(site_of, bed, both, kind=kind, limits={"lift": ["suits"]})
        assert lifted["kiln"].feasible
    assert caustic(site_of, bed, alone)["kiln"].feasible
    assert caustic(site_of, bed, {**alone, "stove": "wood ash", "yard": "green compost"})["kiln"].feasible
    assert caustic(site_of, bed, both, ways=["kiln"])["kiln"].feasible
    rows = caustic(site_of, bed, both)
    assert (rows["kiln"].feasible, rows["quarry"].feasible) == (False, True)
    assert "without burning" in rows["kiln"].why_not


def test_the_caution_on_caustic_lime_stands_first(site_of: SiteOf, bed: Describe) -> None:
    """Where it is the only lime, its caution comes before that on the dust of compost."""
    ways = [
        {"name": name, "buy": {"material": stuff, "price": "1 EUR/kg"}}
        for name, stuff in (("kiln", "burnt lime"), ("yard", "green compost"))
    ]
    site = site_of([bed({"lime": {"ph": 6.2}}, {"dress": {"depth": "1 cm"}})], ways, soil=CLAY)
    assert cautions_for(options(site))[0].caution.key == "lime-caustic"


@pytest.mark.parametrize(
    ("crop", "need", "stuff", "told"),
    [
        ("potato", {"lime": {"ph": 6.5}}, "ground limestone", True),
        ("potato", {"lime": {"ph": 5.2}}, "ground limestone", False),
        ("potato", {"dress": {"dose": "50 g/m2"}}, "wood ash", True),
        ("potato", {"dress": {"depth": "1 cm"}}, "green compost", False),
        ("cabbage", {"lime": {"ph": 6.5}}, "ground limestone", False),
    ],
)
def test_lime_before_potatoes_is_cautioned_of(
    site_of: SiteOf, bed: Describe, crop: str, need: dict[str, Any], stuff: str, told: bool
) -> None:
    """Where potatoes are fed, lime beyond pH 5.2 and ash call for it; other crops and compost do not."""
    ways = [{"name": "yard", "buy": {"material": stuff, "price": "1 EUR/kg"}}]
    site = site_of([bed(need, {"feed": {"for": crop}})], ways, soil={**CLAY, "ph": 4.9})
    keys = {one.caution.key: one.caution for one in cautions_for(options(site))}
    assert ("lime-potatoes" in keys) is told
    assert "potato" not in keys["limes-the-ground"].text if "limes-the-ground" in keys else True


@pytest.mark.parametrize(
    ("stuff", "ph", "needs", "told"),
    [
        ("mushroom compost", 5.5, [], True),
        ("green compost", 5.0, [], True),
        ("wood ash", 5.0, [], True),
        ("mushroom compost", 5.6, [], False),
        ("mushroom compost", 5.0, [{"lime": {"ph": 6}}], False),
        ("manure compost", 5.0, [], False),
        ("arborist chip", 5.0, [], False),
    ],
)
def test_what_limes_is_kept_off_acid_ground(
    site_of: SiteOf, bed: Describe, stuff: str, ph: float, needs: list[dict[str, Any]], told: bool
) -> None:
    """What limes, much or little, calls for a caution up to pH 5.5, but where lime is asked for."""
    ways = [{"name": "yard", "buy": {"material": stuff, "price": "1 EUR/kg"}}]
    dose = {"dress": {"dose": "50 g/m2"}}
    site = site_of([bed(dose, *needs, kind="row")], ways, soil={**CLAY, "ph": ph})
    answer = options(site)
    assert any(row.decision.counted for row in answer.options)
    keys = {one.caution.key for one in cautions_for(answer)}
    assert ("lime-acid-lovers" in keys) is told
    assert ("limes-the-ground" in keys) is (stuff in {"mushroom compost", "wood ash"})


PROBLEMS = [
    ({"soil": {"clay": "20 %"}}, "lime", "missing-key", 'the soil\'s "ph" is needed'),
    ({"soil": {"ph": 11}}, "soil", "out-of-range", "from 3 to 10"),
    ({"ph": 2}, "lime", "out-of-range", "from 3 to 10"),
    ({"value": "120 %"}, "stuff", "out-of-range", "more than 100 %"),
]


@pytest.mark.parametrize(("change", "where", "code", "words"), PROBLEMS)
def test_bad_input_is_told_where_it_stands(
    problems_of: Callable[..., tuple[Problem, ...]], bed: Describe, buy: Describe,
    change: dict[str, Any], where: str, code: str, words: str,
) -> None:  # fmt: skip
    """A pH that is missing or none, and a label over 100 %, are problems with their line."""
    described = bed({"lime": {"ph": change.get("ph", 6.7)}})
    stuff = {**HALF, "neutralising_value": change.get("value", "50 %")}
    ways = [buy(material="stuff", price="1 EUR/kg")]
    (problem,) = problems_of([described], ways, soil=change.get("soil", CLAY), materials={"stuff": stuff})
    assert problem.code == code
    assert where in problem.message
    assert words in problem.message
    assert problem.line >= 1


@pytest.mark.parametrize(
    ("soil", "ph", "codes"),
    [
        ({"ph": 6.0, "clay": "20 %"}, 6.7, []),
        ({"ph": 6.0, "clay": "20 %"}, 7.2, []),
        ({"ph": 6.0, "clay": "20 %"}, 7.3, ["unusual"]),
        ({"ph": 6.0}, 6.7, ["assumed"]),
        ({"ph": 6.7}, 6.7, ["met-already"]),
    ],
)
def test_what_is_hardly_meant_is_asked_about(
    warnings_of: Callable[..., tuple[Problem, ...]], bed: Describe,
    soil: dict[str, Any], ph: float, codes: list[str],
) -> None:  # fmt: skip
    """Over 7.2, without clay, and where the pH is there already."""
    found = [
        one.code for one in warnings_of([bed({"lime": {"ph": ph}})], [], soil=soil) if "lime" in one.message
    ]
    assert found == codes


@pytest.mark.parametrize(
    ("grown", "there", "ph", "told"),
    [
        ("potato", 4.8, 5.5, True),
        ("potato", 4.8, 5.2, False),
        ("potato", 6.0, 5.5, False),
        ("carrot", 4.8, 5.5, False),
    ],
)
def test_potatoes_get_scab(
    warnings_of: Callable[..., tuple[Problem, ...]], bed: Describe,
    grown: str, there: float, ph: float, told: bool,
) -> None:  # fmt: skip
    """Over pH 5.2, where lime raises it so far for them (University of Minnesota, P241P)."""
    needs = {"lime": {"ph": ph}}, {"feed": {"for": grown}}
    found = warnings_of([bed(*needs)], [], soil={"ph": there, "clay": "20 %"})
    assert any("over pH 5.2 potato is more prone to scab" in one.message for one in found) == told


@pytest.mark.parametrize(
    ("there", "needs", "told"),
    [
        (5.3, [], ""),
        (5.4, [], "blueberry wants pH 5.3 or less, and the soil has 5.4"),
        (4.0, [{"lime": {"ph": 5.3}}], ""),
        (4.0, [{"lime": {"ph": 5.5}}], "blueberry wants pH 5.3 or less: lime harms it"),
    ],
)
def test_blueberries_want_acid_ground(
    warnings_of: Callable[..., tuple[Problem, ...]], bed: Describe,
    there: float, needs: list[dict[str, Any]], told: str,
) -> None:  # fmt: skip
    """They grow best at pH 4.0 to 5.3 (eXtension, Soil pH for blueberry plantings)."""
    place = bed({"feed": {"for": "blueberry"}}, *needs)
    found = [one.message for one in warnings_of([place], [], soil={"ph": there, "clay": "20 %"})]
    wants = [message for message in found if "blueberry wants pH" in message]
    assert len(wants) == bool(told)
    assert all(told in message for message in wants)


def test_ash_and_compost_neutralise_what_is_printed() -> None:
    """70 g of ash are 35 g of calcium carbonate, 10 kg of dry compost 225 g; CaO is 56.08 of 100.09 of it."""
    carbonate = 100.09 / 56.08
    ash, compost = material("wood ash"), material("green compost")
    assert ash is not None
    assert compost is not None
    assert 70 * ash["neutralising_value"] * carbonate == pytest.approx(35, rel=0.01)
    assert 10_000 * compost["neutralising_value"] * carbonate == pytest.approx(225, rel=0.01)


def test_the_default_depth_is_the_table_s() -> None:
    """Without a depth it is 20 cm."""
    text = (
        b"{site: s, currency: EUR, start: 2027-03-01, soil: {ph: 6, clay: 20 %},"
        b" places: [{name: b, kind: bed, shape: {area: 1 m2}, needs: [{lime: {ph: 6.5}}]}]}"
    )
    [need] = load(text, "x.yaml").site.places[0].needs
    assert getattr(need, "depth", None) == pytest.approx(0.2)


@pytest.mark.parametrize(("kind", "dug"), [("bed", True), ("pot", True), ("tree", False), ("row", False)])
def test_lime_is_dug_in_where_no_roots_stand(site_of: SiteOf, bed: Describe, kind: str, dug: bool) -> None:
    """It is left on top round trees and in rows, unless the file says otherwise."""
    for said, wanted in (({}, dug), ({"dug": not dug}, not dug)):
        lime = {"lime": {"ph": 6.5, "depth": "20 cm", **said}}
        [place] = site_of([bed(lime) | {"kind": kind}], [], soil={"ph": 5.8, "clay": "20 %"}).places
        need = place.need("lime")
        assert need is not None
        assert need.dug == wanted


def test_lime_calls_for_no_caution_on_manure(site_of: SiteOf, bed: Describe) -> None:
    """On a farm what is said of manure nitrogen stands on compost, and not on limestone."""
    ways = [
        {"name": "yard", "buy": {"material": "green compost", "price": "20 EUR/m3"}},
        {"name": "stone", "buy": {"material": "ground limestone", "price": "1 EUR/kg"}},
    ]
    needs = [{"lime": {"ph": 6.5, "depth": "20 cm"}}, {"dress": {"depth": "1 cm"}}]
    site = site_of([bed(*needs)], ways, soil={"ph": 5.8, "clay": "20 %"}, limits={"farm": True})
    [called] = [one for one in cautions_for(options(site)) if one.caution.key == "depth-farm"]
    assert called.ways == ("yard",)


def test_lime_with_magnesium_gives_way_to_plain_lime_that_is_bought(site_of: SiteOf, bed: Describe) -> None:
    """RB209: no magnesian lime where magnesium is high. It goes on where it is all there is to buy, or named alone."""
    alone, both = (
        {"dolomite": "dolomitic limestone"},
        {"dolomite": "dolomitic limestone", "q": "ground limestone"},
    )
    rows = caustic(site_of, bed, both)
    assert (rows["dolomite"].feasible, rows["q"].feasible) == (False, True)
    assert rows["dolomite"].why_not.startswith(
        "it brings magnesium, which is for ground that a test finds short"
    )
    assert caustic(site_of, bed, alone)["dolomite"].feasible
    assert caustic(site_of, bed, both, ways=["dolomite"])["dolomite"].feasible
    assert caustic(site_of, bed, both, limits={"lift": ["suits"]})["dolomite"].feasible
    assert caustic(site_of, bed, {**alone, "kiln": "burnt lime"})["dolomite"].feasible
    sack = {"name": "sack", "have": {"material": "ground limestone", "amount": "1 kg"}}
    lorry = {"name": "dolomite", "buy": {"material": "dolomitic limestone", "price": "1 EUR/kg"}}
    answer = options(site_of([bed({"lime": {"ph": 6.2}})], [sack, lorry], soil=CLAY))
    assert {row.name: row.feasible for row in answer.options} == {"sack": False, "dolomite": True}
