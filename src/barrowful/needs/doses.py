"""From needs to doses: how much loose material each place gets, and on which day."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from barrowful.catalogue.materials import Material
from barrowful.ground import amount
from barrowful.ground.decay import depth_left
from barrowful.ground.nutrients import dry_dose_for
from barrowful.measures.dates import years_between
from barrowful.site.records import Cover, Dress, Feed, Fill, Need, Place, Site
from barrowful.soil.history import layer, nitrogen_credit
from barrowful.soil.nitrogen import first_season
from barrowful.soil.turnover import half_depth_years
from barrowful.supplies.supply import YEAR, Supply

FIGURES_NEEDED = {
    "cover": ("density", "moisture", "carbon", "decay", "humus", "in_place", "lasts"),
    "dress": ("density", "moisture", "carbon", "decay", "humus"),
    "raise": ("density", "moisture", "carbon", "decay", "humus"),
    "feed": ("density", "moisture", "nitrogen", "phosphorus", "potassium"),
    "fill": ("density", "moisture"),
}


class CannotServe(Exception):
    """A way cannot serve a need; the message says why, for the grower."""


@dataclass(frozen=True)
class Dose:
    """Loose material [m3] put on a place (all of its count together) on a day."""

    place: Place
    need: Need
    day: date
    loose: float


def draws_of(doses: Iterable[Dose]) -> dict[date, float]:
    """Return the loose volume [m3] wanted on each day."""
    draws: dict[date, float] = {}
    for dose in doses:
        draws[dose.day] = draws.get(dose.day, 0.0) + dose.loose
    return draws


@dataclass
class Plan:
    """Doses for one need of one or more places by one way, and how the need is met.

    ``times_needed`` is how many times what the way brings would meet the need in time;
    ``founds`` says that planting itself meets it, with nothing spread; ``as_written`` that the doses
    are the grower's own. Of a feed, ``binding`` is the nutrient that sizes it in each place, ``credit``
    the nitrogen [kg] still to come from earlier seasons.
    """

    doses: list[Dose] = field(default_factory=list)
    feasible: bool = True
    why_not: str = ""
    ready_on: date | None = None
    levels_off: float | None = None
    matter: float | None = None
    holds_with: float | None = None
    times_needed: float | None = None
    founds: bool = False
    as_written: bool = False
    binding: dict[str, str] = field(default_factory=dict)
    credit: float = 0.0


def check_material(material: Material, kind: str) -> None:
    """Refuse a material that lacks a figure the need wants, or is no stuff for it."""
    lacking = material.lacks(*FIGURES_NEEDED[kind])
    if lacking:
        raise CannotServe(f"{material.name} has no figure for {', '.join(lacking)}")
    if material.class_ == "soil" and kind not in {"fill", "dress"}:
        raise CannotServe(f"{material.name} holds hardly any organic matter")
    if kind == "raise" and material["carbon"] <= 0:
        raise CannotServe(f"{material.name} holds no carbon")


def loose_for(site: Site, place: Place, need: Need, material: Material) -> float:
    """Return the loose volume [m3] a need of a place (all its count) wants of a material.

    Settling and allowance are applied once each; mulch that lies there and nitrogen still to come
    from earlier seasons are taken off. Raises :class:`CannotServe`.
    """
    if isinstance(need, Feed):
        loose = material.loose_of(_feed_mass(site, place, need, material))
    elif isinstance(need, Dress) and need.dose is not None:
        loose = material.loose_of(need.dose * place.total_area)
    else:
        loose = geometric_volume(place, need) or 0.0
        if isinstance(need, Cover):
            share = max(0.0, need.depth - layer(site, place)) / need.depth if need.depth else 0.0
            loose *= share
        if isinstance(need, Cover | Dress | Fill) and need.settled:
            loose = material.loose_for_settled(loose)
    return amount.with_allowance(loose, need.allowance)


def geometric_volume(place: Place, need: Need) -> float | None:
    """Return area times the need's stated depth [m3], or its stated volume, for all of the count."""
    if isinstance(need, Fill) and need.volume is not None:
        return need.volume * place.count
    depth = getattr(need, "depth", None)
    return None if depth is None else amount.volume(place.total_area, depth)


