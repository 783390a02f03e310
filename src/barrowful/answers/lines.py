"""What a line about an option says beside the option: what is ordered, prices, surplus, land, upkeep."""

from __future__ import annotations

import math
from collections.abc import Iterable
from decimal import Decimal
from typing import NamedTuple

from barrowful.answers.amounts import Mixture, amounts, mixture
from barrowful.answers.choices import WholeSite
from barrowful.answers.instead import instead
from barrowful.answers.option import Option, barrows, total_cost
from barrowful.answers.options import Answer
from barrowful.answers.upkeep import Upkeep, upkeep
from barrowful.catalogue.judgements import judgement
from barrowful.costs.labour import Hours
from barrowful.measures.dates import years_between
from barrowful.measures.money import rounded
from barrowful.measures.telling import AREA, FEED, LENGTH, in_told, measured
from barrowful.needs.feed import Feeding
from barrowful.needs.harvests import waited_for
from barrowful.site.records import Site


class Ordered(NamedTuple):
    """What is ordered for an option: its own seller's quantity and volumes [m3], and all trips."""

    quantity: float | None = None
    unit: str | None = None
    volume: float | None = None
    leftover: float | None = None
    orders: int | None = None
    trips: int | None = None


class Surplus(NamedTuple):
    """Of a feed: the nutrient that sizes it, nitrogen still to come [kg], and what is over [kg]."""

    binding: str | None
    credit: float
    over: dict[str, float | None]


class LandLine(NamedTuple):
    """The land a grown way has, and what would serve the need in time: m2, m of row, or plants.

    ``plants`` is how many would stand on what is needed, as close together as they stand now.
    """

    there: float
    needed: float | None
    unit: str
    plants: int | None = None

    @property
    def told(self) -> str:
        """Return what land would do, in words; of far more than there is only that."""
        sort = {"m2": AREA, "m": LENGTH}.get(self.unit)
        (would, unit), (there, _) = (
            (size, self.unit) if sort is None else in_told(size, sort)
            for size in (self.needed or 0.0, self.there)
        )
        if would > judgement("land_told") * there:
            return f"it would take far more land than there is, {there:,.0f} {unit}"
        whole = math.ceil(round(would, 6))  # a little less would not do
        plants = "" if self.plants is None or self.unit == "plants" else f" ({self.plants:,} plants)"
        return f"about {whole:,} {unit}{plants} would do, there is {there:,.0f}"


class Prices(NamedTuple):
    """Cash for each kg of organic matter left, of nitrogen, and of nitrogen usable at once."""

    matter: Decimal | None = None
    nitrogen: Decimal | None = None
    available: Decimal | None = None


class OptionLine(NamedTuple):
    """An option and what is said of it; ``acts`` says whether it puts down or plants anything.

    Where it does not and the need is met all the same, cash, likely hours and volume are nothing; where
    the need is not met they are not known. ``worth`` is cash with the hours at their value, if they
    have one; ``years`` are from the start until it is ready.
    """

    option: Option
    acts: bool
    years: float | None
    remark: str | None
    cash: Decimal | None
    cash_first_year: Decimal | None
    worth: Decimal | None
    hours: float | None
    spread: Hours | None
    loose: float | None
    barrows: int | None
    ordered: Ordered
    prices: Prices
    upkeep: Upkeep | None
    upkeep_per_area_year: Decimal | None
    surplus: Surplus | None
    mixture: Mixture | None
    land: LandLine | None
    possible: float | None
    instead: str


def option_lines(answer: Answer) -> list[OptionLine]:
    """Return a line for each option."""
    return [option_line(answer, option) for option in answer.options]


def option_line(answer: Answer, option: Option) -> OptionLine:
    """Return the line of one option."""
    site = answer.site
    acts = option.acts
    idle = option.feasible and not acts
    kept = upkeep(site, option) if acts else None
    land, surplus, mix = _land(option), _surplus(option) if acts else None, mixture(option)
    return OptionLine(
        option=option,
        acts=acts,
        years=years_between(site.start, option.ready_on) if option.ready_on else None,
        remark=_remark(site, option, land, surplus, mix),
        cash=option.cash if acts else Decimal(0) if idle else None,
        cash_first_year=option.cash_first_year if acts else Decimal(0) if idle else None,
        worth=_worth(site, option.cash, option.hours) if acts or idle else None,
        hours=option.hours.likely if acts else 0.0 if idle else None,
        spread=option.hours if acts or idle else None,
        loose=option.loose if acts else 0.0 if idle else None,
        barrows=barrows(option) if acts else None,
        ordered=_ordered(option) if acts else Ordered(),
        prices=_prices(option, site.currency) if acts else Prices(),
        upkeep=kept,
        upkeep_per_area_year=_per_area_year(kept, site.currency) if kept else None,
        surplus=surplus,
        mixture=mix,
        land=land,
        possible=_possible(option),
        instead=instead(answer, option),
    )


