"""Ranges: against the ordinary code draw by draw, against scipy, and what never changes them."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import numpy
import pytest
from drawn import rates_of, site_of
from draws import cases, draws
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

import barrowful
from barrowful.answers.options import Answer, options
from barrowful.measures.draws import AtLeast, explained, ranks, resized, spread, strata, triangle
from barrowful.planning.ranges.amounts import Amounts
from barrowful.planning.ranges.figures import Draws
from barrowful.planning.ranges.rows import option_cells
from barrowful.site.load import load
from barrowful.sitefile.keys.need import NEED_KINDS

DEMO = Path(__file__).parents[2] / "demo"
DEMOS = sorted(path.stem for path in DEMO.glob("*.yaml"))
COUNT = 256
#: Draws that are put into the site and worked out by the ordinary code.
TRIED = range(3, COUNT, COUNT // cases(12))
#: What money may differ by for each order: coins are rounded in the ordinary code alone.
COIN = 0.006
FIELD = """
site: Field
currency: EUR
start: 2027-03-01
horizon: 3 years
climate: {annual_mean: 11 degC}
soil: {organic_matter: 2 %, bulk_density: 1.3 g/cm3, clay: 20 %, ph: 5.6}
labour: {push: 40 m}
places:
  - {name: wide, kind: row, shape: {rectangle: [8 m, 1.2 m]}, needs: [cover: {depth: 7 cm, keep: 15 %}]}
  - name: deep
    kind: row
    shape: {rectangle: [6 m, 1 m]}
    needs: [raise: {organic_matter: 2.6 %, depth: 15 cm, by: 2028-09-01}]
  - {name: thin, kind: row, shape: {rectangle: [5 m, 1 m]}, needs: [dress: {dose: 3 kg/m2}, lime: {ph: 6.3, depth: 20 cm}]}
  - {name: fed, kind: row, shape: {rectangle: [9 m, 1 m]}, needs: [feed: {nitrogen: 9 g/m2, potassium: 6 g/m2}]}
  - {name: tub, kind: pot, shape: {circle: {diameter: 50 cm}}, count: 4, needs: [fill: {depth: 40 cm}]}
ways:
  - name: yard
    buy: {material: green compost, price: 44 EUR/m3, step: 0.1 m3, minimum: 0.3 m3, delivery: 20 EUR, truck: 2 m3}
  - {name: bags, buy: {material: green compost, price: 6.50 EUR/bag, bag: 40 L, lead: 3 days}}
  - {name: chip, buy: {material: arborist chip, price: 9 EUR/m3, delivery: 40 EUR, truck: 10 m3, payload: 900 kg}}
  - {name: lime, buy: {material: ground limestone, price: 6.80 EUR/bag, bag: 5 kg}}
  - {name: meal, buy: {material: feather meal, price: 30 EUR/bag, bag: 5 kg}}
  - {name: ash, buy: {material: wood ash, price: 1 EUR/bag, bag: 5 kg}}
  - {name: soil, buy: {material: topsoil, price: 39 EUR/m3}}
  - {name: sand, buy: {material: sand, price: 4.20 EUR/bag, bag: 25 kg}}
"""


@cache
def field() -> Answer:
    """Return the options of a site with every kind of need."""
    return options(load(FIELD.encode(), "field.yaml").site)


def likely(value: Any) -> float:
    """Return the likely value, which stands last."""
    return float(value) if isinstance(value, float | int) else float(value[-1])


@cache
def cells(count: int = COUNT, seed: int = 1) -> dict[tuple[str, str], dict[str, Any]]:
    """Return what the rows of the field come to in some draws."""
    drawn = Draws(count, seed)
    amounts = Amounts(field().site, drawn, field().supplies)
    with drawn.reckoning():
        return {(row.need, row.name): option_cells(amounts, row) for row in field().options if row.acts}


def test_each_draw_is_what_the_ordinary_code_makes_of_it() -> None:
    """With the figures of a draw in the site, a row with the same dates has its amounts, money and hours."""
    compared = set()
    for number in TRIED:
        drawn = Draws(COUNT, 1)
        site = site_of(field().site, drawn, number)
        with rates_of(drawn, number):
            again = {(row.need, row.name): row for row in options(site).options}
        for row in field().options:
            key, other = (row.need, row.name), again.get((row.need, row.name))
            if key not in cells() or other is None or not (row.feasible and other.feasible):
                continue
            same = [dose.day for dose in row.decision.every_dose] == [
                d.day for d in other.decision.every_dose
            ]
            if not same:
                continue
            own = {
                name: float(numpy.broadcast_to(of, COUNT + 1)[number]) for name, of in cells()[key].items()
            }
            assert own["loose_m3"] == pytest.approx(other.loose, rel=1e-6), (number, key)
            assert own["hours"] == pytest.approx(other.hours.likely, rel=1e-6), (number, key)
            assert own["cash"] == pytest.approx(float(other.cash), abs=COIN * 20), (number, key)
            if row.outcome.matter_after_year is not None:
                left = other.outcome.matter_after_year
                assert own["organic_matter_left_kg"] == pytest.approx(left, rel=1e-6), (number, key)
            compared.add(row.need)
    assert compared == set(NEED_KINDS)


def test_what_is_still_to_be_limed_has_the_range_of_what_was_put_on() -> None:
    """Of ash logged since the soil test each draw takes off what it neutralises then, as the ordinary code does."""
    text = FIELD.split("places:")[0].replace("ph: 5.6", "ph: 5.4, tested: 2026-09-10")
    site = load(
        f"""{text}