def _feed_mass(site: Site, place: Place, need: Feed, material: Material) -> float:
    """Return the wet mass [kg] that brings each nutrient wanted; the scarcest decides."""
    doses = feed_doses(need, material, nitrogen_credit(site, place))
    return material.wet_of(max(doses.values(), default=0.0)) * place.total_area


def feed_doses(need: Feed, material: Material, credit: float = 0.0) -> dict[str, float]:
    """Return the dry dose [kg/m2] each nutrient wanted asks for; the largest one binds.

    ``credit`` is nitrogen [kg/m2] still to come from earlier seasons.
    """
    doses = {}
    if need.nitrogen > credit:
        available = first_season(material, need.dug)
        if available.per_dry <= 0:
            raise CannotServe("gives no nitrogen in the first season")
        doses["nitrogen"] = dry_dose_for(need.nitrogen - credit, available.per_dry)
    for nutrient in ("phosphorus", "potassium"):
        wanted = getattr(need, nutrient)
        if wanted and material[nutrient] <= 0:
            raise CannotServe(f"{material.name} holds no {nutrient}")
        if wanted:
            doses[nutrient] = dry_dose_for(wanted, material[nutrient])
    return doses


def plan_amounts(site: Site, places: list[Place], kind: str, supply: Supply) -> Plan:
    """Return doses for a need of fixed size: the earliest lots, place by place in file order.

    A cover that comes in several lots rots while it waits for the next; that is made up too.
    """
    check_material(supply.material, kind)
    until = YEAR.after(site.start) if kind == "feed" else site.end
    lots = [lot for lot in supply.lots(until) if kind != "feed" or lot.day < until]
    half = half_depth_years(supply.material, site.climate) if kind == "cover" else math.inf
    plan, short = Plan(), 0.0
    left = [lot.loose for lot in lots]
    for place in places:
        need = place.need(kind)
        assert need is not None
        wanted = whole = loose_for(site, place, need, supply.material)
        if isinstance(need, Feed):
            _note_feed(site, plan, place, need, supply.material)
        most = most_at_once(place, need)
        before: date | None = None
        for index, lot in enumerate(lots):
            if before is not None and wanted > 0:
                wanted = whole - (whole - wanted) * depth_left(half, years_between(before, lot.day))
            part = min(wanted, left[index], most)
            if part > 0:
                plan.doses.append(Dose(place, need, lot.day, part))
                left[index] -= part
                wanted -= part
                before = lot.day
        short += wanted if wanted > 1e-9 else 0.0
    _close(plan, short, supply, "in the first season" if kind == "feed" else f"by {until}", site)
    return plan


def most_at_once(place: Place, need: Need, otherwise: float = math.inf) -> float:
    """Return the most loose material [m3] for one application; ``otherwise`` is a depth [m]."""
    deepest = otherwise if need.most_per_application is None else need.most_per_application
    return amount.with_allowance(amount.volume(place.total_area, deepest), need.allowance)


def _note_feed(site: Site, plan: Plan, place: Place, need: Feed, material: Material) -> None:
    """Note which nutrient sizes a feed, and the nitrogen it need not bring."""
    credit = min(nitrogen_credit(site, place), need.nitrogen)
    doses = feed_doses(need, material, credit)
    plan.credit += credit * place.total_area
    if doses:
        plan.binding[place.name] = max(doses, key=lambda nutrient: doses[nutrient])


def _close(plan: Plan, short: float, supply: Supply, when: str, site: Site) -> None:
    given = sum(dose.loose for dose in plan.doses)
    if short > 0:
        plan.feasible, plan.ready_on = False, None
        note = f"; {supply.note}" if supply.note else ""
        rots = ", and rots faster than it comes" if any(isinstance(d.need, Cover) for d in plan.doses) else ""
        plan.why_not = f"brings {given:.3g} m3, {short:.3g} m3 short {when}{note or rots}"
        plan.times_needed = (given + short) / given if given > 0 else None
    else:
        plan.ready_on = max((dose.day for dose in plan.doses), default=site.start)
        there = sum(lot.loose for lot in supply.lots(site.end))
        plan.times_needed = given / there if 0 < there < float("inf") else None
