"""What is met already, what counts for a need, and what no plan can do: small invented sites."""

from __future__ import annotations

import pytest
from plan_lines import planned

import barrowful
from barrowful.answers.choices import CHEAPEST, whole_site
from barrowful.answers.options import options
from barrowful.planning.calendar import Calendar
from barrowful.planning.clashes import clashes_of
from barrowful.planning.plan import Plan
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.search import Search
from barrowful.planning.told import proof_of
from barrowful.site.load import load

HEAD = "{site: Field, currency: EUR, start: 2027-03-01, horizon: 3 years, climate: {annual_mean: 11 degC}, "
GROUND = "organic_matter: 3 %, bulk_density: 1.3 g/cm3, clay: 18 %"
CHIP = "{name: chip, have: {material: arborist chip, amount: 3 m3}}"
YARD = "{name: yard, buy: {material: green compost, price: 40 EUR/m3}}"
OWN = "{name: own, have: {material: home compost, amount: 3 m3}}"


def plan_of_text(needs: str, ways: str, soil: str = "", more: str = "") -> Plan:
    """Return the plan of one bed with needs, or of all places of a text that begins with a bracket."""
    bed = f"[{{name: bed, kind: bed, shape: {{area: 12 m2}}, needs: [{needs}]}}]"
    places = needs if needs.startswith("[") else bed
    text = f"{HEAD}soil: {{{GROUND}{soil}}}, places: {places}, ways: [{ways}]{more}}}"
    plan = planned(options(load(text.encode(), "field.yaml").site))
    assert plan is not None
    return plan


def test_chip_that_covers_dresses_no_vegetables() -> None:
    """What may not dress a bed does not count for its dressing when it is put on as a cover."""
    plan = plan_of_text("{dress: {depth: 2 cm}}, {cover: {depth: 5 cm}}", CHIP)
    assert plan.whole.met == ("cover",)


def test_two_composts_lie_no_deeper_than_one() -> None:
    """A cover of compost stops at its depth, of however many ways it is."""
    assert plan_of_text("{cover: {depth: 5 cm}}", f"{YARD}, {OWN}").whole.met == ("cover",)
    [bed] = ["{cover: {depth: 6 cm}}, {dress: {depth: 5 mm}}"]
    assert plan_of_text(bed, f"{YARD}, {OWN}").whole.met == ("dress",)


@pytest.mark.parametrize("managed", ["", ", managed: cropped"])
def test_a_target_that_is_there_needs_nothing(managed: str) -> None:
    """A raise that is met is met on ground whose humus falls as well, and nothing is dug in for it."""
    target = "{raise: {organic_matter: 2.6 %, depth: 15 cm}}"
    plan = plan_of_text(f"{target}, {{feed: {{phosphorus: 2 g/m2}}}}", YARD, managed)
    assert plan.whole.met == ("raise", "feed")
    assert {line.need for line in plan.lines} == {"feed"}
    assert plan.proven


def test_nothing_lowers_a_ph() -> None:
    """Lime that would have to lower a pH is not met, and more of no limit would let it be."""
    places = (
        "[{name: a, kind: bed, shape: {area: 9 m2}, needs: [{lime: {ph: 5.5}}]},"
        " {name: b, kind: bed, shape: {area: 9 m2}, needs: [{dress: {depth: 1 cm}}]}]"
    )
    more = ", limits: {cash: 200 EUR}, labour: {hours_per_week: 4 h}"
    plan = plan_of_text(places, YARD, ", ph: 6.3", more)
    assert plan.whole.met == ("dress",)
    answer = plan.calendar.answer
    clashes = clashes_of(answer, Limited.of(answer), plan, plan.calendar.each_year)
    assert {(clash.need, clash.limit) for clash in clashes} == {("lime", "what the ways bring")}