places: [{{name: roots, kind: bed, shape: {{area: 12 m2}}, needs: [lime: {{ph: 6.0}}]}}]
ways: [{{name: lime, buy: {{material: ground limestone, price: 6.80 EUR/bag, bag: 5 kg}}}}]
history: [{{date: 2026-11-01, place: roots, material: wood ash, amount: 26.6 L}}]
""".encode(),
        "field.yaml",
    ).site
    answer, drawn = options(site), Draws(COUNT, 1)
    amounts = Amounts(site, drawn, answer.supplies)
    with drawn.reckoning():
        loose = option_cells(amounts, answer.options[0])["loose_m3"]
    assert likely(loose) == pytest.approx(answer.options[0].loose)
    assert min(loose) == 0 < max(loose)
    for number in TRIED:
        with rates_of(drawn, number):
            other = options(site_of(site, drawn, number)).options[0].loose
        assert loose[number] == pytest.approx(other, rel=1e-6), number


#: A head for sites of one place each, and sites in which ceilings, lots and ways share what is put on.
HEAD = """
site: Small
currency: EUR
start: 2027-02-20
horizon: 3 years
climate: {annual_mean: 11 degC, last_frost: 04-10, first_frost: 11-10}
soil: {organic_matter: 3 %, bulk_density: 1.3 g/cm3, clay: 18 %}
labour: {push: 25 m}
"""
TWO_FEEDS = f"""{HEAD}
places: [{{name: greens, kind: bed, shape: {{area: 23 m2}}, needs: [{{feed: {{nitrogen: 11 g/m2}}}}]}}]
ways:
  - {{name: van, buy: {{material: manure compost, price: 12 EUR/m3}}}}
  - {{name: pellets, buy: {{material: pelleted poultry manure, price: 13 EUR/bag, bag: 20 kg}}}}
"""
HELD_LONG = f"""{HEAD}
places:
  - name: bed
    kind: bed
    shape: {{area: 40 m2}}
    needs: [{{raise: {{organic_matter: 4.5 %, depth: 20 cm, by: 2028-10-01, hold: 3 years}}}}]
