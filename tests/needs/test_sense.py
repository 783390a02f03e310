"""What a careful adviser would not let pass: hot and cold heaps, farms near water, lime beside muck, far days."""

from __future__ import annotations

import re
from datetime import date

import pytest

import barrowful
from barrowful.answers.advice import advice
from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import cheapest
from barrowful.answers.heaps import heap_sentences
from barrowful.answers.instead import instead
from barrowful.answers.option import Option
from barrowful.answers.options import options
from barrowful.measures.problems import CannotMeet
from barrowful.needs.breaches import breaches
from barrowful.needs.registry import NEEDS
from barrowful.needs.settled import Settled
from barrowful.site.load import load
from barrowful.site.records import Site
from barrowful.supplies.heap.heaps import heaps_of
from barrowful.supplies.joint import Joint

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
    """No manure is offered near water, on a farm no compost either; in a garden a caution tells of that."""
    place = f"kind: row, near_water: {str(near).lower()}, needs: [{{dress: {{depth: 5 mm}}}}]"
    more = f", limits: {{farm: {str(farm).lower()}}}"
    row = row_of(
        site_of_text(place, f"{{name: way, buy: {{material: {stuff}, price: 9 EUR/m3}}}}", more=more),
        "dress",
        "way",
    )
    barred = near and (stuff == "horse manure" or (farm and stuff == "green compost"))
    assert ("near water" in row.why_not) is barred
    assert bool(row.decision.every_dose) is not barred


@pytest.mark.parametrize("stuff", ["poultry litter", "pelleted poultry manure", "horse manure"])
def test_manure_feeds_nothing_near_water_unless_let(stuff: str) -> None:
    """Meal is what is done there, though manure is free; lifted, manure is."""
    place = "kind: bed, near_water: true, needs: [{feed: {nitrogen: 4 g/m2}}]"
    ways = (
        f"{{name: muck, buy: {{material: {stuff}, price: 0 EUR/kg}}}},"
        " {name: meal, buy: {material: feather meal, price: 2 EUR/kg}}"
    )
    for more, done in (("", {"meal"}), (", limits: {lift: [suits, yearly_depth]}", {"muck"})):
        site = site_of_text(place, ways, more=more)
        assert {dose.way for dose in cheapest(options(site)).together.all_doses} == done


@pytest.mark.parametrize(
    ("need", "near", "names"),
    [
        ("{dress: {depth: 2 cm}}", "true", ""),
        ("{dress: {depth: 2 cm}}", "false", "green compost"),
        ("{feed: {nitrogen: 4 g/m2}}", "true", "feather meal"),
    ],
)
def test_what_would_serve_near_water_is_no_compost(need: str, near: str, names: str) -> None:
    """Manure was barred by its caution, and compost named as the cure."""
    place = f"kind: bed, near_water: {near}, harvest_from: 07-01, needs: [{need}]"
    answer = options(site_of_text(place, "{name: way, have: {material: poultry litter, amount: 1 m3}}"))
    [row] = answer.options
    assert instead(answer, row).split(", ")[0] == names


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
        " {name: salads, kind: bed, shape: {area: 20 m2}, eaten_raw: true, harvest_from: 05-20, needs: [{dress: {depth: 5 mm, dug: true}}]}]}"
    )
    site = load(text.encode(), "field.yaml").site
    line = " ".join(advice(cheapest(options(site)))[1].split())
    assert line.startswith(
        "- muck: 0.1 m3, order by 2027-05-10; dress fallow, 0.1 m3 (2 barrows) from 2027-05-17"
    )
    assert line.endswith("more on salads to 2027-10-26; 1 more order to 2027-10-26.")


def test_the_reason_told_is_of_what_might_do() -> None:
    """Where one way does not suit at all and another is only held back, it is told what holds the other back."""
    history = ", history: [{date: 2026-10-01, place: bed, material: horse manure, depth: 20 mm}]"
    ways = "{name: chip, buy: {material: arborist chip, price: 9 EUR/m3}}, {name: yard, buy: {material: green compost, price: 9 EUR/m3}}"
    site = site_of_text("kind: bed, needs: [{dress: {depth: 3 cm}}]", ways, more=history)
    told = " ".join(advice(cheapest(options(site))))
    assert "yearly_depth" in told
    assert "wood is neither" not in told


PELLETS = (
    "{name: pellets, buy: {material: pelleted poultry manure, price: 12 EUR/bag, bag: 20 kg, lead: 3 days}}"
)


