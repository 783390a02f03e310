"""Rows of the ``options`` command."""

from __future__ import annotations

from decimal import Decimal

from barrowful.answers.choices import WholeSite, choices, whole_site
from barrowful.answers.options import Answer, Choice, Option, barrows, total_cost
from barrowful.answers.upkeep import Upkeep, upkeep
from barrowful.measures.dates import years_between
from barrowful.measures.money import rounded
from barrowful.site.records import Feed
from barrowful.supplies.crop.crop import Crop
from barrowful.tables.growing import growing_table
from barrowful.tables.report import Row, Table, grams, percent, table

OPTION_KEYS = (
    "need", "way", "place", "material", "feasible", "ready_on", "years_to_target", "cash", "hours",
    "hours_low", "hours_high", "cash_and_hours", "order_quantity", "order_unit", "orders", "ordered_m3",
    "leftover_m3", "trips", "area_m2", "loose_m3", "mass_kg", "dry_kg", "barrows", "dose_kg_m2",
    "organic_matter_percent", "levels_off_percent", "holds_with_kg_m2_year", "organic_matter_left_kg",
    "humus_kg", "mulch_left_percent", "topups", "topups_m3", "cash_kept_up", "compost_like_on", "nitrogen_g",
    "available_nitrogen_g", "nitrogen_rule", "in_range", "phosphorus_g", "potassium_g", "binding",
    "nitrogen_credit_g", "nitrogen_surplus_g",
    "phosphorus_surplus_g", "potassium_surplus_g", "cash_per_kg_organic_matter", "cash_per_kg_nitrogen",
    "cash_per_kg_available_nitrogen", "cash_per_m2_year", "beaten_by", "why_not", "land",
    "land_needed", "land_unit", "remark",
)  # fmt: skip
OPTION_SHOWN = (
    "need", "way", "order_quantity", "order_unit", "cash", "hours", "ready_on",
    "organic_matter_left_kg", "available_nitrogen_g", "remark",
)  # fmt: skip
TOTAL_KEYS = (
    "way", "needs_met", "needs_unmet", "cash", "hours", "hours_low", "hours_high", "cash_and_hours",
    "loose_m3", "trips", "ready_on",
)  # fmt: skip


def option_tables(answer: Answer, by_place: bool = False) -> tuple[list[Table], list[str]]:
    """Return the tables of an answer and the sentences under the first."""
    shown = ("place", *OPTION_SHOWN) if by_place else OPTION_SHOWN
    main = table("options", OPTION_KEYS, [option_row(answer, row) for row in answer.options], shown)
    if by_place:
        return [main], []
    found = choices(answer)
    totals = table(
        "whole_site", TOTAL_KEYS, [_total_row(answer, row) for row in whole_site(answer)],
        ("way", "needs_met", "needs_unmet", "cash", "hours", "ready_on"), "The whole site",
    )  # fmt: skip
    answers = table(
        "choices", ("question", "need", "way", "cash", "hours", "ready_on", "sentence"),
        [_choice_row(one) for one in found], (), "Choices", for_people=False,
    )  # fmt: skip
    grown = [supply for supply in answer.supplies.values() if isinstance(supply, Crop)]
    growing = [growing_table(grown)] if grown else []
    return [main, totals, *growing, answers], [one.sentence for one in found]


def option_row(answer: Answer, row: Option) -> Row:
    """Return the machine row of an option."""
    site, plan, leaves, own = answer.site, row.plan, row.leaves, row.own_orders
    drawn = own or [placed.order for placed in row.orders]
    units = {placed.unit for placed in own}
    done = bool(plan.doses) or plan.founds
    hourly = site.labour.hourly_value
    found: Row = {
        "need": row.need, "way": row.way.name, "material": row.material.name, "feasible": row.feasible,
        "place": "; ".join(place.name for place in row.places), "ready_on": plan.ready_on,
        "years_to_target": years_between(site.start, plan.ready_on) if plan.ready_on else None,
        "area_m2": row.area, "why_not": plan.why_not or None, "beaten_by": row.beaten_by or None,
        "levels_off_percent": percent(plan.levels_off), "organic_matter_percent": percent(plan.matter),
        "holds_with_kg_m2_year": plan.holds_with, "remark": plan.why_not or _beaten(row),
    }  # fmt: skip
    found |= _land(answer, row)
    if not done:
        nothing: Row = {"cash": Decimal(0), "hours": 0.0, "loose_m3": 0.0} if row.feasible else {}
        return found | nothing
    found |= {
        "cash": row.cash, "hours": row.hours.likely, "hours_low": row.hours.low,
        "hours_high": row.hours.high,
        "cash_and_hours": rounded(total_cost(row.cash, row.hours, hourly), site.currency) if hourly else None,
        "order_quantity": float(sum(placed.quantity for placed in own)) if own else None,
        "order_unit": units.pop() if units else None, "orders": len(drawn) or None,
        "ordered_m3": sum(placed.volume for placed in own) if own else None,
        "leftover_m3": sum(placed.leftover for placed in own) if own else None,
        "trips": sum(placed.trips for placed in drawn) if drawn else None,
        "loose_m3": row.loose, "mass_kg": row.mass, "dry_kg": row.dry, "barrows": barrows(row),
        "dose_kg_m2": row.mass / row.area if row.mass is not None and row.area else None,
        "organic_matter_left_kg": leaves.matter_after_year, "humus_kg": leaves.humus_at_end,
        "mulch_left_percent": percent(leaves.cover.mulch_left), "topups": leaves.cover.top_ups,
        "compost_like_on": leaves.cover.compost_like_on, "nitrogen_g": grams(leaves.nitrogen),
        "available_nitrogen_g": grams(leaves.available_nitrogen), "phosphorus_g": grams(leaves.phosphorus),
        "potassium_g": grams(leaves.potassium), "nitrogen_rule": leaves.rule or None,
        "in_range": leaves.in_range,
    }  # fmt: skip
    return found | _prices(answer, row) | _surplus(row)


