"""The table of options: each way applied to the needs it can serve, side by side."""

from __future__ import annotations

from dataclasses import replace

from barrowful.answers.lines import OptionLine
from barrowful.site.ways import JOINS
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.cells import listed
from barrowful.tables.columns import percent
from barrowful.tables.layout import Layout
from barrowful.tables.what_it_leaves import COVER, NUTRIENTS, SOIL, Columns

#: What the materials of several ways are.
EACH = "What is put on, or goes in; of ways that serve jointly that of each, as A + B."
#: The largest share that whole percents do not show as all.
NEARLY_ALL = 0.994


def _mass(line: OptionLine) -> float | None:
    """Return the wet mass [kg], where something is put on or planted."""
    return line.option.mass if line.acts else None


def _dose(line: OptionLine) -> float | None:
    """Return the wet mass to each area [kg/m2]."""
    mass, area = _mass(line), line.option.area
    return mass / area if mass is not None and area else None


def _met(line: OptionLine) -> float:
    """Return the share of the need that is met; what is not met never reads as all of it."""
    decision = line.option.decision
    return 1.0 if decision.feasible else min(decision.met_share, NEARLY_ALL)


WHAT_AND_WHEN: Columns = (
    shared.need(lambda line: line.option.need),
    shared.way(lambda line: line.option.name, shared.JOINTLY),
    shared.place(lambda line: listed(place.name for place in line.option.places), shared.SEVERAL),
    shared.material(lambda line: JOINS.join(stuff.name for stuff in line.option.materials), EACH),
    c.flag(
        "feasible",
        "meets it",
        "Is the need met in every place, in time?",
        lambda line: line.option.feasible,
    ),
    shared.ready_on(lambda line: line.option.ready_on),
    c.number(
        "years_to_target", "years", c.YEARS, "Years from the start until it is met.", lambda line: line.years
    ),
)

COST: Columns = (
    shared.cash(lambda line: line.cash, shared.HORIZON),
    shared.cash_first_year(lambda line: line.cash_first_year),
    shared.hours(lambda line: line.hours),
    shared.hours_low(lambda line: line.spread.low if line.spread else None),
    shared.hours_high(lambda line: line.spread.high if line.spread else None),
    shared.cash_and_hours(lambda line: line.worth),
    shared.order_quantity(lambda line: line.ordered.quantity, first=True),
    shared.order_unit(lambda line: line.ordered.unit),
    shared.orders(lambda line: line.ordered.orders, first=True),
    shared.ordered(lambda line: line.ordered.volume),
    shared.leftover(lambda line: line.ordered.leftover),
    shared.trips(lambda line: line.ordered.trips, first=True),
)

AMOUNT: Columns = (
    shared.area(lambda line: line.option.area),
    shared.loose(lambda line: line.loose),
    shared.mass(_mass),
    shared.dry(lambda line: line.option.dry if line.acts else None),
    shared.barrows(lambda line: line.barrows),
    c.number("dose_kg_m2", "dose", c.DOSE, "Wet mass to each area.", _dose),
)

_CONDUCTIVITY = c.as_is("dS/m", 1)
MIX: Columns = (
    c.number(
        "mix_cn",
        "mix C:N",
        c.RATIO,
        "Carbon to nitrogen of what a place is filled with.",
        lambda line: line.mixture.cn if line.mixture else None,
    ),
    c.number(
        "mix_organic_matter_percent",
        "mix OM",
        c.SHARE,
        "Organic matter of what a place is filled with, of its dry mass.",
        lambda line: percent(line.mixture.organic_matter) if line.mixture else None,
    ),
    c.number(
        "mix_conductivity",
        "mix salt",
        _CONDUCTIVITY,
        "Electrical conductivity of what a place is filled with, where that of every part is known.",
        lambda line: line.mixture.conductivity if line.mixture else None,
    ),
)

