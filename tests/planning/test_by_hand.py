"""Small plans against all there is to try: orders counted one by one, and amounts on a grid."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from datetime import timedelta
from decimal import Decimal
from itertools import product
from typing import Any

import pytest
from plan_lines import CENT, cost_of, planned

from barrowful.answers.choices import followed
from barrowful.answers.options import Answer, options
from barrowful.costs.order import order
from barrowful.ground.sizes import Size
from barrowful.measures.dates import year_after
from barrowful.needs.layers import Layers
from barrowful.planning.plan import Plan
from barrowful.planning.proof import proved
from barrowful.site.load import load
from barrowful.site.needs import Cover
from barrowful.site.records import PlanLine

Plain = dict[str, Any]
BytesOf = Callable[[Plain], bytes]
Bed = Callable[..., Plain]
LOADS = {"name": "loads", "buy": {"material": "dark stuff", "price": "31 EUR/load", "load": "1 m3"}}
BAGS = {"name": "bags", "buy": {"material": "dark stuff", "price": "2.6 EUR/bag", "bag": "40 L"}}


def solved(bytes_of: BytesOf, places: list[Plain], ways: list[Plain], **more: Any) -> tuple[Answer, Plan]:
    """Return the answer and the plan of a site."""
    described = {"horizon": "1 year", "places": places, "ways": ways, **more}
    answer = options(load(bytes_of(described), "field.yaml").site)
    plan = planned(answer)
    assert plan is not None
    return answer, plan


def priced(answer: Answer, way: str, loose: float) -> Decimal:
    """Return what an order that brings a loose volume [m3] costs."""
    placed = order(answer.supplies[way].way, loose, "EUR")
    return placed.cash if placed else Decimal(0)


@pytest.mark.parametrize("area", [3, 11, 17.5, 23, 31, 49, 50, 50.5, 77, 99])
def test_loads_and_bags_are_counted_out(bytes_of: BytesOf, bed: Bed, area: float) -> None:
    """Two beds are dressed for the least that any number of loads, topped up with bags, costs."""
    places = [bed({"dress": {"depth": "2 cm"}}, area=part, name=str(part)) for part in (area, 2.0)]
    answer, plan = solved(bytes_of, places, [LOADS, BAGS])
    wanted = 0.02 * (area + 2.0)
    least = min(
        priced(answer, "loads", min(loads, wanted)) + priced(answer, "bags", max(0.0, wanted - loads))
        for loads in range(math.ceil(wanted) + 1)
    )
    assert plan.whole.bill.cash == least
    assert plan.proven


@pytest.mark.parametrize("there", [0.1, 0.3, 0.45, 0.62, 2.0])
def test_stock_is_shared(bytes_of: BytesOf, bed: Bed, there: float) -> None:
    """What there is goes on first, on whichever bed, and the rest is bought in whole bags."""
    places = [bed({"dress": {"depth": "2 cm"}}, area=area, name=str(area)) for area in (13, 18)]
    heap = {"name": "heap", "have": {"material": "dark stuff", "amount": f"{there} m3"}}
    _, plan = solved(bytes_of, places, [heap, BAGS])
    bags = math.ceil(round((0.62 - there) / 0.04, 6)) if there < 0.62 else 0
    assert plan.whole.bill.cash == bags * Decimal("2.6")
    drawn = sum(dose.loose for dose in plan.whole.together.all_doses if dose.way == "heap")
    assert drawn <= there * (1 + 1e-6)


def test_no_lime_makes_up_the_weight_of_a_dressing(bytes_of: BytesOf, bed: Bed, apart: Any) -> None:
    """To lime a loam by half a pH takes 3.5 kg of limestone on 10 m2, and no more goes on, though it is cheap.

    A dressing of 30 kg is two bags of compost; with one bag and 6 kg of limestone or of meal it would be cheaper.
    """
    half = {"class": "lime", "density": "1000 kg/m3", "neutralising_value": "50 %"}
    meal = {"class": "fertiliser", "density": "500 kg/m3", "nitrogen": "12 %"}
    ways = [
        BAGS,
        {"name": "quarry", "buy": {"material": "stone", "price": "0.1 EUR/kg"}},
        {"name": "mill", "buy": {"material": "meal", "price": "0.1 EUR/kg"}},
    ]
    _, plan = solved(
        bytes_of,
        [bed({"lime": {"ph": 6.5}}, {"dress": {"dose": "3 kg/m2", "dug": True}}, area=10)],
        ways,
        soil={"organic_matter": "2 %", "bulk_density": "1.3 g/cm3", "clay": "15 %", "ph": 6.0},
        materials={**apart.stuff, "stone": half, "meal": meal},
    )
    put_on = {
        way: sum(
            dose.material.wet_mass(dose.loose) for dose in plan.whole.together.all_doses if dose.way == way
        )
        for way in ("bags", "quarry", "mill")
    }
    assert put_on == pytest.approx({"bags": 30, "quarry": 3.5, "mill": 0}, abs=0.02)
    assert plan.whole.unmet == ()


@pytest.mark.parametrize(("years", "loads"), [(1, 1), (2, 1), (3, 2), (4, 2)])
def test_what_a_load_leaves_keeps_400_days(bytes_of: BytesOf, bed: Bed, years: int, loads: int) -> None:
    """A load feeds a bed this season and the next, and not the one after: that takes another load.

    Of dark stuff 2.5 litres on each m2 hold half of what 10 do; no season wants more than a tenth of a load.
    """
    places = [bed({"feed": {"phosphorus": "3 g/m2"}}, area=10)]
    _, plan = solved(bytes_of, places, [LOADS], horizon=f"{years} years")
    assert plan.whole.bill.cash == loads * 31


@pytest.mark.parametrize(("lead", "trips"), [(0, 1), (14, 1), (50, 1), (70, 2)])
def test_a_delivery_is_shared(bytes_of: BytesOf, bed: Bed, lead: int, trips: int) -> None:
    """Two ways of one seller come on one trip where the one that is there sooner may wait for the other.

    It waits as long as orders are joined, 60 days, and no longer. The programme and the orders agree on it:
    what takes longer is not there on the day of the other.
    """
    seller = {"seller": "yard", "delivery": "20 EUR", "truck": "4 m3"}
    ways = [
        {"name": "dark", "buy": {"material": "dark stuff", "price": "40 EUR/m3", **seller}},
        {
            "name": "late",
            "buy": {"material": "green compost", "price": "40 EUR/m3", "lead": f"{lead} days", **seller},
        },
    ]
    places = [
        bed({"dress": {"depth": "1 cm"}}, area=10, name="a", ways=["dark"]),
        bed({"dress": {"depth": "1 cm"}}, area=10, name="b", ways=["late"]),
    ]
    _, plan = solved(bytes_of, places, ways)
    assert plan.whole.bill.cash == Decimal(8) + 20 * trips
    assert plan.gap == pytest.approx(0.0, abs=1e-4)


def best_of(answer: Answer, tried: Iterable[list[PlanLine]], plan: Plan) -> float:
    """Return the least that any of some plans costs which are sound, meet as much and are ready as soon."""
    met, ready = len(plan.whole.places_met), plan.ready_on
    proofs = (
        proved(answer, [line for line in lines if (line.amount or Size(0, None)).volume]) for lines in tried
    )
    sound = (proof.whole for proof in proofs if len(proof.whole.places_met) >= met and not proof.faults)
    soon = (whole for whole in sound if whole.ready_on and ready and whole.ready_on <= ready)
    return min((cost_of(answer, whole) for whole in soon), default=math.inf)


def lines_for(answer: Answer, plan: Plan, kind: str, steps: int) -> Iterable[list[PlanLine]]:
    """Yield plans of a bed by two ways: each way's least by itself, and parts of it, on two days."""
    rows = [row for row in answer.options if row.need == kind and "+" not in row.name][:2]
    days = sorted({dose.day for row in rows for dose in row.decision.every_dose})[:2]
    most = {row.name: sum(dose.loose for dose in row.decision.every_dose) for row in rows}
    first = {name: answer.supplies[name].lots(answer.site.end)[0].day for name in most}
    puts = [(name, day) for name in most for day in days if day >= first[name]]
    for parts in product(range(steps + 1), repeat=len(puts)):
        if sum(parts) <= 2 * steps:
            yield [
                PlanLine(
                    place="bed", need=kind, way=name, amount=Size(part / steps * most[name], None), day=day
                )
                for (name, day), part in zip(puts, parts, strict=True)
            ]


