"""Columns of what an option leaves: in the soil, on it, and of nutrients."""

from __future__ import annotations

from collections.abc import Callable

from barrowful.answers.lines import OptionLine
from barrowful.tables import columns as c
from barrowful.tables import shared
from barrowful.tables.columns import Column, grams, percent

Columns = tuple[Column[OptionLine], ...]


def _over(nutrient: str) -> Callable[[OptionLine], float | None]:
    """Return what reads how much of a nutrient a feed brings above what is wanted [g]."""
    return lambda line: grams(line.surplus.over[nutrient]) if line.surplus else None


def _wanted(nutrient: str) -> Callable[[OptionLine], float | None]:
    """Return what reads how much of a nutrient a feed wants each season [g]."""
    return lambda line: grams(line.option.wanted(nutrient)) if line.option.need == "feed" else None


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
        "not_humus_percent",
        "not humus",
        c.ROUND_SHARE,
        "Of what a raise gains by the day wanted, the share that is no humus yet.",
        lambda line: percent(line.option.decision.not_humus),
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
        lambda line: len(line.upkeep.days) if line.upkeep else None,
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
        "nitrogen_wanted_g",
        "N wanted",
        c.GRAMS,
        "Usable nitrogen that a feed wants each season.",
        _wanted("nitrogen"),
    ),
    c.number(
        "phosphorus_wanted_g",
        "P wanted",
        c.GRAMS,
        "Phosphorus a feed wants each season.",
        _wanted("phosphorus"),
    ),
    c.number(
        "potassium_wanted_g", "K wanted", c.GRAMS, "Potassium a feed wants each season.", _wanted("potassium")
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