ways: [{{name: yard, buy: {{material: green compost, price: 20 EUR/m3, step: 0.25 m3, lead: 1 week}}}}]
"""
IN_LOTS = f"""{HEAD}
places: [{{name: bed, kind: row, shape: {{area: 30 m2}}, needs: [{{dress: {{dose: 14 kg/m2}}}}]}}]
ways: [{{name: pen, have: {{material: green compost, amount: 0.3 m3, per_year: true}}}}]
"""


def rows_of(text: str, number: int, drawn: Draws) -> dict[tuple[str, str], Any]:
    """Return the feasible options of a site with the figures of a draw, by need and way."""
    site = site_of(load(text.encode(), "small.yaml").site, drawn, number)
    with rates_of(drawn, number):
        return {(row.need, row.name): row for row in options(site).options if row.feasible}


@pytest.mark.parametrize("text", [TWO_FEEDS, HELD_LONG, IN_LOTS], ids=["two feeds", "held long", "in lots"])
def test_where_the_ordinary_code_meets_a_need_so_does_the_draw(text: str) -> None:
    """What shifts among ways and days within the ceilings is met as the ordinary code meets it, with its hours."""
    answer, drawn = options(load(text.encode(), "small.yaml").site), Draws(COUNT, 1)
    amounts, compared = Amounts(answer.site, drawn, answer.supplies), 0
    with drawn.reckoning():
        own = {(row.need, row.name): option_cells(amounts, row) for row in answer.options if row.feasible}
    for number in TRIED:
        for key, other in rows_of(text, number, drawn).items():
            row = next((of for of in answer.options if (of.need, of.name) == key and of.feasible), None)
            days = None if row is None else [dose.day for dose in row.decision.every_dose]
            if days != [dose.day for dose in other.decision.every_dose]:
                continue
            met, hours = (
                numpy.broadcast_to(own[key][name], COUNT + 1)[number] for name in ("met_percent", "hours")
            )
            assert met == pytest.approx(100, abs=0.01), (number, key)
            assert hours == pytest.approx(other.hours.likely, rel=0.02), (number, key)
            compared += 1
    assert compared >= len(TRIED) / 2


def test_no_amount_is_below_nothing() -> None:
    """In a draw in which compost ties nitrogen up nothing is put on for a feed, and it is not met."""
    text = TWO_FEEDS.replace("nitrogen: 11 g/m2", "nitrogen: 0.5 g/m2").replace(
        "manure compost", "green compost"
    )
    stuff = "materials: {green compost: {available_nitrogen: {low: -5 %, likely: 4 %, high: 10 %}}}\n"
    rows = barrowful.options(barrowful.load((text + stuff).encode()), ranges=True).table("options").rows
    [row] = [row for row in rows if row["way"] == "van"]
    assert row["loose_m3_10"] == row["cash_10"] == row["hours_10"] == row["met_percent_10"] == 0
    assert 0 < row["loose_m3_50"] < row["loose_m3_90"]


def test_a_shared_delivery_stands_where_it_stands_without_ranges() -> None:
    """Of orders that come together each has the trips and the money that its line has."""
    site = barrowful.load(DEMO / "odd-bucket-yard.yaml")
    plain, ranged = (barrowful.orders(site, ranges=ranges).table("orders").rows for ranges in (False, True))
    assert {row["trips"] for row in plain} >= {0, 8}
    for row, other in zip(plain, ranged, strict=True):
        assert other["cash_10"] <= other["cash"] == row["cash"] <= other["cash_90"]
        assert (row["trips"] == 0) == (other["trips_10"] == other["trips_90"] == 0)


def test_what_is_typed_by_weight_weighs_what_it_did() -> None:
    """A plan and a history in kilograms: no more bags for loose stuff, and the carbon of what was weighed."""
    text = f"""{TWO_FEEDS}
plan: [{{place: greens, need: feed, way: pellets, date: 2027-03-10, amount: 20 kg}}]
history: [{{date: 2027-01-10, place: greens, material: green compost, amount: 300 kg, dug: true}}]
"""
    site = barrowful.load(text.encode())
    [order] = barrowful.orders(site, ranges=True).table("orders").rows
    assert order["order_quantity_10"] == order["order_quantity"] == order["order_quantity_90"] == 1
    weighed, spread_out = (
        barrowful.course(barrowful.load(one.encode()), ranges=True).table("course").rows[-1]
        for one in (text, text.replace("300 kg", "0.5 m3"))
    )
    widths = [row["humus_carbon_kg_90"] / row["humus_carbon_kg_10"] for row in (weighed, spread_out)]
    assert widths[0] < widths[1]


def test_home_compost_keeps_its_dry_mass() -> None:
    """What moisture does to compost of one's own is its weight, and not what is in it."""
    ways = """
  - name: heap
    make: {bays: 2, bay: 1 m3, turn_every: 2 weeks, from: [{material: straw, weekly: 150 L}, {material: cattle manure, weekly: 100 L}]}
"""
    text = IN_LOTS[: IN_LOTS.index("ways:")].replace("dose: 14 kg/m2", "depth: 1 cm") + f"ways:{ways}"
    [row] = barrowful.sizes(barrowful.load(text.encode()), ranges=True).table("sizes").rows
    assert row["mass_kg_10"] < row["mass_kg"] < row["mass_kg_90"]
    assert row["dry_kg_10"] == pytest.approx(row["dry_kg_90"])
    assert row["nitrogen_g_10"] == pytest.approx(row["nitrogen_g_90"])