PRICES: Columns = (
    c.money(
        "cash_per_kg_organic_matter",
        "cash/kg OM",
        "Cash for each kg of organic matter left after a year, of what meets the need first.",
        lambda line: line.prices.matter,
    ),
    c.money(
        "cash_per_kg_nitrogen",
        "cash/kg N",
        "Cash for each kg of total nitrogen, of what meets the need first.",
        lambda line: line.prices.nitrogen,
    ),
    c.money(
        "cash_per_kg_available_nitrogen",
        "cash/kg N 1st",
        "Cash for each kg of nitrogen usable in the first season, of what meets the need first.",
        lambda line: line.prices.available,
    ),
    c.money(
        "cash_per_m2_year",
        "cash/m2/yr",
        "Cash for each m2 and year of cover kept up to the end of the horizon.",
        lambda line: line.upkeep_per_area_year,
    ),
)

CEILINGS: Columns = (
    c.number(
        "met_percent",
        "met",
        c.ROUND_SHARE,
        "Share of the need that is met, each place by its area.",
        lambda line: percent(_met(line)),
    ),
    c.text(
        "ceiling",
        "ceiling",
        "Name of the ceiling of good practice the dose stopped at.",
        lambda line: line.option.decision.ceiling or None,
    ),
    c.number(
        "possible",
        "possible",
        c.RATIO,
        "What the ceiling allows: m3 loose, of what is sold by weight kg.",
        lambda line: line.possible,
    ),
    c.text(
        "instead",
        "instead",
        "What would serve instead: another way, or a material and how much of it.",
        lambda line: line.instead or None,
    ),
)

VERDICT: Columns = (
    c.text(
        "beaten_by",
        "beaten by",
        "A way that costs no more cash, hours and time, ties up no more nitrogen, and less of one.",
        lambda line: line.option.beaten_by or None,
    ),
    shared.why_not(lambda line: line.option.why_not or None),
    shared.land(lambda line: line.land.there if line.land else None),
    c.number(
        "land_needed",
        "land needed",
        c.RATIO,
        "Land that would serve the need in time, in land_unit.",
        lambda line: line.land.needed if line.land else None,
    ),
    shared.land_unit(lambda line: line.land.unit if line.land else None),
    c.count(
        "plants_needed",
        "plants needed",
        "Plants that would serve the need in time, as close together as they stand now.",
        lambda line: line.land.plants if line.land else None,
    ),
    shared.remark(lambda line: line.remark),
)

OPTIONS: Layout[OptionLine] = Layout(
    name="options",
    identifies=("need", "way", "place"),
    shown=(
        *("need", "way", "order_quantity", "order_unit", "cash", "hours", "ready_on"),
        *("met_percent", "organic_matter_left_kg", "available_nitrogen_g", "remark"),
    ),
    noted=("remark",),
    always_shown=("cash", "hours", "ready_on"),
    ranged=(
        *("cash", "cash_first_year", "hours", "order_quantity", "ordered_m3", "leftover_m3", "trips"),
        *("loose_m3", "mass_kg", "dry_kg", "barrows", "organic_matter_left_kg", "humus_kg"),
        *("available_nitrogen_g", "met_percent"),
    ),
    shown_ranged=(
        *("need", "way", "cash", "cash_10", "cash_90", "hours", "hours_10", "hours_90", "ready_on"),
        *("met_percent", "remark"),
    ),
    first_to_go=("organic_matter_left_kg", "available_nitrogen_g"),
    joined=(("order_quantity", "order_unit"),),
    columns=(*WHAT_AND_WHEN, *COST, *AMOUNT, *SOIL, *COVER, *NUTRIENTS, *MIX, *PRICES, *CEILINGS, *VERDICT),
)

#: A row for each place: people see which.
BY_PLACE = replace(OPTIONS, shown=("place", *OPTIONS.shown), shown_ranged=("place", *OPTIONS.shown_ranged))
