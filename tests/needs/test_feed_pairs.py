"""Feeds of two ways together: by hand, against a linear programme of scipy, and what never matters."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from typing import Any

import numpy
import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import linprog

from barrowful.answers.choices import cheapest
from barrowful.answers.option import Option
from barrowful.answers.options import Answer, options
from barrowful.measures.problems import Problem
from barrowful.needs.breaches import breaches
from barrowful.needs.settled import Settled
from barrowful.site.records import Site
from barrowful.supplies.registry import supplies

SiteOf = Callable[..., Site]
Describe = Callable[..., dict[str, Any]]
AREA = 10.0
#: Sold by weight with figures as sold; all of what it holds counts in its season, and none later.
LABEL = {
    "class": "fertiliser",
    "density": "1000 kg/m3",
    "moisture": "0 %",
    "nitrogen": "0 %",
    "phosphorus": "0 %",
    "potassium": "0 %",
    "available_nitrogen": "100 %",
    "available_phosphorus": "100 %",
    "available_potassium": "100 %",
}
GRAMS = ("nitrogen", "phosphorus", "potassium")
#: Per cent of each nutrient in a stuff, and its price [EUR/kg].
Stuff = tuple[tuple[float, float, float], float]


def fed(
    site_of: SiteOf,
    bed: Describe,
    wanted: tuple[float, float, float],
    stuffs: dict[str, Stuff],
    beds: tuple[float, ...] = (AREA,),
    **more: Any,
) -> Answer:
    """Return the options of beds that want so many g/m2 of each nutrient, with stuffs sold by the kilogram."""
    feed = {"feed": {name: f"{grams:.6f} g/m2" for name, grams in zip(GRAMS, wanted, strict=True) if grams}}
    ways = [
        {"name": name, "buy": {"material": name, "price": f"{price} EUR/kg"}}
        for name, (_, price) in stuffs.items()
    ]
    materials = {
        name: {**LABEL, **{of: f"{share} %" for of, share in zip(GRAMS, shares, strict=True)}}
        for name, (shares, _) in stuffs.items()
    }
    places = [bed(feed, area=area, name=f"bed {index}", **more) for index, area in enumerate(beds)]
    return options(site_of(places, ways, materials=materials, horizon="1 year"))


def joint(answer: Answer) -> Option | None:
    """Return the joint row that is shown first, or None."""
    return next((row for row in answer.options if len(row.supply.parts) > 1), None)


def put_on(row: Option) -> dict[str, float]:
    """Return the kilograms that go on of each way."""
    kilograms = dict.fromkeys((part.name for part in row.supply.parts), 0.0)
    for dose in row.decision.every_dose:
        kilograms[dose.way] += dose.material.wet_mass(dose.loose)
    return kilograms


def test_by_hand(site_of: SiteOf, bed: Describe) -> None:
    """12 g/m2 of nitrogen from a meal with 10 % and 14 of potassium from a salt with 40 %, on 10 m2."""
    answer = fed(site_of, bed, (12, 0, 14), {"meal": ((10, 0, 0), 2), "salt": ((0, 0, 40), 3)})
    row = joint(answer)
    assert row is not None
    assert (row.name, row.feasible) == ("meal + salt", True)
    assert put_on(row) == pytest.approx({"meal": 1.2, "salt": 0.35})
    assert float(row.cash) == pytest.approx(2 * 1.2 + 3 * 0.35)
    assert [other.feasible for other in answer.options] == [False, False, True]


def test_no_more_nitrogen_than_is_wanted(site_of: SiteOf, bed: Describe) -> None:
    """What holds ten times as much nitrogen as potassium brings no crop its potassium, however cheap it is."""
    stuffs: dict[str, Stuff] = {"meal": ((10, 0, 0), 2), "rich": ((50, 0, 5), 0.01)}
    assert not any(row.feasible for row in fed(site_of, bed, (12, 0, 14), stuffs).options)
    row = joint(fed(site_of, bed, (12, 0, 14), {**stuffs, "salt": ((0, 0, 40), 30)}))
    assert row is not None
    assert row.name == "rich + salt"
    assert row.outcome.available_nitrogen == pytest.approx(12 * AREA / 1000)


def test_a_stock_goes_as_far_as_it_reaches(site_of: SiteOf, bed: Describe) -> None:
    """Of 0.5 kg on hand for nothing all goes on, and the rest of the nitrogen is bought."""
    feed = {"feed": {"nitrogen": "12 g/m2"}}
    ways = [
        {"name": "sack", "have": {"material": "meal", "amount": "0.5 kg"}},
        {"name": "shop", "buy": {"material": "meal", "price": "2 EUR/kg"}},
    ]
    materials = {"meal": {**LABEL, "nitrogen": "10 %"}}
    answer = options(site_of([bed(feed, area=AREA)], ways, materials=materials, horizon="1 year"))
    row = joint(answer)
    assert row is not None
    assert put_on(row) == pytest.approx({"sack": 0.5, "shop": 0.7})


def test_ceilings_bind_both_together(site_of: SiteOf, bed: Describe) -> None:
    """An inch of two composts: of x of the first nitrogen is 4.5 + 1.125 x, potassium 60 - 30 x, and x is 2/3."""
    compost = {"class": "compost", "density": "500 kg/m3", "moisture": "40 %", "available_nitrogen": "5 %"}
    materials = {
        "first": {**compost, "nitrogen": "1.5 %", "phosphorus": "0.2 %", "potassium": "0.5 %"},
        "other": {**compost, "nitrogen": "1.2 %", "phosphorus": "0.2 %", "potassium": "1 %"},
    }
    ways = [{"name": name, "buy": {"material": name, "price": "40 EUR/m3"}} for name in materials]

    def rows(grams: str) -> list[Option]:
        feed = {"feed": {"nitrogen": grams, "potassium": "40 g/m2"}}
        answer = options(site_of([bed(feed, area=AREA)], ways, materials=materials, horizon="1 year"))
        return [row for row in answer.options if row.feasible]

    assert [row.name for row in rows("5.2 g/m2")] == ["first + other"]
    for row in rows("5.2 g/m2"):
        assert sum(dose.loose for dose in row.decision.doses) <= 0.025 * AREA * (1 + 1e-9)
    assert rows("5.3 g/m2") == []


def test_seasons_follow_each_other(site_of: SiteOf, bed: Describe) -> None:
    """Each of three seasons gets its own amounts: meal and salt leave nothing for the next."""
    feed = {"feed": {"nitrogen": "12 g/m2", "potassium": "14 g/m2"}}
    ways = [{"name": name, "buy": {"material": name, "price": "2 EUR/kg"}} for name in ("meal", "salt")]
    materials = {"meal": {**LABEL, "nitrogen": "10 %"}, "salt": {**LABEL, "potassium": "40 %"}}
    answer = options(site_of([bed(feed, area=AREA)], ways, materials=materials, horizon="3 years"))
    row = joint(answer)
    assert row is not None
    assert put_on(row) == pytest.approx({"meal": 3.6, "salt": 1.05})
    assert sorted({f"{dose.day}" for dose in row.decision.every_dose}) == [
        "2027-03-01",
        "2028-03-01",
        "2029-03-01",
    ]


def test_beside_a_raise_a_pair_makes_good_what_it_leaves(site_of: SiteOf, bed: Describe) -> None:
    """Compost that raises a bed uses up its inch: the feed beside it takes the meal and the salt."""
    materials = {"meal": {**LABEL, "nitrogen": "10 %"}, "salt": {**LABEL, "potassium": "40 %"}}
    needs = [
        {"raise": {"organic_matter": "2.3 %", "depth": "15 cm", "by": "2028-03-01"}},
        {"feed": {"nitrogen": "12 g/m2", "potassium": "14 g/m2"}},
    ]
    ways = [
        {"name": "yard", "buy": {"material": "green compost", "price": "10 EUR/m3"}},
        *({"name": name, "buy": {"material": name, "price": "2 EUR/kg"}} for name in materials),
    ]
    whole = cheapest(options(site_of([bed(*needs, area=AREA)], ways, materials=materials, horizon="2 years")))
    assert whole.unmet == ()
    assert {part.need: len(part.source.parts) for part in whole.together.parts} == {"raise": 1, "feed": 2}


TREE_FEED = {"feed": {"nitrogen": "10 g/m2", "potassium": "8 g/m2"}}


def test_what_costs_nothing_is_shared(site_of: SiteOf, bed: Describe) -> None:
    """12 L of litter are just enough potassium for two trees: the first leaves the other its half of it."""
    ways = [
        {"name": "litter", "have": {"material": "poultry litter", "amount": "12 L"}},
        {"name": "meal", "buy": {"material": "blood meal", "price": "3 EUR/kg"}},
    ]
    rows = []
    for areas in ((10,), (5, 5)):
        trees = [bed(TREE_FEED, area=area, name=f"{area} {n}", kind="tree") for n, area in enumerate(areas)]
        rows.append(joint(options(site_of(trees, ways, horizon="1 year"))))
    assert [row is not None and row.feasible for row in rows] == [True, True]
    assert rows[0] is not None
    assert rows[1] is not None
    assert rows[0].cash == rows[1].cash


def test_a_share_is_drawn_on_once(site_of: SiteOf, bed: Describe) -> None:
    """A quarter of 8 L is 2 L: what is taken of it in a first season is gone in the next; all the rest stays."""
    way = {"name": "litter", "have": {"material": "poultry litter", "amount": "8 L"}}
    site = site_of([bed(TREE_FEED, area=AREA)], [way])
    litter = supplies(site)["litter"]
    settled, last = Settled(site), site.end.toordinal()
    stock = settled.sharing(litter, 0.25).stock(litter)
    assert stock.left_by(last) == pytest.approx(0.002)
    assert stock.take(last, 0.0015) == pytest.approx(0.0015)
    assert stock.take(last, 0.0015) == pytest.approx(0.0005)
    assert settled.stock(litter).left_by(last) == pytest.approx(0.008)


@pytest.mark.parametrize(
    ("litres", "met"),
    [(12, ["small", "large"]), (9, ["large"]), (8, ["large"]), (4.5, ["small"]), (2, [])],
)
def test_what_is_short_goes_by_priority(
    site_of: SiteOf, bed: Describe, litres: float, met: list[str]
) -> None:
    """A bed needs 8 L of litter for its potassium, a small one 4 L; the large one comes first."""
    ways = [
        {"name": "litter", "have": {"material": "poultry litter", "amount": f"{litres} L"}},
        {"name": "meal", "buy": {"material": "blood meal", "price": "3 EUR/kg"}},
    ]
    beds = [
        bed(TREE_FEED, area=area, name=name, kind="tree", priority=first)
        for name, area, first in (("small", 10 / 3, 2), ("large", 20 / 3, 1))
    ]
    row = joint(options(site_of(beds, ways, horizon="1 year")))
    assert [of.place.name for of in row.decision.servings if of.met] == met if row else not met
    if row:
        used = sum(dose.loose for dose in row.decision.every_dose if dose.way == "litter")
        assert used <= litres / 1000 * (1 + 1e-9)


def test_a_new_bed_has_one_first_dressing(site_of: SiteOf, bed: Describe) -> None:
    """In any twelve months but the first dressing's, both ways together keep to an inch a year."""
    ways = [
        {"name": "soon", "buy": {"material": "poultry litter", "price": "90 EUR/m3"}},
        {"name": "later", "buy": {"material": "mushroom compost", "price": "5 EUR/m3", "lead": "10 months"}},
    ]
    feed = {"feed": {"nitrogen": "6 g/m2", "potassium": "40 g/m2"}}
    site = site_of([bed(feed, area=AREA, new=True)], ways, horizon="1 year", start="2027-04-20")
    for row in options(site).options:
        assert breaches(site, row.decision.every_dose) == []


