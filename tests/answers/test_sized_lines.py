"""Lines of a plan without an amount: what is needed beside all other lines, on their own days."""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

import pytest
from draws import draws
from hypothesis import given
from hypothesis import strategies as st
from small_sites import small_site

from barrowful.answers.choices import WholeSite, cheapest, your_plan
from barrowful.answers.options import options
from barrowful.answers.overdrawn import overdrawn
from barrowful.answers.plan_warnings import plan_warnings
from barrowful.answers.together import Part
from barrowful.needs.breaches import breaches
from barrowful.site.records import PlanLine, Site

SiteOf = Callable[..., Site]
Plain = dict[str, Any]
Follow = Callable[..., WholeSite]
START = date(2027, 3, 1)
COMPOST, CHIP, MEAL, STONE, SOIL, DUNG = (
    "green compost", "arborist chip", "feather meal", "ground limestone", "topsoil", "horse manure",
)  # fmt: skip
PRICES = {
    COMPOST: "40 EUR/m3", CHIP: "10 EUR/m3", MEAL: "3 EUR/kg", STONE: "1 EUR/kg", SOIL: "30 EUR/m3", DUNG: "9 EUR/m3",
}  # fmt: skip
WAYS = [{"name": stuff, "buy": {"material": stuff, "price": price}} for stuff, price in PRICES.items()]
LEAVES = {"name": "leaves", "have": {"material": "autumn leaves", "amount": "3 m3", "comes": "11-20"}}
GROUND = {"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "30 %", "ph": 5}


@pytest.fixture
def follow(site_of: SiteOf) -> Follow:
    """Give a function that returns a plan as it is followed on a bed of 100 m2 with some needs.

    Each line is its need, its way, and its day or its amount where it has one.
    """

    def followed(needs: list[Plain], *lines: str, place: Plain | None = None, **more: Any) -> WholeSite:
        bed = {"name": "bed", "kind": "bed", "shape": {"area": "100 m2"}, "needs": needs, **(place or {})}
        site = site_of([bed], [*WAYS, LEAVES], soil=GROUND, plan=[_line(line) for line in lines], **more)
        return your_plan(options(site))

    return followed


def _line(words: str) -> Plain:
    """Return a line of "need: way, amount, date", where of the last two one or both may be left out."""
    need, _, rest = words.partition(": ")
    way, *more = rest.split(", ")
    keys = {"date" if of[:4].isdigit() else "amount": of for of in more}
    return {"place": "bed", "need": need, "way": way, **keys}


def put(whole: WholeSite, kind: str = "", by_weight: bool = False) -> list[tuple[str, float]]:
    """Return the days and the volumes [m3], or weights [kg], of what is put on for a kind of need, or for all."""
    doses = [dose for dose in whole.together.all_doses if kind in {"", dose.kind}]
    each = ((dose.day, dose.material.wet_mass(dose.loose) if by_weight else dose.loose) for dose in doses)
    return [(f"{day}", pytest.approx(much, rel=1e-3)) for day, much in sorted(each)]


FED = [{"feed": {"nitrogen": "2 g/m2"}}, {"dress": {"depth": "2 cm"}}]


@pytest.mark.parametrize("dated", ["", ", 2027-04-01"])
@pytest.mark.parametrize("first", ["feed", "dress"])
@pytest.mark.parametrize("amount", ["", ", 2 m3"])
def test_a_feed_counts_the_dressing(follow: Follow, dated: str, first: str, amount: str) -> None:
    """2 m3 x 600 kg x 60 % dry x 1.25 % hold 9 kg N, 2 % of it usable: 180 of 200 g; meal brings 72 g/kg.

    From the second year on the compost gives 225 g: nothing is needed any more.
    """
    lines = [f"feed: {MEAL}{dated}", f"dress: {COMPOST}{amount}"]
    whole = follow(FED, *(lines if first == "feed" else lines[::-1]))
    assert put(whole, "feed", by_weight=True) == [(dated[2:] or "2027-03-01", 20 / 72)]
    assert put(whole, "dress") == [("2027-03-01", 2.0)]
    assert whole.unmet == ()


def test_a_cover_counts_the_dressing_under_it(follow: Follow) -> None:
    """5 cm of compost that settles to 88 % are 5.68 m3, of which the dressing is 2."""
    needs = [{"cover": {"depth": "5 cm"}}, {"dress": {"depth": "2 cm"}}]
    whole = follow(needs, f"cover: {COMPOST}", f"dress: {COMPOST}", horizon="1 year")
    assert put(whole, "cover") == [("2027-03-01", 5 / 0.88 - 2)]
    assert plan_warnings(whole) == []


@pytest.mark.parametrize("dated", ["", ", 2027-04-01"])
def test_a_fill_of_two_is_their_mix(follow: Follow, dated: str) -> None:
    """30 cm and 15 % for settling are 34.5 m3: a third of it compost, as the row of both has it."""
    whole = follow([{"fill": {"depth": "30 cm"}}], f"fill: {SOIL}{dated}", f"fill: {COMPOST}{dated}")
    assert put(whole) == [(dated[2:] or "2027-03-01", 34.5 * part) for part in (0.33, 0.67)]
    assert (whole.unmet, plan_warnings(whole)) == ((), [])


def test_a_fill_takes_what_a_typed_amount_leaves(follow: Follow) -> None:
    """Beside 15 m3 of compost 19.5 m3 of soil are needed, which is 57 % of the mix."""
    whole = follow([{"fill": {"depth": "30 cm"}}], f"fill: {SOIL}", f"fill: {COMPOST}, 15 m3")
    assert put(whole) == [("2027-03-01", 15.0), ("2027-03-01", 19.5)]
    assert whole.unmet == ()


def test_the_next_line_takes_what_is_left(follow: Follow) -> None:
    """Of 3 cm of compost 25 mm go on in a year; the leaves bring the rest when they fall."""
    whole = follow([{"dress": {"depth": "3 cm"}}], f"dress: {COMPOST}", "dress: leaves")
    assert put(whole) == [("2027-03-01", 2.5), ("2027-11-20", 0.5)]
    assert (whole.unmet, plan_warnings(whole)) == ((), [])


def test_a_line_for_which_nothing_is_left_is_told(follow: Follow) -> None:
    """Where the first line does it all, nobody orders the other's stuff without knowing."""
    whole = follow([{"dress": {"depth": "2 cm"}}], f"dress: {COMPOST}", "dress: leaves")
    assert put(whole) == [("2027-03-01", 2.0)]
    [warning] = plan_warnings(whole)
    assert warning == "plan: bed, dress by leaves: nothing of it goes on, other lines meet the need"


def test_lime_takes_what_a_typed_amount_leaves(follow: Follow) -> None:
    """The table has 114.29 kg; of the 71.43 kg of a year 60 are typed, and the rest goes on a year later."""
    lime = [{"lime": {"ph": 6.5}}]
    whole = follow(lime, f"lime: {STONE}", f"lime: {STONE}, 60 kg, 2027-03-01")
    by_weight = put(whole, by_weight=True)
    assert by_weight == [("2027-03-01", 11.43), ("2027-03-01", 60.0), ("2028-03-01", 42.86)]
    assert (whole.unmet, plan_warnings(whole)) == ((), [])


@pytest.mark.parametrize("day", ["2027-05-01", "2027-10-01"])
def test_lime_begun_on_a_day_is_split(follow: Follow, day: str) -> None:
    """12 t/ha are too much at once: five eighths go on on the day, the rest a year later."""
    whole = follow([{"lime": {"ph": 6.5}}], f"lime: {STONE}, {day}")
    later = f"{int(day[:4]) + 1}{day[4:]}"
    assert put(whole, by_weight=True) == [(day, 71.43), (later, 42.86)]
    assert (whole.unmet, plan_warnings(whole)) == ((), [])


RAISE = {"organic_matter": "2.3 %", "depth": "20 cm", "by": "2028-03-01"}


@pytest.mark.parametrize("hold", ["0 years", "1 year"])
@pytest.mark.parametrize("day", ["2027-04-01", "2027-09-01"])
def test_a_raise_is_sized_for_its_day(follow: Follow, hold: str, day: str) -> None:
    """What is dug in on a day of one's own raises just enough: a little less, typed, does not."""
    need = [{"raise": {**RAISE, "hold": hold}}]
    whole = follow(need, f"raise: {COMPOST}, {day}")
    [dose] = whole.together.all_doses
    assert (f"{dose.day}", whole.unmet) == (day, ())
    less = follow(need, f"raise: {COMPOST}, {dose.loose * 0.995:.9f} m3, {day}")
    assert less.unmet == ("raise",)


def test_a_raise_counts_what_another_line_digs_in(follow: Follow) -> None:
    """0.3 m3 are typed; what is needed beside them is less, by no more than they are."""
    whole = follow([{"raise": RAISE}], f"raise: {COMPOST}, 2027-04-01")
    part = follow(
        [{"raise": RAISE}], f"raise: {COMPOST}, 0.3 m3, 2027-04-01", f"raise: {COMPOST}, 2027-04-01"
    )
    alone, both = (sum(dose.loose for dose in of.together.all_doses) for of in (whole, part))
    assert both == pytest.approx(alone, rel=1e-6)
    assert part.unmet == ()


def test_a_cover_is_sized_for_what_lies_there_on_its_day(follow: Follow) -> None:
    """3 cm of chip of February have sunk by June: the depth is reached, and is kept up from then on."""
    history = [{"date": "2027-02-01", "place": "bed", "material": CHIP, "depth": "3 cm"}]
    lines = (f"cover: {CHIP}", f"cover: {CHIP}, 2027-06-01")
    soon, later = (follow([{"cover": {"depth": "4 cm"}}], line, history=history) for line in lines)
    assert (later.unmet, later.ready_on) == ((), date(2027, 6, 1))
    first, *top_ups = (dose.loose for dose in later.together.all_doses)
    assert first > soon.together.all_doses[0].loose
    assert top_ups


def test_a_feed_begun_on_a_day_goes_on(follow: Follow) -> None:
    """Each later season is fed as the row of the way feeds it, but where the next line has its own day."""
    feed, meal = [{"feed": {"nitrogen": "2 g/m2"}}], 200 / 72
    days = {
        ("2027-04-05",): ["2027-04-05", "2028-03-01", "2029-03-01"],
        ("2028-04-05", "2027-04-05"): ["2027-04-05", "2028-04-05", "2029-03-01"],
    }
    for dates, fed in days.items():
        whole = follow(feed, *(f"feed: {MEAL}, {day}" for day in dates), horizon="3 years")
        assert put(whole, by_weight=True) == [(day, meal) for day in fed]
        assert whole.unmet == ()


@pytest.mark.parametrize(
    ("line", "place", "why"),
    [
        (f"dress: {DUNG}, 2027-05-01", {"harvest_from": "06-15"}, "waits until 2027-10-26, for the harvest"),
        ("dress: leaves, 2027-05-01", {}, "nothing of it is there on 2027-05-01"),
        (f"dress: {COMPOST}, 2041-03-01", {}, "2041-03-01 is after the horizon ends on 2031-03-01"),
    ],
)
def test_a_day_on_which_nothing_can_go_on_is_told(follow: Follow, line: str, place: Plain, why: str) -> None:
    """No other day is taken in its stead, and no amount is made up that cannot go on."""
    whole = follow([{"dress": {"depth": "2 cm"}}], line, place=place)
    assert put(whole) == []
    assert any(f"{why}; nothing goes on" in warning for warning in plan_warnings(whole))


@pytest.mark.parametrize(
    ("by", "why"),
    [
        ("2026-03-01", r"bed, raise by green compost: 2\.0% on 2026-03-01; nothing goes on"),
        ("2028-03-01", r"\(yearly_depth\): [23]\.\d% on 2028-03-01; \d\d% of it is met"),
        (None, r"\(yearly_depth\): [23]\.\d% on 2028-03-01; \d\d% of it is met"),
    ],
)
def test_a_raise_on_one_day_is_told_by_how_far_it_gets(follow: Follow, by: str | None, why: str) -> None:
    """What goes on once is not told by what the way might do in years: the row of it has a day it is ready."""
    needs = [{"raise": {"organic_matter": "4 %", "depth": "15 cm", **({"by": by} if by else {})}}]
    whole = follow(needs, f"raise: {COMPOST}, {START}")
    [warning] = plan_warnings(whole)
    assert re.search(why, warning)


def test_chip_goes_on_until_plants_close_the_ground(site_of: SiteOf) -> None:
    """Plants that stand there spread nothing: what is to cover the ground meanwhile is no less for them."""
    tree = {
        "name": "tree",
        "kind": "tree",
        "shape": {"ring": {"radius": "2 m"}},
        "needs": [{"cover": {"depth": "5 cm"}}],
    }
    ring = {
        "name": "ring",
        "grow": {"plant": "comfrey", "around": "tree", "planted": "2027-04-01", "cost": "9 EUR"},
    }
    lines = [{"place": "tree", "need": "cover", "way": way} for way in ("ring", CHIP)]
    wholes = [
        your_plan(options(site_of([tree], [*WAYS, ring], plan=plan)))
        for plan in (lines, lines[::-1], lines[1:])
    ]
    doses = [put(whole) for whole in wholes]
    assert doses[0] == doses[1] == doses[2] != []
    assert [float(whole.bill.cash - wholes[2].bill.cash) for whole in wholes] == [9, 9, 0]
    assert all(whole.met == ("cover",) and not plan_warnings(whole) for whole in wholes)


def _done(parts: list[Part]) -> list[tuple[str, ...]]:
    return sorted(
        (dose.place.name, dose.kind, dose.way, f"{dose.day}", f"{dose.loose:.6g}")
        for part in parts
        for dose in part.doses
    )


@draws(40)
@given(st.integers(0, 10**9))
def test_the_cheapest_ways_without_amounts_are_the_cheapest_row(site_of: SiteOf, seed: int) -> None:
    """A plan that names no more than the ways of the cheapest row, in any order, does what the row does."""
    answer = options(site_of(**small_site(seed, limited=False)))
    row = cheapest(answer)
    lines = [
        PlanLine(place=of.place.name, need=part.need, way=way.name)
        for part in row.together.parts
        for of in part.decision.servings
        for way in part.source.parts
        if any(dose.way == way.name for dose in of.every_dose)
    ]
    random.Random(seed).shuffle(lines)
    plan = your_plan(answer.with_plan(lines))
    assert _done(plan.together.parts) == _done(row.together.parts)
    assert plan.bill.cash == row.bill.cash
    assert plan.places_met >= row.places_met


@draws(40)
@given(st.integers(0, 10**9))
def test_nothing_is_put_on_beyond_what_may_and_there_is(site_of: SiteOf, seed: int) -> None:
    """Whichever ways are named, dated or not: no ceiling is passed, no stock is drawn twice, no day is early."""
    luck = random.Random(seed)
    answer = options(site_of(**small_site(seed)))
    site = answer.site
    wanted = [(place, need.kind) for place in site.places for need in place.needs]
    lines = [
        PlanLine(
            place=place.name,
            need=kind,
            way=way,
            day=luck.choice([None, START + timedelta(luck.randint(0, 700))]),
        )
        for place, kind in wanted
        for way in luck.sample([*answer.supplies], luck.choice([1, 1, 2]))
        if place.ways is None or way in place.ways
    ]
    luck.shuffle(lines)
    together = your_plan(answer.with_plan(lines)).together
    broken = [
        line for line in breaches(site, together.all_doses) if "(fill_share)" not in line
    ]  # half filled
    assert (broken, overdrawn(answer.supplies, together.all_doses)) == ([], [])
    for line, part in zip(lines, together.parts, strict=False):
        assert all(dose.day >= (line.day or START) for dose in part.doses)
