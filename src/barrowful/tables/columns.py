"""Every column there is: key, unit and meaning, once. Keys are stable; columns may be added."""

from __future__ import annotations

from dataclasses import dataclass

#: Factors to the units of ``--measures customary``, exact by definition (international yard, pound).
YD3, FT2, LB, INCH = 1 / 0.764554857984, 1 / 0.09290304, 1 / 0.45359237, 1 / 0.0254


@dataclass(frozen=True)
class Shown:
    """How a number is shown to people: unit, factor from the column's own, digits after the point."""

    unit: str
    factor: float = 1.0
    digits: int = 1
    strip: bool = False


@dataclass(frozen=True)
class Column:
    """A column: its key, kind (text, number, money, date, flag, count), unit and meaning."""

    key: str
    kind: str
    heading: str
    meaning: str
    unit: str = ""
    metric: Shown | None = None
    customary: Shown | None = None


def _text(key: str, heading: str, meaning: str) -> Column:
    return Column(key, "text", heading, meaning)


def _number(
    key: str, heading: str, unit: str, meaning: str, digits: int = 1, metric: Shown | None = None,
    customary: Shown | None = None,
) -> Column:  # fmt: skip
    return Column(key, "number", heading, meaning, unit, metric or Shown(unit, 1.0, digits), customary)


def _money(key: str, heading: str, meaning: str) -> Column:
    return Column(key, "money", heading, meaning)


def _date(key: str, heading: str, meaning: str) -> Column:
    return Column(key, "date", heading, meaning)


def _count(key: str, heading: str, meaning: str) -> Column:
    return Column(key, "count", heading, meaning)


_VOLUME, _MASS, _AREA = Shown("yd3", YD3, 2), Shown("lb", LB, 0), Shown("ft2", FT2, 0)
_DEPTH = {"metric": Shown("cm", 100.0, 1), "customary": Shown("in", INCH, 1)}
_GRAMS = Shown("lb", LB / 1000, 2)
_DOSE = Shown("lb/ft2", LB / FT2, 2)