def test_a_feed_waits_for_lime_in_every_year() -> None:
    """Pellets for limed ground go on four weeks after the lime and a year later, not on days of lime again."""
    place = "kind: bed, needs: [{lime: {ph: 6.5}}, {feed: {nitrogen: 20 g/m2}}]"
    whole = cheapest(options(site_of_text(place, f"{LIME}, {PELLETS}", ", ph: 5.2")))
    assert whole.unmet == ()
    days: dict[str, list[date]] = {"lime": [], "feed": []}
    for dose in whole.together.all_doses:
        days[dose.kind].append(dose.day)
    assert len(days["lime"]) > 1
    assert all(abs((fed - limed).days) >= 28 for fed in days["feed"] for limed in days["lime"])


def test_several_ways_leave_a_deep_first_dressing_first() -> None:
    """Nothing is fed before the deep dressing a new bed may have once: it would be the first in its stead."""
    place = "kind: bed, new: true, needs: [{dress: {depth: 9 cm}}, {feed: {nitrogen: 5 g/m2}}]"
    ways = (
        "{name: dung, have: {material: cattle manure, amount: 9 m3}}, "
        "{name: late, buy: {material: green compost, price: 20 EUR/m3, lead: 58 weeks}}, "
        "{name: feather, buy: {material: feather meal, price: 4 EUR/kg}}"
    )
    answer = options(site_of_text(place, ways))
    [dressed] = [row for row in answer.options if (row.need, row.name) == ("dress", "late")]
    both = Joint((answer.supplies["dung"], answer.supplies["feather"]))
    beside = Settled(answer.site)
    beside.put_on(dressed.decision.every_dose)
    fed = NEEDS["feed"].decide(answer.site, answer.site.places, both, beside)
    assert breaches(answer.site, [*dressed.decision.every_dose, *fed.every_dose]) == []


def test_a_way_that_does_it_with_care_is_a_row_by_itself() -> None:
    """A heap sized by every nutrient meets what it leaves short sized by nitrogen: a pair with no dung is none."""
    text = """
site: Field
currency: EUR
start: 2027-03-01
horizon: 3 years
climate: {annual_mean: 11 degC}
soil: {organic_matter: 1 %, bulk_density: 1.35 g/cm3, clay: 24 %, ph: 5.2, tested: 2026-10-01}
ways:
  - {name: dung, have: {material: cattle manure, amount: 0.05 m3, per_year: true}}
  - name: heap
    make:
      bays: 2
      bay: 1 m3
      from:
        - {material: arborist chip, weekly: 60 L}
        - {material: coffee grounds, weekly: 25 kg}
        - {material: grass clippings, weekly: 40 kg}
places:
  - name: bed
    kind: bed
    shape: {area: 7.7 m2}
    harvest_from: 05-20
    limits: {lift: [available_nitrogen]}
    needs: [{feed: {nitrogen: 3 g/m2, phosphorus: 1 g/m2, allowance: 10 %}}]
"""
    answer = options(load(text.encode(), "field.yaml").site)
    met = {row.name for row in answer.options if row.feasible}
    assert met == {"heap"}
    assert "feed" in cheapest(answer).met


def test_what_is_over_a_limit_is_told_of_its_own_sum() -> None:
    """What would do is named with what both cost over the limit: not with another way's cash over it.

    0.216 m3 of compost at 40 EUR is 8.64 EUR, and chip two loads at 28 EUR in time: 64.64 EUR in all.
    """
    place = "kind: bed, needs: [{dress: {depth: 2 cm, dug: true}}, {cover: {depth: 8 cm}}]"
    ways = (
        "{name: compost, buy: {material: green compost, price: 40 EUR/m3}}, "
        "{name: chip, buy: {material: arborist chip, price: 28 EUR/load, load: 5 m3}}, "
        "{name: hay, buy: {material: hay, price: 9 EUR/bag, bag: 20 kg}}"
    )
    whole = cheapest(options(site_of_text(place, ways, more=", limits: {cash: 60 EUR}")))
    [kind] = whole.unmet
    because, _ = whole.why_left_out(kind, "bed")
    name = {"cover": "chip", "dress": "compost"}[kind]
    assert because == f"{name} would do, but 4.64 EUR over limits.cash beside the rest"