RISE = {"raise": {"organic_matter": "2.6 %", "depth": "15 cm", "by": "2028-09-01"}}
COVER = {"cover": {"depth": "6 cm"}}
CHIP = {
    "name": "chip",
    "buy": {"material": "chipped wood", "price": "9 EUR/m3", "delivery": "15 EUR", "truck": "4 m3"},
}
LEAVES = {"name": "leaves", "have": {"material": "autumn leaves", "amount": "700 L", "per_year": True}}
RICH = {
    "name": "rich",
    "buy": {"material": "manure compost", "price": "29 EUR/m3", "step": "0.1 m3", "lead": "30 weeks"},
}
PLAIN = {"name": "plain", "buy": {"material": "dark stuff", "price": "40 EUR/m3"}}


@pytest.mark.parametrize(
    ("need", "kind", "ways"),
    [
        (COVER, "row", [CHIP, LEAVES]),
        (RISE, "row", [RICH, PLAIN]),
        ({"feed": {"phosphorus": "3 g/m2"}}, "bed", [RICH, PLAIN]),
        ({"dress": {"depth": "2 cm", "dug": True}}, "bed", [RICH, PLAIN]),
    ],
)
@pytest.mark.parametrize("hourly", [0, 12])
def test_nothing_on_a_grid_is_cheaper(
    bytes_of: BytesOf, bed: Bed, need: Plain, kind: str, ways: list[Plain], hourly: int
) -> None:
    """Of all parts of two ways on two days none that meets the need within the ceilings costs less."""
    places = [{**bed(need, area=10), "kind": kind}]
    labour = {"hourly_value": f"{hourly} EUR/h"}
    answer, plan = solved(bytes_of, places, ways, horizon="2 years", labour=labour)
    [word] = need
    tried = [*lines_for(answer, plan, word, 5)]
    assert len(tried) > 10
    assert cost_of(answer, plan.whole) <= best_of(answer, tried, plan) + CENT