def test_what_no_plan_can_do_is_done_as_a_row_does_it() -> None:
    """A dressing over two seasons goes in as its row has it, beside the least for all else."""
    heap = (
        "{name: heap, make: {bay: 1 m3, turn_every: 2 weeks, from: [{material: straw, weekly: 60 L},"
        " {material: grass clippings, weekly: 80 L}]}}"
    )
    places = (
        "[{name: far, kind: bed, shape: {area: 86 m2}, ways: [heap], needs: [{dress: {depth: 3 cm}}]},"
        " {name: near, kind: bed, shape: {area: 10.8 m2}, ways: [pellets, muck], new: true,"
        " needs: [{feed: {nitrogen: 12 g/m2, potassium: 8 g/m2}}]}]"
    )
    pellets = "{name: pellets, buy: {material: pelleted poultry manure, price: 11 EUR/bag, bag: 5 kg}}"
    muck = "{name: muck, buy: {material: farmyard manure, price: 11 EUR/m3}}"
    plan = plan_of_text(places, f"{heap}, {pellets}, {muck}")
    [row] = [row for row in whole_site(plan.calendar.answer) if row.title == CHEAPEST]
    assert plan.whole.met == row.met == ("dress", "feed")
    assert (plan.rest, plan.beyond, plan.proven) == ("heap", True, False)
    told = proof_of(plan)
    assert told.startswith('What the search leaves out is put on as the row "heap" of options does it. ')
    assert "no plan" not in told, "the plan does it"
    assert plan.whole.bill.cash < row.bill.cash / 2


LIME = "{name: lime, buy: {material: hydrated lime, price: 8 EUR/bag, bag: 25 kg}}"
MUCK = "{name: muck, have: {material: horse manure, amount: 3 m3}}"


def test_a_plan_keeps_lime_and_manure_apart() -> None:
    """Fresh manure waits four weeks for the lime of its bed, and lime for manure that the history has."""
    plan = plan_of_text("{lime: {ph: 6.3}}, {dress: {depth: 5 mm}}", f"{LIME}, {MUCK}", ", ph: 5.8")
    days = {line.need: line.day for line in plan.lines}
    assert plan.whole.met == ("lime", "dress")
    assert days["lime"] is not None
    assert days["dress"] is not None
    assert (days["dress"] - days["lime"]).days == 28
    history = ", history: [{date: 2027-02-20, place: bed, material: horse manure, amount: 20 L}]"
    [line] = plan_of_text("{lime: {ph: 6.3}}", LIME, ", ph: 5.8", history).lines
    assert str(line.day) == "2027-03-20"


def test_manure_waits_for_lime_that_the_history_has() -> None:
    """Where the bed was limed ten days before the start, fresh manure waits for what is left of four weeks."""
    history = ", history: [{date: 2027-02-19, place: bed, material: ground limestone, amount: 2 kg}]"
    [line] = plan_of_text("{dress: {depth: 5 mm}}", MUCK, ", ph: 5.8", history).lines
    assert str(line.day) == "2027-03-19"


PELLETS = (
    "{name: pellets, buy: {material: pelleted poultry manure, price: 13 EUR/bag, bag: 20 kg, lead: 1 week}}"
)
LIMED = "{feed: {nitrogen: 8 g/m2}}, {lime: {ph: 6.5}}"


def test_what_a_row_adds_keeps_lime_and_manure_apart_too() -> None:
    """By 25 March the bed is limed on the 22nd or fed on the 8th: the row that feeds it is not added to the lime."""
    lime = "{name: lime, buy: {material: ground limestone, price: 8 EUR/bag, bag: 25 kg, lead: 3 weeks}}"
    plan = plan_of_text(LIMED, f"{PELLETS}, {lime}", ", ph: 5.8", ", limits: {by: 2027-03-25}")
    assert plan.whole.met == ("lime",)
    assert {line.need for line in plan.lines} == {"lime"}


def test_manure_waits_for_the_lime_that_is_taken() -> None:
    """Dear lime is there first; of the cheap one, which comes after the pellets might go on, they keep four weeks."""
    limes = (
        "{name: dear, buy: {material: ground limestone, price: 80 EUR/bag, bag: 25 kg, lead: 3 days}},"
        " {name: cheap, buy: {material: ground limestone, price: 8 EUR/bag, bag: 25 kg, lead: 6 weeks}}"
    )
    plan = plan_of_text(LIMED, f"{PELLETS}, {limes}", ", ph: 5.8")
    assert plan.whole.met == ("lime", "feed")
    limed = {line.day for line in plan.lines if line.way == "cheap"}
    fed = {line.day for line in plan.lines if line.way == "pellets"}
    assert limed
    assert fed
    assert all(a is not None and b is not None and abs((a - b).days) >= 28 for a in limed for b in fed)
    assert plan.ready_on == min(limed)  # they go on in March, before it comes


