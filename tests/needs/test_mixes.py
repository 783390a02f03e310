"""Fills of several ways: shares by hand and against a linear programme of scipy, volumes that add, and bad shares."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable
from itertools import combinations
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.answers.choices import cheapest, your_plan
from barrowful.answers.lines import option_lines
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.answers.plan_warnings import plan_warnings
from barrowful.measures.problems import Problem
from barrowful.site.records import Site

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
STUFF = {"compost": "green compost", "soil": "topsoil", "sand": "sand", "rich": "manure compost"}
FRAME = {"fill": {"volume": "1 m3"}}


def seller(name: str, price: float, material: str = "", **more: Any) -> dict[str, Any]:
    """Return a seller of a stuff by the cubic metre."""
    return {"name": name, "buy": {"material": material or STUFF[name], "price": f"{price} EUR/m3", **more}}


def rows(site: Site) -> dict[str, Option]:
    """Return the options of a site by the names of their ways."""
    return {row.name: row for row in options(site).options}


def shares(row: Option) -> dict[str, float]:
    """Return the share of what is put on that each way brings."""
    loose: dict[str, float] = defaultdict(float)
    for dose in row.decision.doses:
        loose[dose.way] += dose.loose
    return {name: of / sum(loose.values()) for name, of in loose.items()}


def test_a_framed_bed_by_hand(site_of: SiteOf, bed: Describe) -> None:
    """Compost at 40 and topsoil at 20: a third of compost, the rest topsoil, 1.15 m3 for each m3 to fill."""
    site = site_of([bed(FRAME)], [seller("compost", 40), seller("soil", 20)])
    row = rows(site)["compost + soil"]
    assert row.feasible
    assert shares(row) == pytest.approx({"compost": 0.33, "soil": 0.67})
    assert row.loose == pytest.approx(1.15)
    assert float(row.cash) == pytest.approx(1.15 * (0.33 * 40 + 0.67 * 20), abs=0.011)
    assert [of.feasible for of in rows(site).values()] == [False, False, True]


def test_cheap_compost_is_half_at_most(site_of: SiteOf, bed: Describe) -> None:
    """Where compost costs less than topsoil it is half of the mix, and no more."""
    row = rows(site_of([bed(FRAME)], [seller("compost", 10), seller("soil", 20)]))["compost + soil"]
    assert shares(row) == pytest.approx({"compost": 0.5, "soil": 0.5})


def test_a_pot_takes_sand_too(site_of: SiteOf, bed: Describe) -> None:
    """A pot is a fifth to a third compost, a third to a half topsoil, and sand: with dear sand 33, 50 and 17."""
    pot = bed({"fill": {"volume": "100 L"}}, kind="pot", count=3)
    ways = [seller("compost", 40), seller("soil", 20), seller("sand", 90)]
    row = rows(site_of([pot], ways))["compost + soil + sand"]
    assert row.feasible
    assert shares(row) == pytest.approx({"compost": 0.33, "soil": 0.5, "sand": 0.17})
    assert row.loose == pytest.approx(3 * 0.1 * 1.15)
    assert not any(len(name.split(" + ")) == 2 for name in rows(site_of([pot], ways)))


def test_the_growers_own_mix(site_of: SiteOf, bed: Describe) -> None:
    """The shares asked for stand over good practice, but for the most compost there may be."""
    ways = [seller("compost", 10), seller("soil", 20)]

    def fill(compost: str, soil: str) -> dict[str, Option]:
        mix = {"compost": compost, "soil": soil}
        return rows(site_of([bed({"fill": {"volume": "1 m3", "mix": mix}})], ways))

    assert shares(fill("20..30 %", "70..80 %")["compost + soil"]) == pytest.approx(
        {"compost": 0.3, "soil": 0.7}
    )
    assert shares(fill("40 %", "60 %")["compost + soil"]) == pytest.approx({"compost": 0.4, "soil": 0.6})
    assert shares(fill("30..90 %", "10..70 %")["compost + soil"]) == pytest.approx(
        {"compost": 0.5, "soil": 0.5}
    )
    assert "compost + soil" not in fill("60..90 %", "10..40 %")


def test_compost_of_manure_is_a_quarter_at_most(site_of: SiteOf, bed: Describe) -> None:
    """What is made of manure is a quarter of a fill at most, so other compost makes up the third."""
    found = rows(site_of([bed(FRAME)], [seller("rich", 5), seller("soil", 20), seller("compost", 60)]))
    assert "rich + soil" not in found
    assert shares(found["rich + soil + compost"]) == pytest.approx(
        {"rich": 0.25, "soil": 0.67, "compost": 0.08}
    )


def test_a_stock_goes_first(site_of: SiteOf, bed: Describe) -> None:
    """Of 0.2 m3 of compost on hand all goes in, and the rest of the third is bought."""
    pile = {"name": "pile", "have": {"material": "green compost", "amount": "0.2 m3"}}
    ways = [seller("compost", 40), seller("soil", 20), pile]
    whole = cheapest(options(site_of([bed(FRAME)], ways)))
    assert whole.unmet == ()
    loose: dict[str, float] = defaultdict(float)
    for dose in whole.together.all_doses:
        loose[dose.way] += dose.loose
    assert loose == pytest.approx({"pile": 0.2, "compost": 0.33 * 1.15 - 0.2, "soil": 0.67 * 1.15})


def test_what_is_not_settled_is_not_made_up(site_of: SiteOf, bed: Describe) -> None:
    """A volume as spread is brought as it is."""
    fill = {"fill": {"volume": "1 m3", "settled": "false"}}
    row = rows(site_of([bed(fill)], [seller("compost", 40), seller("soil", 20)]))["compost + soil"]
    assert row.loose == pytest.approx(1.0)


def salty(ways: dict[str, str | None]) -> dict[str, dict[str, str]]:
    """Return stuffs with the salt of each, in dS/m of its saturated extract, where it is told."""
    salt = {name: {} if told is None else {"conductivity": f"{told} dS/m"} for name, told in ways.items()}
    return {f"my {name}": {"like": STUFF[name], **salt[name]} for name in ways}


def test_salt_is_told_where_it_is_known(site_of: SiteOf, bed: Describe) -> None:
    """33 % of compost with 8 dS/m in topsoil of 0.8: 2.64 and 0.536, 3.2 in all; unknown of one it is not told."""
    ways = [seller("compost", 40, "my compost"), seller("soil", 20, "my soil")]
    for soil, told in (("0.8", 0.33 * 8 + 0.67 * 0.8), (None, None)):
        materials = salty({"compost": "8", "soil": soil})
        answer = options(site_of([bed(FRAME)], ways, materials=materials))
        [line] = [line for line in option_lines(answer) if line.option.name == "compost + soil"]
        assert line.mixture is not None
        assert line.mixture.conductivity == (None if told is None else pytest.approx(told))


def test_a_pot_holds_no_more_salt_than_plants_stand(site_of: SiteOf, bed: Describe) -> None:
    """At most 3.5 dS/m: of compost with 12 dS/m goes (3.5 - 0.5)/11.5 = 26 %, of one with 18 under a fifth, so none."""
    ways = [seller(name, price, f"my {name}") for name, price in (("compost", 5), ("soil", 20), ("sand", 90))]
    pot = bed({"fill": {"volume": "100 L"}}, kind="pot")
    found = {
        salt: rows(site_of([pot], ways, materials=salty({"compost": salt, "soil": "0.5", "sand": "0.5"})))
        for salt in ("12", "18")
    }
    assert shares(found["12"]["compost + soil + sand"])["compost"] == pytest.approx(3 / 11.5)
    assert "compost + soil + sand" not in found["18"]
    partly = rows(site_of([pot], ways, materials=salty({"compost": "18", "soil": None, "sand": None})))
    assert "compost + soil + sand" not in partly, "what is not known holds none, and what is binds"
    lifted = {**pot, "limits": {"lift": ["mix_salt"]}}
    materials = salty({"compost": "18", "soil": "0.5", "sand": "0.5"})
    row = rows(site_of([lifted], ways, materials=materials))["compost + soil + sand"]
    assert shares(row)["compost"] == pytest.approx(0.33)


def test_one_salty_stuff_fills_no_pot(site_of: SiteOf, bed: Describe) -> None:
    """With its share lifted, compost of 7 dS/m is half a pot by its salt, and the row names that; lifted, it is all."""
    found = {}
    for lift in (["fill_share"], ["fill_share", "mix_salt"]):
        pot = bed({"fill": {"volume": "100 L"}}, kind="pot", limits={"lift": lift})
        ways = [seller("compost", 40, "my compost")]
        found[len(lift)] = rows(site_of([pot], ways, materials=salty({"compost": "7"})))["compost"]
    assert found[1].decision.ceiling == "mix_salt"
    assert sum(dose.loose for dose in found[1].decision.every_dose) == pytest.approx(0.1 * 1.15 / 2)
    assert found[2].feasible


@pytest.mark.parametrize(("soil", "broken"), [("1", False), ("6", True)])
def test_the_salt_of_a_planned_mix_is_told(site_of: SiteOf, bed: Describe, soil: str, broken: bool) -> None:
    """Half of a pot of 3 dS/m and half of 1: 2 in all, 3.5 at most; half of 3 and half of 6 is 4.5."""
    lines = [{"place": "bed", "need": "fill", "way": way, "amount": "50 L"} for way in ("compost", "soil")]
    ways = [seller("compost", 40, "my compost"), seller("soil", 20, "my soil")]
    pot, materials = bed({"fill": {"volume": "100 L"}}, kind="pot"), salty({"compost": "3", "soil": soil})
    site = site_of([pot], ways, materials=materials, plan=lines)
    told = [line for line in plan_warnings(your_plan(options(site))) if "mix_salt" in line]
    assert len(told) == broken
    assert all("4.5 dS/m of salt, and 3.5 is the most" in line for line in told)


@pytest.mark.parametrize(
    ("mix", "code"),
    [
        ({"soil": "60..80 %", "compost": "50..60 %"}, "shares"),
        ({"soil": "10..20 %", "compost": "30..50 %"}, "shares"),
        ({"soil": "70..50 %", "compost": "30..50 %"}, "out-of-range"),
        ({"soil": "50..170 %", "compost": "30..50 %"}, "out-of-range"),
        ({"soil": "50", "compost": "30..50 %"}, "bare-number"),
        ({"peat": "50 %", "compost": "30..50 %"}, "unknown-key"),
        ({"soil": "50..", "compost": "30..50 %"}, "not-a-range"),
        ({}, "missing-key"),
    ],
)
def test_shares_that_cannot_be(
    problems_of: Callable[..., tuple[Problem, ...]], bed: Describe, mix: dict[str, str], code: str
) -> None:
    """Shares that cannot make a whole, and what is no share, are problems with their line."""
    found = problems_of([bed({"fill": {"volume": "1 m3", "mix": mix}})], [seller("soil", 20)])
    assert [problem.code for problem in found] == [code]
    assert found[0].column > 1


@pytest.mark.parametrize(("compost", "soil", "broken"), [("0.4 m3", "0.75 m3", 0), ("0.9 m3", "0.25 m3", 1)])
def test_a_plan_of_a_mix_is_judged_as_one(
    site_of: SiteOf, bed: Describe, compost: str, soil: str, broken: int
) -> None:
    """A plan of 35 % compost breaks nothing, one of 78 % the most compost of a good mix, once."""
    lines = [
        {"place": "bed", "need": "fill", "way": way, "amount": amount}
        for way, amount in (("compost", compost), ("soil", soil))
    ]
    site = site_of([bed(FRAME)], [seller("compost", 40), seller("soil", 20)], plan=lines)
    told = [line for line in plan_warnings(your_plan(options(site))) if "fill_share" in line]
    assert len(told) == broken
    assert not any("more place" in line for line in told)


@draws(150, derandomize=True)
@given(st.data())
def test_against_a_linear_programme(site_of: SiteOf, bed: Describe, data: st.DataObject) -> None:
    """The cheapest mix of a framed bed costs what scipy finds over all mixes of two or three ways."""
    drawn = data.draw(
        st.lists(st.tuples(st.sampled_from(sorted(STUFF)), st.integers(1, 90)), min_size=2, max_size=5)
    )
    named = {f"{sort} {index}": (sort, price) for index, (sort, price) in enumerate(drawn)}
    ways = [seller(name, price, STUFF[sort]) for name, (sort, price) in named.items()]
    costs = [
        cost
        for count in (2, 3)
        for several in combinations(named.values(), count)
        if (cost := least_cost(several)) is not None
    ]
    found = [row for row in rows(site_of([bed(FRAME)], ways)).values() if row.feasible]
    assert bool(found) == bool(costs)
    if costs:
        assert min(float(row.cash) for row in found) == pytest.approx(1.15 * min(costs), abs=0.02)


def least_cost(several: tuple[tuple[str, int], ...]) -> float | None:
    """Return what each m3 of a mix costs at least [EUR], by scipy; None where it is not within the shares."""
    parts = {"compost": (0.33, 0.5), "soil": (0.5, 0.67), "sand": (0.0, 0.1)}
    of = [[float(("compost" if sort == "rich" else sort) == part) for sort, _ in several] for part in parts]
    rich = [float(sort == "rich") for sort, _ in several]
    found = linprog(
        [price for _, price in several],
        A_ub=[*of, *([-each for each in row] for row in of), rich],
        b_ub=[*(high for _, high in parts.values()), *(-low for low, _ in parts.values()), 0.25],
        A_eq=[[1.0] * len(several)],
        b_eq=[1.0],
        bounds=(0, 1),
        method="highs",
    )
    return float(found.fun) if found.status == 0 else None


def test_potting_compost_of_a_bag_fills_alone_where_the_mix_says_so(site_of: SiteOf) -> None:
    """It is a mix already: as docs/first-season.md has it, 30.5 L a tub of it are all that goes in, in bags of 45 L."""
    bags = {"name": "bags", "buy": {"material": "potting compost", "price": "9 EUR/bag", "bag": "45 L"}}
    stuff = {"potting compost": {"class": "soil", "density": "0.4 kg/L", "moisture": "50 %"}}
    shape = {"circle": {"diameter": "36 cm"}}
    rows = []
    for mix in ({"mix": {"soil": "100 %"}}, {}):
        tub = {
            "name": "tubs",
            "kind": "pot",
            "shape": shape,
            "count": 6,
            "needs": [{"fill": {"depth": "30 cm", **mix}}],
        }
        [row] = options(site_of([tub], [bags], materials=stuff)).options
        rows.append((row.feasible, row.decision.ceiling, int(row.cash)))
    assert rows[0] == (True, "", 45), "183 L and what settles: five bags"
    assert rows[1][:2] == (False, "fill_share")