def test_a_little_nitrogen_is_no_bar(site_of: SiteOf, bed: Describe) -> None:
    """A feed of half a gram of nitrogen may get five, as one that wants none: bone meal and potash feed it."""
    stuffs: dict[str, Stuff] = {"bone": ((2, 10, 0), 1), "salt": ((0, 0, 40), 2)}
    for nitrogen in (0, 0.5):
        row = joint(fed(site_of, bed, (nitrogen, 3, 10), stuffs))
        assert row is not None
        assert row.feasible


def test_a_place_that_wants_nothing_hides_no_pair(site_of: SiteOf, bed: Describe) -> None:
    """Broad beans are fed nothing: the cheapest pair for the cabbages is the same beside them."""
    materials = {"meal": {**LABEL, "nitrogen": "10 %"}, "salt": {**LABEL, "potassium": "40 %"}}
    ways = [{"name": name, "buy": {"material": name, "price": "2 EUR/kg"}} for name in materials]
    hungry = bed({"feed": {"nitrogen": "12 g/m2", "potassium": "14 g/m2"}}, area=AREA)
    beans = bed({"feed": {"for": "broad bean"}}, area=AREA, name="beans")
    alone, beside = (
        joint(options(site_of(places, ways, materials=materials, horizon="1 year")))
        for places in ([hungry], [hungry, beans])
    )
    assert alone is not None
    assert beside is not None
    assert (alone.name, alone.cash) == (beside.name, beside.cash)