def test_lime_may_wait_for_the_manure() -> None:
    """What feeds by June has to be on by March, as raw manure: it goes on each spring, and lime in an autumn.

    No plan with lime on the first day it comes has both.
    """
    head = HEAD.replace("3 years", "2 years").replace(
        "11 degC", "11 degC, last_frost: 04-20, first_frost: 10-25"
    )
    bed = "{name: bed, kind: bed, shape: {area: 30 m2}, harvest_from: 06-15"
    lime = "{name: lime, buy: {material: ground limestone, price: 7 EUR/bag, bag: 25 kg}}"
    meal = "{name: meal, buy: {material: pelleted poultry manure, price: 13 EUR/bag, bag: 10 kg}}"
    text = (
        f"{head}soil: {{{GROUND}, ph: 5.6}}, ways: [{lime}, {meal}],"
        f" places: [{bed}, needs: [{{lime: {{ph: 6.2}}}}, {{feed: {{nitrogen: 5 g/m2}}}}]}}]}}"
    )
    plan = planned(options(load(text.encode(), "field.yaml").site))
    assert plan is not None
    assert plan.whole.met == ("lime", "feed")
    days = [(line.need, line.day.month) for line in plan.lines if line.day is not None]
    assert sorted(set(days)) == [("feed", 2), ("feed", 3), ("lime", 10)]
    assert plan.proven


def test_a_way_is_waited_for_where_no_row_has_it() -> None:
    """A tub is raised by the heap for nothing, though no row has it so: its row fails on the bed beside.

    With dear compost by the load the tub would be raised a year sooner; without the heap it is.
    """
    head = (
        "{site: Two, currency: EUR, start: 2027-10-15, horizon: 1 year, soil: {organic_matter: 2 %}, places:"
        " [{name: tub, kind: pot, shape: {circle: {diameter: 60 cm}},"
        " needs: [{raise: {organic_matter: 2.3 %, depth: 15 cm}}]},"
        " {name: row, kind: row, shape: {area: 28 m2}, harvest_from: 05-20,"
        " needs: [{raise: {organic_matter: 2.6 %, depth: 15 cm}}]}], ways: ["
    )
    heap = (
        "{name: heap, make: {bay: 1 m3, from: [{material: autumn leaves, volume: 3 m3},"
        " {material: grass clippings, weekly: 214 L}]}}"
    )
    load_of = "{name: dear, buy: {material: mushroom compost, price: 38 EUR/load, load: 5 m3}}"
    for ways, way in ((f"{heap}, {load_of}", "heap"), (load_of, "dear")):
        plan = planned(options(load(f"{head}{ways}]}}".encode(), "two.yaml").site))
        assert plan is not None
        assert {line.way for line in plan.lines} == {way}
        assert plan.proven


def test_nothing_is_ordered_ahead() -> None:
    """Three seasons of one bag each are three deliveries, as each order brings what is wanted by then.

    A second bag would be brought along with the first for 20 EUR less, but the order sheet orders no bag
    before any of it is wanted: a plan that counted on that would come out dearer.
    """
    stuff = (
        ", materials: {salt of nitrogen: {class: fertiliser, density: 1000 kg/m3, moisture: 0 %,"
        " nitrogen: 10 %, available_nitrogen: 100 %}}"
    )
    bags = "{name: bags, buy: {material: salt of nitrogen, price: 10 EUR/bag, bag: 20 kg, delivery: 20 EUR}}"
    places = "[{name: bed, kind: bed, shape: {area: 200 m2}, needs: [{feed: {nitrogen: 10 g/m2}}]}]"
    plan = plan_of_text(places, bags, more=stuff)
    assert plan.proven
    assert len(plan.whole.bill.orders) == 3
    assert plan.whole.bill.cash == 3 * (10 + 20)