def _possible(option: Option) -> float | None:
    """Return what the ceilings allow where they stop a row: m3 loose, of fertilisers kg."""
    loose = option.decision.possible
    [stuff, *others] = option.materials
    if loose is None or others or not stuff.sort.as_sold:
        return loose
    return stuff.wet_mass(loose)


def _worth(site: Site, cash: Decimal, hours: Hours) -> Decimal | None:
    """Return cash with hours at their value, where they have one."""
    hourly = site.labour.hourly_value
    return rounded(total_cost(cash, hours, hourly), site.currency) if hourly else None


def _ordered(option: Option) -> Ordered:
    own = option.orders_of(option.name)
    drawn = own or [placed.order for placed in option.orders]
    anything = Ordered(
        orders=len(drawn) or None, trips=sum(order.trips for order in drawn) if drawn else None
    )
    if not own:
        return anything
    return Ordered(
        quantity=float(sum(order.quantity for order in own)),
        unit=own[0].unit,
        volume=sum(order.volume for order in own),
        leftover=sum(order.leftover for order in own),
        orders=anything.orders,
        trips=anything.trips,
    )


def _surplus(option: Option) -> Surplus | None:
    """Return what a feed brings above what is wanted, and the nutrient that sizes it."""
    if option.need != Feeding.kind:
        return None
    outcome, decision = option.outcome, option.decision
    usable = None if outcome.available_nitrogen is None else outcome.available_nitrogen + decision.credit
    brought = {"nitrogen": usable, "phosphorus": outcome.phosphorus, "potassium": outcome.potassium}
    return Surplus(
        binding=decision.binding or None,
        credit=decision.credit,
        over={
            nutrient: None if amount is None else amount - option.wanted(nutrient)
            for nutrient, amount in brought.items()
        },
    )


def _land(option: Option) -> LandLine | None:
    """Return the land a grown way has, and needs to serve in time."""
    land, times = option.supply.land, option.decision.times_needed
    if land is None:
        return None
    if times is None:
        return LandLine(there=land.size, needed=None, unit=land.unit)
    plants = None if land.plants is None else math.ceil(round(land.plants * times, 6))
    return LandLine(there=land.size, needed=land.size * times, unit=land.unit, plants=plants)


def _remark(
    site: Site, option: Option, land: LandLine | None, surplus: Surplus | None, mix: Mixture | None
) -> str | None:
    """Return why a need is not met, and what land would do; else what goes on and which way beats it.

    What waits for a harvest is told of either.
    """
    why_not, times = option.why_not, option.decision.times_needed
    waits = list(dict.fromkeys(filter(None, (waited_for(site, dose) for dose in option.decision.doses))))
    if land is not None and land.needed is not None and why_not and times is not None and times > 1:
        return f"{why_not}; {land.told}"
    beaten = f"beaten by {option.beaten_by}" if option.beaten_by else ""
    told = [why_not] if why_not else [amounts(option, mix), _too_much(surplus, option.area), beaten]
    return "; ".join(filter(None, (*told, *waits))) or None


def _too_much(surplus: Surplus | None, area: float) -> str:
    """Return the nutrients that a feed of an area [m2] brings above what is wanted, if worth telling."""
    if surplus is None or not area:
        return ""
    each = {name: (of or 0.0) / area for name, of in surplus.over.items()}
    over = {name: of for name, of in each.items() if of >= judgement("told_surplus")}
    told = " and ".join(f"{measured(of, FEED, 2)} {name}" for name, of in over.items())
    return f"{told} too much" if told else ""


def _prices(option: Option, currency: str) -> Prices:
    """Return what a kilogram costs of what first meets the need: later seasons bring more, for more money."""

    def each(amount: float | None) -> Decimal | None:
        if amount is None or amount <= 0:
            return None
        return rounded(option.cash_at_first / Decimal(str(amount)), currency)

    outcome = option.outcome
    return Prices(
        matter=each(outcome.matter_after_year),
        nitrogen=each(outcome.nitrogen),
        available=each(outcome.available_nitrogen),
    )


def _per_area_year(kept: Upkeep, currency: str) -> Decimal | None:
    """Return what each m2 of a cover kept up costs in each year."""
    if kept.area_years <= 0:
        return None
    return rounded(kept.cash / Decimal(str(kept.area_years)), currency)


class WholeLine(NamedTuple):
    """The whole site by one way, or by the cheapest way for each need; ``acts`` where anything is done."""

    whole: WholeSite
    acts: bool
    worth: Decimal | None
    trips: int | None
    loose: float | None


def whole_lines(site: Site, rows: Iterable[WholeSite]) -> list[WholeLine]:
    """Return a line for each total over the site."""
    return [whole_line(site, row) for row in rows]


def whole_line(site: Site, row: WholeSite) -> WholeLine:
    """Return the line of one total over the site."""
    bill, acts = row.bill, bool(row.together.parts)
    return WholeLine(
        whole=row,
        acts=acts,
        worth=_worth(site, bill.cash, bill.hours) if acts else None,
        trips=sum(placed.order.trips for placed in bill.orders) or None if acts else None,
        loose=sum(dose.loose for dose in row.together.all_doses) if acts else None,
    )