@pytest.mark.parametrize("name", ["a + b", "yard + meal + ash"])
def test_no_name_looks_like_two(
    problems_of: Callable[..., tuple[Problem, ...]], bed: Describe, name: str
) -> None:
    """What joins the names of ways in a row stands in no name of one."""
    found = problems_of([bed()], [{"name": name, "buy": {"material": "topsoil", "price": "4 EUR/m3"}}])
    assert [problem.code for problem in found] == ["name"]


@st.composite
def drawn(draw: st.DrawFn) -> tuple[tuple[float, float, float], dict[str, Stuff]]:
    """Draw what is wanted [g/m2] and stuffs to feed with, none of whose shares is small beside the others."""

    def share() -> float:
        return draw(st.sampled_from([0.0, 0.0, 1.0, 2.0, 4.0, 7.0, 12.0, 20.0]))

    wanted = (draw(st.integers(5, 20)), draw(st.integers(0, 3)), draw(st.integers(0, 15)))
    names = "abcd"[: draw(st.integers(2, 4))]
    stuffs: dict[str, Stuff] = {
        name: ((share(), share(), share()), draw(st.integers(10, 400)) / 10) for name in names
    }
    return wanted, stuffs


def least_cash(
    wanted: tuple[float, float, float], stuffs: dict[str, Stuff], ways: tuple[str, ...]
) -> float | None:
    """Return what ways together cost at least [EUR], by scipy; None where they do not feed the bed.

    5 kg/m2 of a fertiliser are the most, and 25 g/m2 of phosphorus unless more is wanted.
    """
    shares = numpy.array([stuffs[name][0] for name in ways]).T / 100  # kg for each kg, nutrients x ways
    prices = [stuffs[name][1] for name in ways]
    kilograms = numpy.array(wanted) * AREA / 1000
    along = max(25.0, wanted[1]) * AREA / 1000
    most = [min(50.0, along / share) if share else 50.0 for share in shares[1]]
    found = linprog(
        prices,
        A_ub=-shares[1:],
        b_ub=-kilograms[1:],
        A_eq=shares[:1],
        b_eq=kilograms[:1],
        bounds=[(0, limit) for limit in most],
        method="highs",
    )
    return float(found.fun) if found.status == 0 else None