@pytest.mark.parametrize(("depth", "deepest"), [("8 cm", 0.1), ("4 cm", 0.05)])
def test_a_cover_a_little_deeper_spares_a_delivery(
    bytes_of: BytesOf, bed: Bed, depth: str, deepest: float
) -> None:
    """So much more is laid at first as lasts to the end, but no more than a quarter beyond, or what is good practice."""
    need = {"cover": {"depth": depth, "keep": "60 %"}}
    chip = {"name": "chip", "buy": {"material": "arborist chip", "price": "5 EUR/m3", "delivery": "20 EUR"}}
    answer, plan = solved(bytes_of, [{**bed(need, area=36), "kind": "tree"}], [chip], horizon="2 years")
    [dose] = plan.whole.together.all_doses
    asked = answer.site.places[0].need("cover")
    assert isinstance(asked, Cover)
    layers = Layers(answer.site, dose.place, (dose,), dose.material)
    first = layers.on(dose.number)
    assert asked.depth < first <= deepest * (1 + 1e-6)
    assert layers.on(answer.site.eve.toordinal()) == pytest.approx(0.6 * asked.depth, abs=1e-5)
    by_row = followed(answer)
    assert plan.whole.bill.cash < by_row.bill.cash - 15


def test_a_raise_without_a_date_begins_with_a_good_part(bytes_of: BytesOf, bed: Bed) -> None:
    """Nobody digs in a litre to have the year counted from then, and 200 on the last day of it."""
    need = {"raise": {"organic_matter": "2.6 %", "depth": "15 cm"}}
    comp = {"name": "comp", "buy": {"material": "green compost", "price": "40 EUR/m3", "lead": "1 week"}}
    _, plan = solved(bytes_of, [bed(need, area=20)], [comp], horizon="4 years")
    doses = sorted(plan.whole.together.all_doses, key=lambda dose: dose.day)
    in_year = [dose.loose for dose in doses if dose.number <= year_after(doses[0].number)]
    assert doses[0].loose >= 0.33 * sum(in_year) * (1 - 1e-2)


@pytest.mark.parametrize("days", [-2, -1, 0, 1, 2])
def test_a_layer_is_kept_up_before_the_last_day(bytes_of: BytesOf, bed: Bed, days: int) -> None:
    """What falls to the depth kept before the last day is topped up; what does so on it or after is left as it is."""
    lane = {"name": "lane", "buy": {"material": "chipped wood", "price": "40 EUR/m3"}}

    def described(layer: float) -> Plain:
        need = {"cover": {"depth": "10 cm", "keep": "50 %"}}
        return {
            "places": [bed(need, layer_now=f"{1000 * layer:.12g} mm")],
            "ways": [lane],
            "horizon": "2 years",
        }

    site = load(bytes_of(described(0.08)), "field.yaml").site
    [place], [way] = site.places, options(site).supplies.values()
    falls = Layers(site, place, (), way.material).on(site.end.toordinal() + days) / 0.08
    answer, plan = solved(bytes_of, **described(0.05 / falls))
    [row] = answer.options
    assert [dose.day - site.end for dose in row.decision.every_dose] == [timedelta(days)] * (days < 0)
    assert plan.whole.bill.cash <= row.cash
    assert plan.proven
    assert (plan.whole.bill.cash > 0) is (days < 0)


def test_a_bed_whose_layer_lasts_gets_nothing(bytes_of: BytesOf, bed: Bed) -> None:
    """Beside a bed that wants a cover, nothing is put on one whose stated layer needs nothing to the end."""
    need, short = {"cover": {"depth": "10 cm", "keep": "50 %"}}, {"name": "bare", "area": 7}
    lane = {"name": "lane", "buy": {"material": "chipped wood", "price": "40 EUR/m3"}}
    places = [bed(need, layer_now="12 cm"), bed(need, **short)]
    answer, plan = solved(bytes_of, places, [lane])
    assert {line.place for line in plan.proved.lines} == {"bare"}
    assert plan.whole.unmet == ()
    assert plan.proven
    [row] = answer.options
    assert plan.whole.bill.cash == row.cash
