"""What a careful adviser would not let pass: hot and cold heaps, farms near water, lime beside muck, far days."""

from __future__ import annotations

from datetime import date

import pytest

from barrowful.answers.advice import advice
from barrowful.answers.choices import cheapest
from barrowful.answers.heaps import heap_sentences
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.needs.registry import NEEDS
from barrowful.site.load import load
from barrowful.site.records import Site
from barrowful.supplies.heap.heap import heaps_of

HEAD = "{site: Field, currency: EUR, start: 2027-05-10, horizon: 3 years, climate: {annual_mean: 11 degC, first_frost: 10-25}, "
GROUND = "organic_matter: 3 %, bulk_density: 1.3 g/cm3, clay: 18 %"


def site_of_text(place: str, ways: str, soil: str = "", more: str = "") -> Site:
    """Return the site of one place, told without its shape, and ways."""
    text = f"{HEAD}soil: {{{GROUND}{soil}}}, places: [{{name: bed, shape: {{area: 10.8 m2}}, {place}}}], ways: [{ways}]{more}}}"
    return load(text.encode(), "field.yaml").site


def row_of(site: Site, need: str, way: str) -> Option:
    """Return the row of a need by a way."""
    [row] = [row for row in options(site).options if (row.need, row.name) == (need, way)]
    return row


SALADS = "kind: bed, eaten_raw: true, harvest_from: 05-20, needs: [{dress: {depth: 5 mm}}]"
MUCK = "from: [{material: horse manure, weekly: 400 L}, {material: straw, weekly: 400 L}]"
HOT = ", ".join(f"{{date: 2027-06-{day:02}, temperature: 60 degC}}" for day in range(1, 20))
COLD = "{date: 2027-06-01, temperature: 38 degC}"


@pytest.mark.parametrize(
    ("terms", "raw"),
    [
        ("bay: 1 m3, turn_every: 1 week", False),
        ("bay: 1 m3", True),
        ("bay: 1 m3, turn_every: 1 year", True),
        ("bay: 0.6 m3, turn_every: 1 week", True),
        (f"bay: 1 m3, turn_every: 1 week, readings: [{COLD}]", True),
        (f"bay: 1 m3, readings: [{HOT}]", False),
    ],
)
def test_compost_of_raw_manure_waits_unless_it_was_hot(terms: str, raw: bool) -> None:
    """What nothing says gets hot stays raw: none of it goes on from 120 days before the harvest to the frost."""
    site = site_of_text(SALADS, f"{{name: heap, make: {{{terms}, {MUCK}}}}}")
    row = row_of(site, "dress", "heap")
    assert row.materials[0].has("raw") is raw
    told = heap_sentences(heaps_of(options(site).supplies.values()))
    assert any("waits for a harvest as raw manure" in sentence for sentence in told) is raw
    days = [dose.day for dose in row.decision.every_dose]
    assert days
    if raw:
        assert all((day.month, day.day) > (10, 25) or (day.month, day.day) < (1, 20) for day in days)


def test_what_holds_no_manure_is_not_raw() -> None:
    """A cold heap of straw and clippings is compost."""
    heap = "{name: heap, make: {bay: 0.6 m3, from: [{material: straw, weekly: 60 L}, {material: grass clippings, weekly: 80 L}]}}"
    assert not row_of(site_of_text(SALADS, heap), "dress", "heap").materials[0].has("raw")


@pytest.mark.parametrize("farm", [True, False])
@pytest.mark.parametrize("near", [True, False])
@pytest.mark.parametrize("stuff", ["horse manure", "green compost", "arborist chip"])
def test_farms_keep_manure_and_compost_from_water(farm: bool, near: bool, stuff: str) -> None:
    """On a farm no manure or compost is offered near water; in a garden a caution tells of it."""
    place = f"kind: row, near_water: {str(near).lower()}, needs: [{{dress: {{depth: 5 mm}}}}]"
    more = f", limits: {{farm: {str(farm).lower()}}}"
    row = row_of(
        site_of_text(place, f"{{name: way, buy: {{material: {stuff}, price: 9 EUR/m3}}}}", more=more),
        "dress",
        "way",
    )
    barred = farm and near and stuff != "arborist chip"
    assert ("near water" in row.why_not) is barred
    assert bool(row.decision.every_dose) is not barred


@pytest.mark.parametrize("dry", ["a bed", "z bed"])
def test_ground_away_from_water_is_no_twin_of_ground_near_it(dry: str) -> None:
    """Of two farm beds alike but for water, the dry one gets compost and the wet one none."""
    places = ", ".join(
        f"{{name: {name}, kind: bed, shape: {{area: 10 m2}}, near_water: {near}, needs: [{{dress: {{depth: 2 mm}}}}]}}"
        for name, near in ((dry, "false"), ("m bed", "true"))
    )
    way = "{name: way, buy: {material: green compost, price: 9 EUR/m3}}"
    text = f"{HEAD}soil: {{{GROUND}}}, limits: {{farm: true}}, places: [{places}], ways: [{way}]}}"
    [row] = options(load(text.encode(), "field.yaml").site).options
    assert {dose.place.name for dose in row.decision.every_dose} == {dry}