@draws(300, derandomize=True)
@given(drawn())
def test_against_a_linear_programme(
    site_of: SiteOf, bed: Describe, words: tuple[tuple[float, float, float], dict[str, Stuff]]
) -> None:
    """The cheapest pair, or three, cost what scipy finds for the cheapest of all, or a single way costs no more."""
    wanted, stuffs = words
    answer = fed(site_of, bed, wanted, stuffs)
    found: list[float] = []
    for several in (2, 3):  # three are tried where no two bring all that is wanted
        found = [
            cost
            for ways in combinations(stuffs, several)
            if (cost := least_cash(wanted, stuffs, ways)) is not None
        ]
        if found:
            break
    met = [float(row.cash) for row in answer.options if row.feasible]
    assert bool(met) == bool(found)
    if found:
        assert min(met) == pytest.approx(min(found), rel=1e-5, abs=0.0055 * several)  # each order in coins
    row = joint(answer)
    if row is not None:
        assert row.feasible
        for name, share in zip(GRAMS, wanted, strict=True):
            brought = getattr(row.outcome, "available_nitrogen" if name == "nitrogen" else name)
            assert brought >= share * AREA / 1000 * (1 - 1e-6)


@draws(100, derandomize=True)
@given(drawn(), st.integers(1, 9))
def test_what_never_matters(
    site_of: SiteOf, bed: Describe, words: tuple[tuple[float, float, float], dict[str, Stuff]], tenths: int
) -> None:
    """Another way never makes it dearer, and neither the order of ways nor a bed in two parts changes it."""
    wanted, stuffs = words

    def cash(answer: Answer) -> float | None:
        whole = cheapest(answer)
        return None if whole.unmet else float(whole.bill.cash)

    every = cash(fed(site_of, bed, wanted, stuffs))
    without = cash(fed(site_of, bed, wanted, dict(list(stuffs.items())[:-1])))
    assert without is None or (every is not None and every <= without + 0.011)
    backwards = cash(fed(site_of, bed, wanted, dict(reversed(stuffs.items()))))
    assert (every is None) == (backwards is None)
    parts = cash(fed(site_of, bed, wanted, stuffs, (AREA * tenths / 10, AREA * (10 - tenths) / 10)))
    assert (every is None) == (parts is None)
    if every is not None:
        assert backwards == pytest.approx(every, abs=0.011)
        assert parts == pytest.approx(every, abs=0.011)