def test_what_keeps_manure_off_limed_ground_is_told() -> None:
    """Pellets might go on in time, or lime: that 28 days are kept between them is why not both."""
    place = "kind: bed, needs: [{lime: {ph: 6.5}}, {feed: {nitrogen: 5 g/m2}}]"
    pellets = "{name: pellets, buy: {material: pelleted poultry manure, price: 1 EUR/kg, lead: 1 week}}"
    whole = cheapest(
        options(site_of_text(place, f"{LIME}, {pellets}", ", ph: 5.8", ", limits: {by: 2027-05-30}"))
    )
    assert whole.unmet == ("feed",)
    because, _ = whole.why_left_out("feed", "bed")
    assert because == (
        "pellets would do, but ready 2027-06-07, 8 days after limits.by beside the rest:"
        " 28 days are kept between lime and fresh manure"
    )


@pytest.mark.parametrize(
    ("terms", "fetched"), [("delivery: 90 EUR, ", False), ("", True), ("trip: 1 h, ", True)]
)
def test_what_is_delivered_is_on_nobodys_trailer(terms: str, fetched: bool) -> None:
    """What one trip carries is the lorry's load where delivery is paid, and one's own trailer's else."""
    way = f"{{name: way, buy: {{material: ground limestone, price: 30 EUR/t, {terms}payload: 15 t}}}}"
    row = row_of(site_of_text("kind: bed, needs: [{lime: {ph: 6.5}}]", way, ", ph: 5.8"), "lime", "way")
    orders = [placed.order for placed in row.orders]
    words = set(row.supply.hazards(row.decision.every_dose, orders))
    assert ("own collection" in words) is fetched


def test_what_a_feed_lacks_is_beside_all_that_is_followed() -> None:
    """Where nothing is put on for it all is lacking, however near some way would come."""
    place = "kind: bed, needs: [{feed: {nitrogen: 10 g/m2}}]"
    answer = options(site_of_text(place, "{name: few, have: {material: feather meal, amount: 1 kg}}"))
    assert "lacks 108 g of nitrogen" in " ".join(advice(cheapest(answer)))


TUBS = (
    "{site: Tubs, currency: EUR, start: 2027-03-05, horizon: 1 year, climate: {annual_mean: 12 degC},"
    " limits: {cash: %s EUR}, places: [{name: tubs, kind: pot, shape: {circle: {diameter: 45 cm}}, count: 8,"
    " needs: [{fill: {depth: 38 cm}}, {feed: {nitrogen: 10 g/m2}}, {cover: {depth: 3 cm}}]}], ways:"
    " [{name: soil, buy: {material: topsoil, price: 5 EUR/bag, bag: 28 L}},"
    " {name: sand, buy: {material: sand, price: 5 EUR/bag, bag: 23 kg}},"
    " {name: compost, buy: {material: green compost, price: 5 EUR/bag, bag: 28 L}},"
    " {name: meal, buy: {material: blood meal, price: 15 EUR/bag, bag: 5 kg}},"
    " {name: bark, buy: {material: bark mulch, price: 4 EUR/bag, bag: 50 L}}]}"
)


@pytest.mark.parametrize(("cash", "met"), [(60, set()), (200, {"fill", "cover", "feed"})])
def test_nothing_goes_on_before_it_is_filled(cash: int, met: set[str]) -> None:
    """Tubs that there is no money to fill are neither fed nor mulched, by a row or by a plan."""
    whole = cheapest(options(load((TUBS % cash).encode(), "tubs.yaml").site))
    assert {kind for kind, _ in whole.places_met} == met
    if not met:
        assert not whole.together.all_doses
        assert whole.why_left_out("feed", "tubs") == ("nothing goes on before it is filled", None)
        with pytest.raises(CannotMeet, match=r"limits\.cash"):
            barrowful.plan(barrowful.load((TUBS % cash).encode()))


def test_greens_are_put_on_as_they_come() -> None:
    """A pile of clippings rots where it lies: a feed has them on the day they come, and none of last year's."""
    ways = "{name: lawn, have: {material: grass clippings, amount: 2 m3, per_year: true, comes: 06-01}}"
    row = row_of(site_of_text("kind: bed, needs: [{feed: {nitrogen: 4 g/m2}}]", ways), "feed", "lawn")
    assert {(dose.day.month, dose.day.day) for dose in row.decision.every_dose} == {(6, 1)}
    ways = "{name: pile, have: {material: leaf mould, amount: 2 m3}}"
    kept = row_of(site_of_text("kind: bed, needs: [{feed: {potassium: 1 g/m2}}]", ways), "feed", "pile")
    assert len({dose.day.year for dose in kept.decision.every_dose}) == 3


