"""What rows of tables come to draw by draw, by the keys of their columns and in their units."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from barrowful.answers.choices import WholeSite
from barrowful.answers.option import Option
from barrowful.answers.together import doses_by_way
from barrowful.measures.elementwise import round_up
from barrowful.needs.outcome import carbon_left
from barrowful.planning.ranges.amounts import Amounts, Drawn
from barrowful.planning.ranges.bills import DrawnBill, Share, drawn_bill
from barrowful.planning.ranges.orders import DrawnOrder
from barrowful.soil.application import Application

#: What cells of a row come to, by their keys.
Cells = dict[str, Any]
#: Grams of a kilogram, percent of a share.
GRAMS, PERCENT = 1000.0, 100.0


def option_cells(amounts: Amounts, option: Option) -> Cells:
    """Return what a row of options comes to: alone, beside what was done before."""
    decision, source = option.decision, option.supply
    drawn = amounts.of([(option.need, source, decision)])
    founds = decision.founds
    first = [Share(part, own, founds) for part, own in source.divide(decision.doses)]
    every = [Share(part, own, founds) for part, own in source.divide(decision.every_dose)]
    bill = drawn_bill(amounts, every, drawn)
    orders = bill.orders if not decision.later else drawn_bill(amounts, first, drawn).orders
    return {
        **_costs(bill),
        **_amount(amounts, [drawn[id(dose)] for dose in decision.doses]),
        **_ordered(orders, option.name),
        **_leaves(amounts, first, drawn),
        **_met(amounts, option),
    }


def whole_cells(amounts: Amounts, whole: WholeSite) -> tuple[Cells, DrawnBill, Drawn]:
    """Return what the whole site comes to, the bill, and what goes on."""
    parts = whole.together.parts
    drawn = amounts.of((part.need, part.source, part.decision) for part in parts)
    founded = {part.way for part in parts if part.decision.founds}
    shares = [
        Share(whole.together.answer.supplies[way], doses, way in founded)
        for way, doses in doses_by_way(parts).items()
    ]
    bill = drawn_bill(amounts, shares, drawn)
    loose = sum(drawn[id(dose)].loose for dose in whole.together.all_doses)
    return {**_costs(bill), "loose_m3": loose}, bill, drawn


def size_cells(amounts: Amounts, kind: str, doses: Sequence[Application]) -> Cells:
    """Return what a need of a place comes to, by the doses that tell how much it wants of one way."""
    if not doses:
        return {}
    stuff, loose = amounts.draws.material(doses[0].material), amounts.of_need(kind, doses)
    cells = {"loose_m3": loose, "barrows": round_up(loose / amounts.site.labour.barrow)}
    if stuff.lacks("density"):
        return cells
    cells["mass_kg"] = stuff.wet_mass(loose)
    if stuff.lacks("moisture"):
        return cells
    dry = cells["dry_kg"] = stuff.dry_of(cells["mass_kg"])
    held = {"organic_matter_kg": "organic_matter", "carbon_kg": "carbon"}
    cells |= {key: dry * stuff[name] for key, name in held.items() if not stuff.lacks(name)}
    if not stuff.lacks("nitrogen"):
        cells["nitrogen_g"] = GRAMS * dry * stuff["nitrogen"]
    return cells


def _met(amounts: Amounts, option: Option) -> Cells:
    """Return the share of a need that is met [%], each place by its area, of one that likely is."""
    servings = option.decision.servings
    area = sum(of.place.total_area for of in servings)
    if not option.decision.feasible or not area:
        return {}
    met = sum(amounts.met.get(id(of), 1.0) * of.place.total_area for of in servings) / area
    return {"met_percent": PERCENT * met}


def _costs(bill: DrawnBill) -> Cells:
    return {"cash": bill.cash, "cash_first_year": bill.cash_first_year, "hours": bill.hours}


def _amount(amounts: Amounts, doses: Sequence[Application]) -> Cells:
    """Return loose volume, masses and barrows of doses."""
    loose: Any = sum(dose.loose for dose in doses)
    cells: Cells = {"loose_m3": loose, "barrows": round_up(loose / amounts.site.labour.barrow)}
    if not any(dose.material.lacks("density") for dose in doses):
        cells["mass_kg"] = sum(dose.material.wet_mass(dose.loose) for dose in doses)
    if not any(dose.material.lacks("density", "moisture") for dose in doses):
        cells["dry_kg"] = sum(dose.material.dry_mass(dose.loose) for dose in doses)
    return cells


def _ordered(orders: Sequence[DrawnOrder], way: str) -> Cells:
    """Return trips, and what is ordered of a way in the seller's own unit and in m3, where anything is."""
    own = [order for order in orders if order.way.name == way]
    trips = {"trips": sum(order.trips for order in own or orders)} if orders else {}
    if not own:
        return trips
    return {
        "order_quantity": sum(order.quantity for order in own),
        "ordered_m3": sum(order.volume for order in own),
        "leftover_m3": sum(order.leftover for order in own),
        **trips,
    }


def _leaves(amounts: Amounts, shares: Sequence[Share], drawn: Drawn) -> Cells:
    """Return organic matter [kg] and usable nitrogen [g] that doses leave, where all of it is known."""
    stuffs = [amounts.draws.material(share.supply.material) for share in shares]
    if any(stuff.lacks("density", "moisture") for stuff in stuffs):
        return {}
    doses = [[drawn[id(dose)] for dose in share.doses] for share in shares]
    nitrogen = sum(
        dose.material.dry_mass(dose.loose) * dose.gives(amounts.site, 1).per_dry
        for own in doses
        for dose in own
    )
    lying = [[(dose, dose.response(amounts.site)) for dose in own] for own in doses]
    left = [carbon_left(amounts.site, own, stuff) for own, stuff in zip(lying, stuffs, strict=True)]
    sums = {
        key: sum(each)
        for key, each in zip(("organic_matter_left_kg", "humus_kg"), zip(*left, strict=True), strict=True)
        if None not in [part for part in each if part is None]
    }
    return {**sums, "available_nitrogen_g": GRAMS * nitrogen}