def test_a_pair_that_does_only_beside_a_dressing_is_tried_there(site_of: SiteOf, bed: Describe) -> None:
    """Compost that dresses a bed brings its phosphorus: meal and salt bring the rest for less than the blend."""
    stuffs = {"meal": (10, 0, 0), "salt": (0, 0, 40), "blend": (5, 1, 1)}
    materials = {
        name: {**LABEL, **{of: f"{share} %" for of, share in zip(GRAMS, shares, strict=True)}}
        for name, shares in stuffs.items()
    }
    prices = {"yard": "10 EUR/m3", "meal": "2 EUR/kg", "salt": "2 EUR/kg", "blend": "30 EUR/kg"}
    ways = [
        {"name": name, "buy": {"material": {"yard": "green compost"}.get(name, name), "price": price}}
        for name, price in prices.items()
    ]
    feed = {"feed": {"nitrogen": "12 g/m2", "phosphorus": "2 g/m2", "potassium": "200 g/m2"}}
    place = bed({"dress": {"depth": "2.5 cm"}}, feed, area=AREA)
    answer = options(site_of([place], ways, materials=materials, horizon="1 year"))
    assert not any(row.name == "meal + salt" for row in answer.options)
    whole = cheapest(answer)
    assert whole.unmet == ()
    [brought] = [part for part in whole.together.parts if part.need == "feed"]
    assert {dose.way for dose in brought.doses} == {"meal", "salt"}


def test_a_place_that_one_of_two_ways_feeds_alone_hides_no_pair(site_of: SiteOf, bed: Describe) -> None:
    """One bed wants nitrogen alone, one potassium too: meal and salt feed both, and cost least."""
    stuffs = {"meal": ((10, 0, 0), 2), "salt": ((0, 0, 40), 3), "dear": ((1, 0, 2), 9)}
    materials = {
        name: {**LABEL, **{of: f"{share} %" for of, share in zip(GRAMS, shares, strict=True)}}
        for name, (shares, _) in stuffs.items()
    }
    ways = [
        {"name": name, "buy": {"material": name, "price": f"{price} EUR/kg"}}
        for name, (_, price) in stuffs.items()
    ]
    beds = [
        bed({"feed": {"nitrogen": "12 g/m2"}}, area=AREA, name="leaf"),
        bed({"feed": {"nitrogen": "12 g/m2", "potassium": "14 g/m2"}}, area=AREA, name="fruit"),
    ]
    answer = options(site_of(beds, ways, materials=materials, horizon="1 year"))
    row = joint(answer)
    assert row is not None
    assert (row.name, row.feasible) == ("meal + salt", True)
    assert put_on(row) == pytest.approx({"meal": 2.4, "salt": 0.35})
    assert float(cheapest(answer).bill.cash) == pytest.approx(2 * 2.4 + 3 * 0.35)


def test_a_pair_for_some_places_is_tried_beside_one_for_all(site_of: SiteOf, bed: Describe) -> None:
    """Where one pair feeds all, another feeds the places that allow it for less, and one way the rest."""
    materials = {
        "meal": {**LABEL, "nitrogen": "10 %"},
        "dear": {**LABEL, "nitrogen": "0.1 %", "potassium": "1 %"},
        "salt": {**LABEL, "potassium": "40 %"},
    }
    prices = {"meal": 2, "dear": 9, "salt": 3}
    ways = [{"name": name, "buy": {"material": name, "price": f"{of} EUR/kg"}} for name, of in prices.items()]
    both = {"feed": {"nitrogen": "12 g/m2", "potassium": "14 g/m2"}}
    beds = [
        bed({"feed": {"nitrogen": "12 g/m2"}}, area=AREA, name="leaf", ways=["meal", "dear"]),
        bed(both, area=AREA, name="fruit"),
    ]
    whole = cheapest(options(site_of(beds, ways, materials=materials, horizon="1 year")))
    assert whole.unmet == ()
    assert float(whole.bill.cash) == pytest.approx(2 * 2.4 + 3 * 0.35)