def _surplus(row: Option) -> Row:
    """Return what a feed brings above what is wanted, and the nutrient that sizes it."""
    needs = [(place, need) for place in row.places if isinstance(need := place.need(row.need), Feed)]
    if not needs:
        return {}
    leaves, plan = row.leaves, row.plan
    usable = None if leaves.available_nitrogen is None else leaves.available_nitrogen + plan.credit
    found: Row = {
        "binding": ", ".join(sorted(set(plan.binding.values()))) or None,
        "nitrogen_credit_g": grams(plan.credit),
    }
    brought = {"nitrogen": usable, "phosphorus": leaves.phosphorus, "potassium": leaves.potassium}
    for nutrient, amount in brought.items():
        wanted = sum(place.total_area * getattr(need, nutrient) for place, need in needs)
        found[f"{nutrient}_surplus_g"] = grams(None if amount is None else amount - wanted)
    return found


def _land(answer: Answer, row: Option) -> Row:
    """Return the land a grown way has and needs to serve in time, and say so where it lacks some."""
    supply = answer.supplies[row.way.name]
    if not isinstance(supply, Crop):
        return {}
    there, unit = supply.land.size, supply.land.unit
    times = row.plan.times_needed
    wanted = None if times is None else there * times
    found: Row = {"land": there, "land_needed": wanted, "land_unit": unit}
    if wanted is not None and row.plan.why_not and times is not None and times > 1:
        found["remark"] = f"{row.plan.why_not}; about {wanted:,.0f} {unit} would do, there is {there:,.0f}"
    return found


def _beaten(row: Option) -> str | None:
    return f"beaten by {row.beaten_by}" if row.beaten_by else None


def _prices(answer: Answer, row: Option) -> Row:
    """Return cash for each kg of organic matter and nitrogen, and what keeping a cover up costs."""
    leaves, currency = row.leaves, answer.site.currency

    def each(amount: float | None) -> Decimal | None:
        if amount is None or amount <= 0:
            return None
        return rounded(row.cash / Decimal(str(amount)), currency)

    kept = upkeep(answer, row)
    return {
        "cash_per_kg_organic_matter": each(leaves.matter_after_year),
        "cash_per_kg_nitrogen": each(leaves.nitrogen),
        "cash_per_kg_available_nitrogen": each(leaves.available_nitrogen),
        "topups_m3": kept.loose if kept else None,
        "cash_kept_up": kept.cash if kept else None,
        "cash_per_m2_year": _per_area_year(kept, currency) if kept else None,
    }


def _per_area_year(kept: Upkeep, currency: str) -> Decimal | None:
    if kept.cash is None or kept.area_years <= 0:
        return None
    return rounded(kept.cash / Decimal(str(kept.area_years)), currency)


def _total_row(answer: Answer, row: WholeSite) -> Row:
    found: Row = {
        "way": row.title, "needs_met": ", ".join(row.met) or "nothing",
        "needs_unmet": ", ".join(row.unmet) or None, "ready_on": row.ready_on,
    }  # fmt: skip
    if not row.rows:
        return found
    whole, hourly = row.combined, answer.site.labour.hourly_value
    value = total_cost(whole.cash, whole.hours, hourly)
    return found | {
        "cash": whole.cash, "hours": whole.hours.likely, "hours_low": whole.hours.low,
        "hours_high": whole.hours.high, "loose_m3": whole.loose,
        "cash_and_hours": rounded(value, answer.site.currency) if hourly else None,
        "trips": sum(placed.order.trips for placed in whole.orders) or None,
    }  # fmt: skip


def _choice_row(one: Choice) -> Row:
    found: Row = {"question": one.question, "need": one.need, "sentence": one.sentence}
    if one.option is not None:
        found |= {
            "way": one.option.way.name, "cash": one.option.cash, "hours": one.option.hours.likely,
            "ready_on": one.option.plan.ready_on,
        }  # fmt: skip
    return found
