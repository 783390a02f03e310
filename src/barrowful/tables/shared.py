"""Columns that more than one table has: described here once, filled by each table in its own way.

Where a table means something nearer by one of them, it gives the column a meaning of its own.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from decimal import Decimal

from barrowful.sitefile.keys.need import NEED_KINDS
from barrowful.supplies.taken import SPECK
from barrowful.tables import columns as c
from barrowful.tables.columns import Column, Subject

Text = Callable[[Subject], str | None]
Number = Callable[[Subject], float | None]
Count = Callable[[Subject], int | None]
Money = Callable[[Subject], Decimal | None]
Day = Callable[[Subject], date | None]


#: What a cell of several places holds, of what is followed, and of ways that serve a need jointly.
SEVERAL = "Names of the places, parted by semicolons; a name with one in it stands in double quotes."
FOLLOWED = "What is followed: a way, or `your plan`, or the `cheapest for each need`."
JOINTLY = "Name of the way in the site file; ways that serve jointly are A + B."


def place(value: Text[Subject], meaning: str = "Name of the place in the site file.") -> Column[Subject]:
    """Return the column of places."""
    return c.text("place", "place", meaning, value)


def need(value: Text[Subject]) -> Column[Subject]:
    """Return the column of kinds of need."""
    return c.text("need", "need", f"{', '.join(NEED_KINDS[:-1])} or {NEED_KINDS[-1]}.", value)


def way(value: Text[Subject], meaning: str = "Name of the way in the site file.") -> Column[Subject]:
    """Return the column of ways."""
    return c.text("way", "way", meaning, value)


def material(value: Text[Subject], meaning: str = "What is put on, or goes in.") -> Column[Subject]:
    """Return the column of materials."""
    return c.text("material", "material", meaning, value)


def origin(
    value: Text[Subject], meaning: str = "Where it comes from, as the seller says."
) -> Column[Subject]:
    """Return the column of where stuff comes from."""
    return c.text("origin", "origin", meaning, value)


def remark(value: Text[Subject], meaning: str = "Why not, or which way beats it.") -> Column[Subject]:
    """Return the column of remarks."""
    return c.text("remark", "remark", meaning, value)


def why_not(value: Text[Subject], meaning: str = "Why the need is not met.") -> Column[Subject]:
    """Return the column of reasons."""
    return c.text("why_not", "why not", meaning, value)


def needs_met(value: Text[Subject], meaning: str = "Needs met in every place.") -> Column[Subject]:
    """Return the column of needs met."""
    return c.text("needs_met", "meets", meaning, value)


def needs_unmet(value: Text[Subject]) -> Column[Subject]:
    """Return the column of needs not met."""
    return c.text("needs_unmet", "does not meet", "Needs not met, or not everywhere.", value)


def places_met(value: Count[Subject]) -> Column[Subject]:
    """Return the column of how many needs are met, each place counting once."""
    return c.count("places_met", "met", "Needs of places that are met.", value)


def area(value: Number[Subject]) -> Column[Subject]:
    """Return the column of areas [m2]."""
    return c.number("area_m2", "area", c.AREA, "Ground, for all of the count.", value)


def volume(
    value: Number[Subject],
    meaning: str = "Area times the depth of stuff stated: the place's own geometry.",
) -> Column[Subject]:
    """Return the column of volumes [m3]."""
    return c.number("volume_m3", "volume", c.VOLUME, meaning, value)


def loose(value: Number[Subject]) -> Column[Subject]:
    """Return the column of loose volumes [m3]."""
    meaning = "Loose volume to bring, settling and allowance included."
    return c.number("loose_m3", "loose", c.VOLUME, meaning, value)


def mass(value: Number[Subject], meaning: str = "Wet mass of the loose volume.") -> Column[Subject]:
    """Return the column of wet masses [kg]."""
    return c.number("mass_kg", "mass", c.MASS, meaning, value)


def dry(value: Number[Subject]) -> Column[Subject]:
    """Return the column of dry masses [kg]."""
    return c.number("dry_kg", "dry", c.MASS, "Dry mass.", value)


def carbon(value: Number[Subject]) -> Column[Subject]:
    """Return the column of carbon [kg]."""
    return c.number("carbon_kg", "carbon", c.MASS, "Carbon in it.", value)


def nitrogen(value: Number[Subject], meaning: str = "Total nitrogen.") -> Column[Subject]:
    """Return the column of nitrogen [g]."""
    return c.number("nitrogen_g", "N", c.GRAMS, meaning, value)


def available_nitrogen(
    value: Number[Subject], meaning: str = "Nitrogen usable in the first season; negative is tied up."
) -> Column[Subject]:
    """Return the column of usable nitrogen [g]."""
    return c.number("available_nitrogen_g", "N usable", c.GRAMS, meaning, value)


def organic_matter_percent(
    value: Number[Subject], meaning: str = "Lowest soil organic matter of the places on the day wanted."
) -> Column[Subject]:
    """Return the column of soil organic matter [%]."""
    return c.number("organic_matter_percent", "SOM", c.FINE_SHARE, meaning, value)


def cn_ratio(value: Number[Subject]) -> Column[Subject]:
    """Return the column of C:N."""
    return c.number("cn_ratio", "C:N", c.RATIO, "Carbon to nitrogen by mass.", value)


def moisture(value: Number[Subject]) -> Column[Subject]:
    """Return the column of moisture [%]."""
    return c.number("moisture_percent", "moisture", c.SHARE, "Water as a share of wet mass.", value)


def water(value: Number[Subject]) -> Column[Subject]:
    """Return the column of water to add [kg]."""
    return c.number("water_kg", "water", c.MASS, "Water to add.", value)


def barrows(value: Count[Subject]) -> Column[Subject]:
    """Return the column of barrow loads."""
    return c.count("barrows", "barrows", "Barrow loads of the loose volume.", value)


def order_quantity(value: Number[Subject], first: bool = False) -> Column[Subject]:
    """Return the column of quantities in the seller's own unit, of each order or of what is ordered first."""
    heading = "first order" if first else "order"
    beside = "of what meets the need first" if first else "with a plan of several orders, their sum"
    meaning = f"Quantity in the seller's own unit; {beside}."
    return c.number("order_quantity", heading, c.SELLERS_OWN, meaning, value)


