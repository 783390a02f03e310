"""The table of options: each way applied to the needs it can serve, side by side."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from barrowful.answers.lines import OptionLine
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.columns import Column, grams, percent
from barrowful.tables.layout import Layout

Columns = tuple[Column[OptionLine], ...]


def _mass(line: OptionLine) -> float | None:
    """Return the wet mass [kg], where something is put on or planted."""
    return line.option.mass if line.acts else None


def _dose(line: OptionLine) -> float | None:
    """Return the wet mass to each area [kg/m2]."""
    mass, area = _mass(line), line.option.area
    return mass / area if mass is not None and area else None


def _over(nutrient: str) -> Callable[[OptionLine], float | None]:
    """Return what reads how much of a nutrient a feed brings above what is wanted [g]."""
    return lambda line: grams(line.surplus.over[nutrient]) if line.surplus else None


WHAT_AND_WHEN: Columns = (
    shared.need(lambda line: line.option.need),
    shared.way(lambda line: line.option.way.name),
    shared.place(lambda line: "; ".join(place.name for place in line.option.places)),
    shared.material(lambda line: line.option.material.name),
    c.flag(
        "feasible",
        "meets it",
        "Is the need met in every place, in time?",
        lambda line: line.option.feasible,
    ),
    shared.ready_on(lambda line: line.option.decision.ready_on),
    c.number(
        "years_to_target", "years", c.YEARS, "Years from the start until it is met.", lambda line: line.years
    ),
)

COST: Columns = (
    shared.cash(lambda line: line.cash),
    shared.hours(lambda line: line.hours),
    shared.hours_low(lambda line: line.spread.low if line.spread else None),
    shared.hours_high(lambda line: line.spread.high if line.spread else None),
    shared.cash_and_hours(lambda line: line.worth),
    shared.order_quantity(lambda line: line.ordered.quantity),
    shared.order_unit(lambda line: line.ordered.unit),
    c.count("orders", "orders", "How many separate orders.", lambda line: line.ordered.orders),
    shared.ordered(lambda line: line.ordered.volume),
    shared.leftover(lambda line: line.ordered.leftover),
    shared.trips(lambda line: line.ordered.trips),
)

AMOUNT: Columns = (
    shared.area(lambda line: line.option.area),
    shared.loose(lambda line: line.loose),
    shared.mass(_mass),
    shared.dry(lambda line: line.option.dry if line.acts else None),
    shared.barrows(lambda line: line.barrows),
    c.number("dose_kg_m2", "dose", c.DOSE, "Wet mass to each area.", _dose),
)

SOIL: Columns = (
    shared.organic_matter_percent(lambda line: percent(line.option.decision.matter)),
    c.number(
        "levels_off_percent",
        "levels off",
        c.SHARE,
        "Where soil organic matter tends to, when the target is never reached.",
        lambda line: percent(line.option.decision.levels_off),
    ),
    c.number(
        "holds_with_kg_m2_year",
        "holds with",
        c.YEARLY_DOSE,
        "Yearly dose, as delivered, that holds the target.",
        lambda line: line.option.decision.holds_with,
    ),
    c.number(
        "organic_matter_left_kg",
        "OM left",
        c.MASS,
        "Organic matter left a year after each dose.",
        lambda line: line.option.outcome.matter_after_year,
    ),
    c.number(
        "humus_kg",
        "humus",
        c.MASS,
        "Humus (organic matter) at the end of the horizon.",
        lambda line: line.option.outcome.humus_at_end,
    ),
)

COVER: Columns = (
    c.number(
        "mulch_left_percent",
        "mulch left",
        c.ROUND_SHARE,
        "Depth of the mulch left after a year.",
        lambda line: percent(line.option.outcome.cover.mulch_left),
    ),
    c.count(
        "topups",
        "top-ups",
        "Top-ups within the horizon to keep the cover up.",
        lambda line: line.option.outcome.cover.top_ups,
    ),
    c.number(
        "topups_m3",
        "top-ups",
        c.VOLUME,
        "Loose volume of all top-ups within the horizon.",
        lambda line: line.upkeep.loose if line.upkeep else None,
    ),
    c.money(
        "cash_kept_up",
        "cash kept up",
        "Cash for the first fill and every top-up within the horizon.",
        lambda line: line.upkeep.cash if line.upkeep else None,
    ),
    c.day(
        "compost_like_on",
        "compost-like",
        "Day half of the fresh carbon of the mulch is gone.",
        lambda line: line.option.outcome.cover.compost_like_on,
    ),
)

NUTRIENTS: Columns = (
    shared.nitrogen(lambda line: grams(line.option.outcome.nitrogen)),
    shared.available_nitrogen(lambda line: grams(line.option.outcome.available_nitrogen)),
    c.text(
        "nitrogen_rule",
        "N rule",
        "The rule behind the usable nitrogen.",
        lambda line: line.option.outcome.rule or None,
    ),
    c.flag(
        "in_range",
        "in range",
        "Is the material inside the range the rule was published for?",
        lambda line: line.option.outcome.in_range,
    ),
    c.number(
        "phosphorus_g",
        "P",
        c.GRAMS,
        "Phosphorus, the element.",
        lambda line: grams(line.option.outcome.phosphorus),
    ),
    c.number(
        "potassium_g",
        "K",
        c.GRAMS,
        "Potassium, the element.",
        lambda line: grams(line.option.outcome.potassium),
    ),
    c.text(
        "binding",
        "sized by",
        "The nutrient that sizes a feed; the others come as they come.",
        lambda line: line.surplus.binding if line.surplus else None,
    ),
    c.number(
        "nitrogen_credit_g",
        "N to come",
        c.GRAMS,
        "Nitrogen still to come from what was put on already.",
        lambda line: grams(line.surplus.credit) if line.surplus else None,
    ),
    c.number(
        "nitrogen_surplus_g",
        "N over",
        c.GRAMS,
        "Usable nitrogen above what the feed wants.",
        _over("nitrogen"),
    ),
    c.number(
        "phosphorus_surplus_g",
        "P over",
        c.GRAMS,
        "Phosphorus above what the feed wants.",
        _over("phosphorus"),
    ),
    c.number(
        "potassium_surplus_g", "K over", c.GRAMS, "Potassium above what the feed wants.", _over("potassium")
    ),
)

PRICES: Columns = (
    c.money(
        "cash_per_kg_organic_matter",
        "cash/kg OM",
        "Cash for each kg of organic matter left after a year.",
        lambda line: line.prices.matter,
    ),
    c.money(
        "cash_per_kg_nitrogen",
        "cash/kg N",
        "Cash for each kg of total nitrogen.",
        lambda line: line.prices.nitrogen,
    ),
    c.money(
        "cash_per_kg_available_nitrogen",
        "cash/kg N 1st",
        "Cash for each kg of nitrogen usable in the first season.",
        lambda line: line.prices.available,
    ),
    c.money(
        "cash_per_m2_year",
        "cash/m2/yr",
        "Cash for each m2 and year of cover kept up to the end of the horizon.",
        lambda line: line.upkeep_per_area_year,
    ),
)

VERDICT: Columns = (
    c.text(
        "beaten_by",
        "beaten by",
        "A way that costs no more cash, hours and time, and less of one.",
        lambda line: line.option.beaten_by or None,
    ),
    shared.why_not(lambda line: line.option.decision.why_not or None),
    shared.land(lambda line: line.land.there if line.land else None),
    c.number(
        "land_needed",
        "land needed",
        c.RATIO,
        "Land that would serve the need in time, in land_unit.",
        lambda line: line.land.needed if line.land else None,
    ),
    shared.land_unit(lambda line: line.land.unit if line.land else None),
    shared.remark(lambda line: line.remark),
)

OPTIONS: Layout[OptionLine] = Layout(
    name="options",
    identifies=("need", "way", "place"),
    shown=(
        *("need", "way", "order_quantity", "order_unit", "cash", "hours", "ready_on"),
        *("organic_matter_left_kg", "available_nitrogen_g", "remark"),
    ),
    columns=(*WHAT_AND_WHEN, *COST, *AMOUNT, *SOIL, *COVER, *NUTRIENTS, *PRICES, *VERDICT),
)

#: A row for each place: people see which.
BY_PLACE = replace(OPTIONS, shown=("place", *OPTIONS.shown))