def test_what_lies_there_counts_for_the_depth_of_a_cover() -> None:
    """Compost that was spread is part of the deepest cover of it there may be."""
    history = ", history: [{date: 2027-02-20, place: bed, material: green compost, depth: 4 cm}]"
    cover = "{cover: {depth: 8 cm}}, {feed: {potassium: 1 g/m2}}"
    lifted = ", limits: {lift: [yearly_depth, cover_depth]}"
    assert "cover" in plan_of_text(cover, YARD, more=f"{history}{lifted}").whole.met
    lifted = ", limits: {lift: [yearly_depth]}"
    assert "cover" not in plan_of_text(cover, YARD, more=f"{history}{lifted}").whole.met


def test_a_plan_says_that_a_tub_is_not_filled() -> None:
    """What is too dear to cover a bed and a tub is not why the tub is bare: nothing fills it."""
    places = (
        "[{name: tub, kind: pot, shape: {area: 1 m2}, needs: [{fill: {depth: 30 cm}}, {cover: {depth: 5 cm}}]},"
        " {name: row, kind: row, shape: {area: 9 m2}, needs: [{cover: {depth: 5 cm}}, {dress: {depth: 1 cm}}]}]"
    )
    ways = "{name: chip, buy: {material: arborist chip, price: 90 EUR/load, load: 1 m3}}"
    text = f"{HEAD}soil: {{{GROUND}}}, places: {places}, ways: [{ways}, {OWN}], limits: {{cash: 20 EUR}}}}"
    report = barrowful.plan(barrowful.load(text.encode()))
    assert "Not met: cover, tub: nothing goes on before it is filled." in " ".join(report.answer)


LEFT_OVER = """
site: Row
currency: EUR
start: 2028-02-29
hemisphere: south
ways:
  - {name: bark, buy: {material: bark mulch, price: 31 EUR/bag, bag: 70 L}}
  - {name: yard, buy: {material: green compost, price: 46 EUR/m3, delivery: 75.5 EUR}}
  - name: heap
    make:
      {bays: 1, bay: 0.6 m3, from: [{material: autumn leaves, volume: 800 L},
      {material: vegetable scraps, weekly: 50 L}]}
places:
  - {name: row, kind: row, shape: {area: 21.6 m2}, needs: [{cover: {depth: 10 cm, allowance: 10 %}}]}
"""


def test_what_is_left_over_has_kept_until_it_is_used() -> None:
    """A plan that counted on a bag that may not keep so long is looked for anew with what surely keeps."""
    answer = options(load(LEFT_OVER.encode(), "field.yaml").site)
    first = Search(SiteProgramme(answer, Calendar(answer), Limited.of(answer)))
    first.run()
    proof, plan = first.proof(), planned(answer)
    assert proof is not None
    assert plan is not None
    assert not first.comes_out(proof)
    assert plan.whole.places_met == proof.whole.places_met
    assert plan.proved.cost < proof.cost - 5


CARD = "{name: card, have: {material: cardboard, amount: 20 kg%s}}"
CREW = "{name: crew, buy: {material: arborist chip, price: 30 EUR/m3, lead: 6 weeks}}"


def put_on(plan: Plan) -> list[tuple[str, str]]:
    """Return the days and ways of a plan, in the order of days."""
    return sorted((str(dose.day), dose.way) for dose in plan.whole.together.all_doses)


def test_card_begins_a_cover_and_tops_none() -> None:
    """Free card saves chip under it; laid on top it would blow away, and all later chip is bought."""
    days = put_on(plan_of_text("{cover: {depth: 10 cm}}", f"{CARD % ''}, {CREW}"))
    assert days[0] == ("2027-03-01", "card")
    assert {way for _, way in days[1:]} == {"crew"}
    assert len(days) > 2, "and it is kept up"


def test_card_that_comes_later_tops_no_mulch() -> None:
    """Card of November comes after the chip of spring, and card is not laid on mulch that lies there."""
    late = plan_of_text("{cover: {depth: 10 cm}}", f"{CARD % ', per_year: true, comes: 11-01'}, {CREW}")
    assert {way for _, way in put_on(late)} == {"crew"}
    there = (
        "[{name: bed, kind: bed, shape: {area: 12 m2}, layer_now: 4 cm, needs: [{cover: {depth: 10 cm}}]}]"
    )
    assert {way for _, way in put_on(plan_of_text(there, f"{CARD % ''}, {CREW}"))} == {"crew"}