LIME = "{name: lime, buy: {material: ground limestone, price: 1 EUR/kg}}"


@pytest.mark.parametrize(("stuff", "days"), [("horse manure", 28), ("green compost", 0)])
def test_manure_waits_for_lime(stuff: str, days: int) -> None:
    """Fresh manure for a bed goes on four weeks after its lime; compost does not wait."""
    place = "kind: bed, needs: [{lime: {ph: 6.5}}, {dress: {depth: 5 mm}}]"
    site = site_of_text(
        place, f"{LIME}, {{name: muck, buy: {{material: {stuff}, price: 9 EUR/m3}}}}", ", ph: 5.8"
    )
    doses = {dose.kind: dose.day for dose in cheapest(options(site)).together.all_doses}
    assert (doses["dress"] - doses["lime"]).days == days


def test_lime_waits_for_manure_that_was_spread() -> None:
    """Lime goes on four weeks after manure that the history has."""
    history = ", history: [{date: 2027-05-01, place: bed, material: horse manure, amount: 20 L}]"
    site = site_of_text("kind: bed, needs: [{lime: {ph: 6.5}}]", LIME, ", ph: 5.8", history)
    [dose] = row_of(site, "lime", "lime").decision.doses
    assert dose.day == date(2027, 5, 29)


@pytest.mark.parametrize("start", ["2027-03-14", "2027-05-10", "2027-09-01", "2028-01-01"])
@pytest.mark.parametrize("horizon", ["1 year", "3 years", "5 years"])
def test_a_raise_without_a_date_is_not_put_off_for_decades(start: str, horizon: str) -> None:
    """A heap that brings compost thrice a year raises a bed in a few years, held a year from its first dose's."""
    heap = (
        "{name: heap, make: {bay: 1 m3, turn_every: 2 weeks, from: [{material: straw, weekly: 60 L},"
        " {material: grass clippings, weekly: 80 L}]}}"
    )
    place = "kind: bed, needs: [{raise: {organic_matter: 3.2 %, depth: 15 cm}}]"
    site = site_of_text(place, heap)
    text = f"{HEAD}soil: {{{GROUND}}}, places: [{{name: bed, shape: {{area: 10.8 m2}}, {place}}}], ways: [{heap}]}}"
    text = text.replace("start: 2027-05-10", f"start: {start}").replace("3 years", horizon)
    site = load(text.encode(), "field.yaml").site
    row = row_of(site, "raise", "heap")
    assert row.decision.feasible
    assert row.ready_on is not None
    assert row.ready_on.year <= 2031
    judged = NEEDS["raise"].judge(site, site.places[0], row.decision.every_dose)
    assert judged.why_not == ""


def test_the_first_line_is_of_the_first_order() -> None:
    """What is ordered first is told with what it is for; what waits for another order is told as more."""
    text = (
        f"{HEAD}soil: {{{GROUND}}}, ways: [{{name: muck, buy: {{material: horse manure, price: 9 EUR/m3, lead: 1 week}}}}],"
        " places: [{name: fallow, kind: bed, shape: {area: 20 m2}, needs: [{dress: {depth: 5 mm}}]},"
        " {name: salads, kind: bed, shape: {area: 20 m2}, eaten_raw: true, harvest_from: 05-20, needs: [{dress: {depth: 5 mm}}]}]}"
    )
    site = load(text.encode(), "field.yaml").site
    line = " ".join(advice(cheapest(options(site)))[1].split())
    assert line.startswith(
        "- muck: 0.1 m3, order by 2027-05-10; dress fallow, 0.1 m3 (2 barrows) from 2027-05-17"
    )
    assert line.endswith("more on salads to 2027-10-26; 1 more order to 2027-10-26.")


def test_the_reason_told_is_of_what_might_do() -> None:
    """Where one way does not suit at all and another is only held back, it is told what holds the other back."""
    history = ", history: [{date: 2026-10-01, place: bed, material: horse manure, depth: 20 mm}], limits: {by: 2027-06-01}"
    ways = "{name: chip, buy: {material: arborist chip, price: 9 EUR/m3}}, {name: yard, buy: {material: green compost, price: 9 EUR/m3}}"
    site = site_of_text("kind: bed, needs: [{dress: {depth: 2 cm}}]", ways, more=history)
    told = " ".join(advice(cheapest(options(site))))
    assert "yearly_depth" in told
    assert "wood is neither" not in told