def test_a_heap_of_stuff_of_no_known_density_has_ranges() -> None:
    """The hours of a heap are reckoned where its stuff is drawn, and nothing of it is put in words."""
    text = """
site: A heap of grounds
currency: EUR
start: 2027-03-01
places:
  - {name: bed, kind: bed, shape: {area: 40 m2}, needs: [{cover: {depth: 5 cm}}]}
ways:
  - name: heap
    make: {bays: 2, bay: 1 m3, from: [{material: coffee grounds, weekly: 20 kg}, {material: straw, weekly: 100 L}]}
"""
    [row] = barrowful.options(barrowful.load(text.encode()), ranges=True, draws=100).table("options").rows
    assert 0 < row["hours_10"] < row["hours"] < row["hours_90"]


@pytest.mark.parametrize("demo", DEMOS)
def test_what_is_likely_is_what_it_is_without_ranges(demo: str) -> None:
    """The value after the draws is that of the ordinary answer, for every cell of every row of the demos."""
    site = barrowful.load(DEMO / f"{demo}.yaml")
    plain, answer = barrowful.options(site).table("options").rows, options(site.site)
    drawn = Draws(100, 1)
    amounts = Amounts(site.site, drawn, answer.supplies)
    for row, shown in zip(answer.options, plain, strict=True):
        if not row.acts:
            continue
        with drawn.reckoning():
            own = option_cells(amounts, row)
        for key, value in own.items():
            if shown[key] is not None:
                coins = COIN * 20 if key.startswith("cash") else 1e-9
                assert likely(value) == pytest.approx(float(shown[key]), rel=1e-6, abs=coins), (row.name, key)


def test_one_stuff_is_dear_or_cheap_for_all_its_ways() -> None:
    """A figure that two ways go by is drawn once: compost by the bag takes what compost in bulk takes."""
    bulk, bags = cells()["dress", "yard"], cells()["dress", "bags"]
    assert numpy.ptp(bulk["loose_m3"]) > 0
    assert numpy.array_equal(bulk["loose_m3"], bags["loose_m3"])


def test_draws_depend_on_their_figure_and_seed_alone() -> None:
    """Another figure asked for first changes nothing; another seed does."""
    first, later = Draws(COUNT, 1), Draws(COUNT, 1)
    stuff = field().site.way("yard").material
    later.material(stuff)["moisture"]
    assert numpy.array_equal(first.material(stuff)["density"], later.material(stuff)["density"])
    assert not numpy.array_equal(first.material(stuff)["density"], Draws(COUNT, 2).material(stuff)["density"])


@pytest.mark.parametrize("key", ["loose_m3", "hours"])
def test_more_draws_hardly_move_the_middle(key: str) -> None:
    """Between 1,024 and 4,096 draws the middle of amounts and hours moves by less than a hundredth."""
    few, many = cells(1024), cells(4096)
    for row in few:
        middle = spread(many[row][key]).fifty
        assert spread(few[row][key]).fifty == pytest.approx(middle, rel=0.01), row


def test_what_has_no_range_gives_none() -> None:
    """Where every figure of the stuff is stated as one value only the hours of work have a range."""
    stated = {name: figure.typed for name, figure in field().site.way("yard").material.figures.items()}
    text = FIELD + f"materials: {json.dumps({'green compost': stated})}\n"
    rows = barrowful.options(barrowful.load(text.encode()), ranges=True, draws=100).table("options").rows
    [row] = [row for row in rows if (row["need"], row["way"]) == ("dress", "yard")]
    assert row["loose_m3_10"] == row["loose_m3"] == row["loose_m3_90"]
    assert row["cash_10"] == row["cash"] == row["cash_90"]
    assert row["hours_10"] < row["hours"] < row["hours_90"]


def test_the_order_of_the_file_changes_no_range() -> None:
    """Places and ways in another order have the same ranges."""
    head, places = FIELD.split("places:\n")
    places, ways = places.split("ways:\n")
    lines = ways.splitlines()
    two, rest = lines[:2], lines[2:]
    turned = "\n".join([*reversed(rest), *two])
    given = {
        text: {
            (row["need"], row["way"]): row
            for row in barrowful.options(barrowful.load(text.encode()), ranges=True, draws=100)
            .table("options")
            .rows
        }
        for text in (FIELD, f"{head}places:\n{places}ways:\n{turned}\n")
    }
    one, other = given.values()
    for key, row in one.items():
        for name in ("loose_m3_10", "cash_50", "hours_90"):
            assert key not in other or row[name] == pytest.approx(other[key][name]), (key, name)