_ALL = (
    _text("place", "place", "Name of the place, or of the places served together."),
    _text("need", "need", "cover, dress, raise, feed or fill."),
    _text("way", "way", "Name of the way in the site file."),
    _text("material", "material", "What is put on, or goes in."),
    Column("feasible", "flag", "meets it", "Is the need met in every place, in time?"),
    _count("count", "how many", "Equal places counted together."),
    _number("area_m2", "area", "m2", "Ground, for all of the count.", 1, customary=_AREA),
    _number("depth_m", "depth", "m", "Depth as the need states it.", 2, **_DEPTH),
    _number("volume_m3", "volume", "m3", "Area times stated depth: the place's own geometry.", 2, customary=_VOLUME),
    _number("loose_m3", "loose", "m3", "Loose volume to bring, settling and allowance included.", 2, customary=_VOLUME),
    _number("mass_kg", "mass", "kg", "Wet mass of the loose volume.", 0, customary=_MASS),
    _number("dry_kg", "dry", "kg", "Dry mass.", 0, customary=_MASS),
    _number("organic_matter_kg", "organic matter", "kg", "Organic matter in it.", 0, customary=_MASS),
    _number("carbon_kg", "carbon", "kg", "Carbon in it.", 0, customary=_MASS),
    _count("barrows", "barrows", "Barrow loads of the loose volume."),
    _number("order_quantity", "order", "", "Quantity in the seller's own unit; with a plan of several orders, their sum.", metric=Shown("", 1.0, 2, True)),
    _text("order_unit", "unit", "The seller's unit."),
    _number("ordered_m3", "ordered", "m3", "Loose volume ordered.", 2, customary=_VOLUME),
    _number("leftover_m3", "left over", "m3", "Ordered but not needed.", 2, customary=_VOLUME),
    _count("trips", "trips", "Deliveries or own trips."),
    _count("orders", "orders", "How many separate orders."),
    _money("cash", "cash", "Money to pay."),
    _money("cash_low", "cash low", "Money to pay at the low end."),
    _money("cash_high", "cash high", "Money to pay at the high end."),
    _number("hours", "hours", "h", "Hours of one person.", 1),
    _number("hours_low", "hours low", "h", "Hours if it goes quickly.", 1),
    _number("hours_high", "hours high", "h", "Hours if it goes slowly.", 1),
    _money("cash_and_hours", "cash + hours", "Cash and hours at your hourly value, when you gave one."),
    _money("cash_per_kg_organic_matter", "cash/kg OM", "Cash for each kg of organic matter left after a year."),
    _money("cash_per_kg_nitrogen", "cash/kg N", "Cash for each kg of total nitrogen."),
    _money("cash_per_kg_available_nitrogen", "cash/kg N 1st", "Cash for each kg of nitrogen usable in the first season."),
    _money("cash_per_m2_year", "cash/m2/yr", "Cash for each m2 and year of cover kept up to the end of the horizon."),
    _date("ready_on", "ready", "Earliest day the need is met in every place."),
    _date("order_by", "order by", "Last day to place the order."),
    _date("needed_on", "needed", "Day it must be there."),
    _date("earliest_on", "late: earliest", "Of an order that cannot be there in time, the earliest day it can."),
    _number("years_to_target", "years", "year", "Years from the start until it is met.", 1),
    _number("levels_off_percent", "levels off", "%", "Where soil organic matter tends to, when the target is never reached.", 1),
    _number("organic_matter_percent", "SOM", "%", "Lowest soil organic matter of the places on the day wanted.", 2),
    _number("holds_with_kg_m2_year", "holds with", "kg/m2/year", "Yearly dose, as delivered, that holds the target.", 2, customary=_DOSE),
    _number("organic_matter_left_kg", "OM left", "kg", "Organic matter left a year after each dose.", 0, customary=_MASS),
    _number("humus_kg", "humus", "kg", "Humus (organic matter) at the end of the horizon.", 0, customary=_MASS),
    _number("mulch_left_percent", "mulch left", "%", "Depth of the mulch left after a year.", 0),
    _count("topups", "top-ups", "Top-ups within the horizon to keep the cover up."),
    _number("topups_m3", "top-ups", "m3", "Loose volume of all top-ups within the horizon.", 2, customary=_VOLUME),
    _money("cash_kept_up", "cash kept up", "Cash for the first fill and every top-up within the horizon."),
    _date("compost_like_on", "compost-like", "Day half of the fresh carbon of the mulch is gone."),
    _number("nitrogen_g", "N", "g", "Total nitrogen.", 0, customary=_GRAMS),
    _number("available_nitrogen_g", "N usable", "g", "Nitrogen usable in the first season; negative is tied up.", 0, customary=_GRAMS),
    _text("nitrogen_rule", "N rule", "The rule behind the usable nitrogen."),
    Column("in_range", "flag", "in range", "Is the material inside the range the rule was published for?"),
    _text("binding", "sized by", "The nutrient that sizes a feed; the others come as they come."),
    _number("nitrogen_credit_g", "N to come", "g", "Nitrogen still to come from what was put on already.", 0, customary=_GRAMS),
    _number("nitrogen_surplus_g", "N over", "g", "Usable nitrogen above what the feed wants.", 0, customary=_GRAMS),
    _number("phosphorus_surplus_g", "P over", "g", "Phosphorus above what the feed wants.", 0, customary=_GRAMS),
    _number("potassium_surplus_g", "K over", "g", "Potassium above what the feed wants.", 0, customary=_GRAMS),
    _number("phosphorus_g", "P", "g", "Phosphorus, the element.", 0, customary=_GRAMS),
    _number("potassium_g", "K", "g", "Potassium, the element.", 0, customary=_GRAMS),
    _number("cn_ratio", "C:N", "", "Carbon to nitrogen by mass.", 1),
    _number("moisture_percent", "moisture", "%", "Water as a share of wet mass.", 1),
    _number("water_kg", "water", "kg", "Water to add.", 0, customary=_MASS),
    _number("land", "land", "", "Land a grown way has, in land_unit."),
    _number("land_needed", "land needed", "", "Land that would serve the need in time, in land_unit."),
    _text("land_unit", "of", "m2, m of row, or plants."),
    _text("beaten_by", "beaten by", "A way that costs no more cash, hours and time, and less of one."),
    _text("why_not", "why not", "Why the need is not met."),
    _text("item", "for", "What is paid for beside the orders: seed, planting, stuff for a heap."),
    _text("remark", "remark", "Why not, or which way beats it."),
    _text("question", "question", "What the line answers."),
    _text("sentence", "answer", "The answer in words."),
    _text("needs_met", "meets", "Needs met in every place."),
    _text("needs_unmet", "does not meet", "Needs not met, or not everywhere."),
    _text("bags", "bags", "Way sold by the bag."),
    _text("bulk", "bulk", "Way sold in bulk."),
    _number("break_even_m3", "bulk cheaper from", "m3", "Volume from which bulk is cheaper, before steps and minimum.", 2, customary=_VOLUME),
    _number("dose_kg_m2", "dose", "kg/m2", "Wet mass to each area.", 2, customary=_DOSE),
)  # fmt: skip

COLUMNS: dict[str, Column] = {column.key: column for column in _ALL}