def test_hours_a_week_leave_a_later_day_as_it_is() -> None:
    """Half an hour's work for a raise that is due after the horizon is not late where hours a week are told."""
    need = "kind: bed, needs: [{raise: {organic_matter: 3.2 %, depth: 10 cm, by: 2032-09-01}}]"
    ways = "{name: yard, buy: {material: green compost, price: 10 EUR/m3}}"
    for more in ("", ", labour: {hours_per_week: 20 h}"):
        site = site_of_text(need, ways, more=more)
        whole = cheapest(options(site))
        assert whole.places_met == {("raise", "bed")}
        assert whole.ready_on is not None
        assert site.end < whole.ready_on
    assert not cheapest(
        options(site_of_text(need, ways, more=", labour: {hours_per_week: 0.01 h}"))
    ).places_met


def test_a_plan_lays_no_cover_for_the_last_months() -> None:
    """Straw and leaves that come each year and never keep a row covered are no cover of the last months."""
    text = (
        "{site: Hollow, currency: EUR, start: 2027-03-20, horizon: 4 years, climate: {annual_mean: 9.5 degC},"
        " places: [{name: row, kind: row, shape: {area: 15 m2}, needs: [{cover: {depth: 6 cm}}]}], ways:"
        " [{name: straw, have: {material: straw, amount: 30 kg, per_year: true, comes: 09-01}},"
        " {name: leaves, have: {material: autumn leaves, amount: 1 m3, per_year: true, comes: 11-05}}]}"
    )
    with pytest.raises(CannotMeet, match=r"cover, row: .* short"):
        barrowful.plan(barrowful.load(text.encode()))


def test_a_plan_leaves_no_new_plants_bare_so_that_straw_lasts() -> None:
    """Straw on hand that covers a row for one year of two is no cover from the second winter on."""
    text = (
        "{site: Hollow, currency: EUR, start: 2027-04-15, horizon: 2 years, climate: {monthly_mean:"
        " [-16 degC, -13 degC, -6 degC, 2 degC, 9 degC, 14 degC, 17 degC, 15 degC, 9 degC, 3 degC, -6 degC, -13 degC]},"
        " places: [{name: row, kind: row, shape: {area: 36 m2}, needs: [{cover: {depth: 8 cm}},"
        " {feed: {nitrogen: 4 g/m2}}]}],"
        " ways: [{name: straw, have: {material: straw, amount: 6 m3}},"
        " {name: meal, buy: {material: blood meal, price: 3 EUR/kg}}]}"
    )
    report = barrowful.plan(barrowful.load(text.encode()))
    assert "Not met: cover, row: not kept up" in " ".join(report.answer)


def test_the_first_line_names_what_one_way_leaves_wanted() -> None:
    """Meal that brings all nitrogen lacks potassium alone: its salt is named, not another meal."""
    ways = (
        "{name: meal, buy: {material: blood meal, price: 3 EUR/kg}},"
        " {name: pile, have: {material: green compost, amount: 20 L}}"
    )
    site = site_of_text("kind: bed, needs: [{feed: {nitrogen: 18 g/m2, potassium: 15 g/m2}}]", ways)
    told = " ".join(" ".join(advice(cheapest(options(site)))).split())
    assert re.search(
        r"Not met: feed, bed .* Would serve: sulphate of potash, [0-9.]+ kg \(bed\) beside meal", told
    )


@pytest.mark.parametrize(
    ("bag", "told"),
    [("20 kg", None), ("40 kg", "heavy-bag"), ("50 kg", "heavy-bag"), ("363 kg", "bale-for-a-machine")],
)
def test_who_lifts_a_bag(bag: str, told: str | None) -> None:
    """Two people were told to lift a round bale of 363 kg: from 50 kg on it is left to a machine."""
    ways = f"{{name: hay, buy: {{material: hay, price: 45 EUR/bag, bag: {bag}}}}}"
    site = site_of_text("kind: row, needs: [{cover: {depth: 10 cm}}]", ways)
    keys = {entry.caution.key for entry in cautions_for(options(site))}
    assert keys & {"heavy-bag", "bale-for-a-machine"} == ({told} if told else set())