def test_what_stops_at_a_ceiling_is_told() -> None:
    """A raise that compost likely meets just within the ceiling is met in some of the draws, and no deeper."""
    text = FIELD.replace("organic_matter: 2.6 %", "organic_matter: 3.4 %").replace("kind: row", "kind: bed")
    report = barrowful.options(barrowful.load(text.encode()), ranges=True, draws=400)
    rows = report.table("options").rows
    met = [row for row in rows if row["need"] == "raise" and row["feasible"] and row["met_percent_10"] < 99]
    assert met, [row["why_not"] for row in rows if row["need"] == "raise"]
    assert any("met in" in sentence and "raise" in sentence for sentence in report.answer)


def test_drivers_are_the_figures_that_matter() -> None:
    """A dressing by weight goes by its density, and by nothing else; its share is all of it."""
    report = barrowful.sizes(barrowful.load(FIELD.encode()), ranges=True)
    driven = [row for row in report.table("drivers").rows if row["row"].startswith("dress")]
    assert [row["figure"] for row in driven] == ["material green compost: density"]
    assert driven[0]["share_percent"] == pytest.approx(100, abs=0.1)


def test_a_course_keeps_what_is_put_on() -> None:
    """Its ranges hold what is likely, and part with time; on the first day all is known."""
    report = barrowful.course(barrowful.load(FIELD.encode()), ranges=True, years=8)
    rows = [row for row in report.table("course").rows if row["place"] == "deep"]
    widths = [row["organic_matter_percent_90"] - row["organic_matter_percent_10"] for row in rows]
    assert widths[0] == 0 < max(widths)
    for row in rows:
        low, high = row["organic_matter_percent_10"], row["organic_matter_percent_90"]
        assert low <= row["organic_matter_percent"] <= high


@given(st.integers(0, 2**32 - 1), st.integers(2, 400))
@draws(30)
def test_strata_are_one_in_each_part(seed: int, count: int) -> None:
    """There is one share in each of so many equal parts, and the second half mirrors the first."""
    shares, half = strata("density", seed, count), count // 2
    assert sorted(numpy.floor(shares * count).astype(int)) == list(range(count))
    assert shares[:half] + shares[half : 2 * half] == pytest.approx(1.0)


@given(st.floats(0, 1e4), st.floats(0, 1e3), st.floats(0, 1e3), st.lists(st.floats(0.001, 0.999), min_size=1))
@draws(60)
def test_a_triangle_is_scipys(low: float, left: float, right: float, shares: list[float]) -> None:
    """Its values are those of scipy.stats.triang, and the likely one stands after them."""
    if left + right < 1e-3:
        return
    values = triangle(numpy.array(shares), low, low + left, low + left + right)
    wanted = stats.triang(left / (left + right), low, left + right).ppf(shares)
    assert values[:-1] == pytest.approx(wanted, rel=1e-6, abs=1e-6)
    assert values[-1] == low + left


@given(st.lists(st.tuples(st.integers(0, 9), st.floats(-5, 5)), min_size=8, max_size=60))
@draws(40)
def test_what_is_explained_is_scipys(pairs: list[tuple[int, float]]) -> None:
    """The share is the square of Spearman's rho as scipy has it, equal ranks and all."""
    one, other = (numpy.array([*each, 0.0], dtype=float) for each in zip(*pairs, strict=True))
    if numpy.ptp(one[:-1]) == 0 or numpy.ptp(other[:-1]) == 0:
        assert explained(ranks(one), ranks(other)) == 0
        return
    rho = stats.spearmanr(one[:-1], other[:-1]).statistic
    assert explained(ranks(one), ranks(other)) == pytest.approx(rho**2, abs=1e-9)


def test_two_amounts_that_two_rows_settle_are_solved() -> None:
    """Where two rows bind two amounts, each draw solves them; where that goes below nothing they grow alike."""
    each, least = numpy.array([2.0, 2.0, 2.0]), numpy.array([8.0, 1.0, 6.0])
    rows = [AtLeast([each, 1.0], least), AtLeast([0.0, 1.0], 2.0)]
    one, other = resized([2.0, 2.0], rows, [])
    assert list(one) == [3.0, 2.0, 2.0]
    assert list(other) == [2.0, 2.0, 2.0]