def order_unit(value: Text[Subject]) -> Column[Subject]:
    """Return the column of the sellers' units."""
    return c.text("order_unit", "unit", "The seller's unit.", value)


#: Said of counts that leave top-ups and later seasons out.
_AT_FIRST = " for what meets the need first"


def orders(value: Count[Subject], first: bool = False) -> Column[Subject]:
    """Return the column of how many orders there are, in all or at first."""
    return c.count("orders", "orders", f"How many separate orders{_AT_FIRST if first else ''}.", value)


def ordered(value: Number[Subject]) -> Column[Subject]:
    """Return the column of loose volumes ordered [m3]."""
    return c.number("ordered_m3", "ordered", c.VOLUME, "Loose volume ordered.", value)


def leftover(value: Number[Subject]) -> Column[Subject]:
    """Return the column of what is ordered and not needed [m3]; what rounding leaves is nothing."""

    def without_specks(of: Subject) -> float | None:
        left = value(of)
        return 0.0 if left is not None and left <= SPECK else left

    return c.number(
        "leftover_m3",
        "left over",
        c.VOLUME,
        "Ordered but not needed for what it is ordered for; what goes on later may take of it.",
        without_specks,
    )


def trips(value: Count[Subject], first: bool = False) -> Column[Subject]:
    """Return the column of deliveries and trips, in all or at first."""
    return c.count("trips", "trips", f"Deliveries or own trips{_AT_FIRST if first else ''}.", value)


def turns(value: Count[Subject]) -> Column[Subject]:
    """Return the column of turnings of a heap."""
    return c.count("turns", "turns", "How often it is turned.", value)


#: What cash is over a whole horizon.
HORIZON = "Money to pay, to the end of the horizon: top-ups, later seasons and all."


def cash(value: Money[Subject], meaning: str = "Money to pay.") -> Column[Subject]:
    """Return the column of money to pay."""
    return c.money("cash", "cash", meaning, value)


def order_cash(value: Money[Subject]) -> Column[Subject]:
    """Return the column of money for orders."""
    return c.money("order_cash", "orders", "Money for orders, deliveries and tax and all.", value)


def other_cash(value: Money[Subject]) -> Column[Subject]:
    """Return the column of money that is for no order."""
    return c.money("other_cash", "other", "Money beside the orders: seed, plants, stuff for a heap.", value)


def delivery(value: Money[Subject]) -> Column[Subject]:
    """Return the column of money for deliveries."""
    return c.money("delivery", "delivery", "Money for its trips, as the seller charges them.", value)


def tax(value: Money[Subject]) -> Column[Subject]:
    """Return the column of tax."""
    meaning = "Tax in the money to pay; of prices that hold it already, the part that is tax."
    return c.money("tax", "tax", meaning, value)


def cash_first_year(value: Money[Subject]) -> Column[Subject]:
    """Return the column of money to pay within the first twelve months."""
    return c.money("cash_first_year", "first year", "Money to pay within the first twelve months.", value)


def cash_and_hours(value: Money[Subject]) -> Column[Subject]:
    """Return the column of cash with the worth of the hours."""
    meaning = "Cash and hours at your hourly value, when you gave one."
    return c.money("cash_and_hours", "cash + hours", meaning, value)


def hours(value: Number[Subject]) -> Column[Subject]:
    """Return the column of hours."""
    return c.number("hours", "hours", c.HOURS, "Hours of one person.", value)


def hours_low(value: Number[Subject]) -> Column[Subject]:
    """Return the column of hours where it goes quickly."""
    return c.number("hours_low", "hours low", c.HOURS, "Hours if it goes quickly.", value)


def hours_high(value: Number[Subject]) -> Column[Subject]:
    """Return the column of hours where it goes slowly."""
    return c.number("hours_high", "hours high", c.HOURS, "Hours if it goes slowly.", value)


def ready_on(
    value: Day[Subject], meaning: str = "Earliest day the need is met in every place."
) -> Column[Subject]:
    """Return the column of days a need is met."""
    return c.day("ready_on", "ready", meaning, value)


def needed_on(value: Day[Subject]) -> Column[Subject]:
    """Return the column of days something must be there."""
    return c.day("needed_on", "needed", "Day it must be there.", value)


def land(value: Number[Subject]) -> Column[Subject]:
    """Return the column of the land a grown way has."""
    return c.number("land", "land", c.RATIO, "Land a grown way has, in land_unit.", value)


def land_unit(value: Text[Subject]) -> Column[Subject]:
    """Return the column of the land's unit."""
    return c.text("land_unit", "of", "m2, m of row, or plants.", value)
