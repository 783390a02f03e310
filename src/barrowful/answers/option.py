"""One row of options: a way, or several jointly, for a kind of need, with what it costs and leaves."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cached_property

from barrowful.answers.costs import cash_of, collecting_hours, cost_of_all, jobs_of, placing_hours
from barrowful.answers.work import finished
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import later
from barrowful.costs.labour import Hours
from barrowful.costs.order import Order
from barrowful.measures.elementwise import round_up
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import days_in_words
from barrowful.measures.text import in_figures
from barrowful.needs.decision import Decision
from barrowful.needs.outcome import Outcome, joined, outcome_of
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.joint import Source
from barrowful.supplies.lot import YEAR
from barrowful.supplies.placing import PlacedOrder, place_orders


@fixed
class Option:
    """One way applied to one kind of need in some places: order, cash, hours, waiting, result.

    Cash and hours are of all there is to do to the end of the horizon; ``orders`` bring what meets the
    need first, its top-ups and later seasons apart, and ``cash_at_first`` is for that.
    """

    need: str
    supply: Source
    places: tuple[Place, ...]
    decision: Decision
    orders: tuple[PlacedOrder, ...]
    cash: Decimal
    cash_first_year: Decimal
    cash_at_first: Decimal
    hours: Hours
    barrow: float
    leaves: Callable[[], Outcome]  #: gives what the doses leave that meet the need first; not all ask for it
    ready_on: date | None
    over: str = ""  #: which limit of the grower's it is over, and by how much
    beaten_by: str = ""

    @property
    def name(self) -> str:
        """Return the name of the way, or of the ways that serve jointly."""
        return self.supply.name

    @property
    def key(self) -> str:
        """Return what its ways are looked up by."""
        return self.supply.key

    @property
    def materials(self) -> tuple[Material, ...]:
        """Return the material of each way."""
        return self.supply.materials

    @property
    def loose(self) -> float:
        """Return the loose volume brought to the places to meet the need first [m3]."""
        return sum(dose.loose for dose in self.decision.doses)

    @property
    def mass(self) -> float | None:
        """Return the wet mass [kg]."""
        if any(stuff.lacks("density") for stuff in self.materials):
            return None
        return sum((dose.material.wet_mass(dose.loose) for dose in self.decision.doses), 0.0)

    @property
    def dry(self) -> float | None:
        """Return the dry mass [kg]."""
        if any(stuff.lacks("density", "moisture") for stuff in self.materials):
            return None
        return sum((dose.material.dry_mass(dose.loose) for dose in self.decision.doses), 0.0)

    def orders_of(self, name: str) -> list[Order]:
        """Return the orders placed with the seller of a way."""
        return [placed.order for placed in self.orders if placed.way.name == name]

    def wanted(self, nutrient: str) -> float:
        """Return how much of a nutrient [kg] the places want in each season."""
        return sum(NEEDS[self.need].nutrients_wanted(place).get(nutrient, 0.0) for place in self.places)

    @property
    def acts(self) -> bool:
        """Say whether anything is put on or sown."""
        return bool(self.decision.every_dose or self.decision.founds)

    @property
    def feasible(self) -> bool:
        """Say whether the need is met in every place in time, within the grower's limits."""
        return self.decision.feasible and not self.over

    @property
    def why_not(self) -> str:
        """Return why it is not feasible, or nothing."""
        return self.decision.why_not or self.over

    @property
    def outcome(self) -> Outcome:
        """Return what the doses leave that meet the need first."""
        return self.leaves()

    @cached_property
    def tied_up(self) -> float:
        """Return the nitrogen [kg] it ties up in the first season."""
        return max(0.0, -(self.outcome.available_nitrogen or 0.0))

    @property
    def area(self) -> float:
        """Return the ground served [m2]."""
        return sum(place.total_area for place in self.places)


def make_option(site: Site, kind: str, supply: Source, places: Sequence[Place], decision: Decision) -> Option:
    """Return the option a decision makes: what it costs, how long it takes and what it leaves."""
    first = cost_of_all(supply, decision.doses, decision.founds)
    whole = cost_of_all(supply, decision.every_dose, decision.founds) if decision.later else first
    orders = tuple(place_orders(first.bought, site))
    every = place_orders(whole.bought, site) if decision.later else orders
    divided = supply.divide(decision.every_dose)
    placing = sum((placing_hours(site, doses, part) for part, doses in divided), Hours())
    option = Option(
        need=kind,
        supply=supply,
        places=tuple(places),
        decision=decision,
        orders=orders,
        cash=cash_of(every, whole.paid),
        cash_first_year=cash_of(every, whole.paid, YEAR.after(site.start)),
        cash_at_first=cash_of(orders, first.paid),
        hours=whole.hours + placing + collecting_hours(every),
        barrow=site.labour.barrow,
        leaves=later(outcome_of_all, site, supply, decision.doses),
        ready_on=decision.ready_on,
    )
    return within_limits(site, worked_off(site, supply, option))


def outcome_of_all(site: Site, supply: Source, doses: Sequence[Application]) -> Outcome:
    """Return what doses leave, of one way or of several."""
    return joined([outcome_of(site, own, part.material) for part, own in supply.divide(doses)])


def worked_off(site: Site, supply: Source, option: Option) -> Option:
    """Return an option with the day its work is done, where there are so many hours a week."""
    decision = option.decision
    if site.labour.hours_per_week is None or decision.ready_on is None or not decision.doses:
        return option
    divided = supply.divide(decision.doses)
    jobs = [job for part, doses in divided for job in jobs_of(site, doses, part)]
    done = finished(site.labour.hours_per_week, jobs)
    if done is None:
        return replace(option, ready_on=None, over="there are no hours for the work in any week")
    late = done > max(site.end, decision.ready_on)
    over = f"the work is not done before {done}" if late else option.over
    return replace(option, ready_on=max(decision.ready_on, done), over=over)


def within_limits(site: Site, option: Option) -> Option:
    """Return an option with the limit of the grower's it is over, if it is over one."""
    if option.over or not option.decision.feasible:
        return option
    over = over_limits(site, option.cash, option.hours, option.ready_on)
    return replace(option, over=over) if over else option


def over_limits(site: Site, cash: Decimal, hours: Hours, ready: date | None) -> str:
    """Return which limits cash, hours and the day ready are over, and by how much, or nothing."""
    limits, parts = site.limits, []
    if limits.cash is not None and cash > limits.cash:
        parts.append(f"{cash - limits.cash:,} {site.currency} over limits.cash")
    if limits.hours is not None and hours.compared > limits.hours:
        over = hours.compared - limits.hours
        told = f"{over:,.1f}" if over >= 1 else in_figures(over, 1)
        parts.append(f"{told} h over limits.hours")
    if limits.by is not None and ready is not None and ready > limits.by:
        late = (ready - limits.by).days
        parts.append(f"ready {ready}, {late} {days_in_words(late)} after limits.by")
    return " and ".join(parts)


def put_off(site: Site, option: Option) -> str:
    """Return that what may be bought on any day is put on a year or more on, for a need's date, or nothing.

    The least that meets a raise on its day goes on late, as it has rotted least by then.
    """
    dosed, needs = option.decision.every_dose, [place.need(option.need) for place in option.places]
    dated = any(need is not None and need.due is not None for need in needs)
    if option.supply.limited or not dated or not dosed:
        return ""
    if min(dose.day for dose in dosed) < YEAR.after(site.start):
        return ""
    return 'put on late for its date: with a sooner "by:" it may be ready sooner'


def worth(option: Option) -> tuple[Decimal, float, date, float]:
    """Return cash, hours, date and nitrogen tied up: what options are compared on."""
    tied = round(option.tied_up, 9)
    return option.cash, option.hours.compared, option.ready_on or date.max, tied


def first_among_equals(option: Option) -> tuple[object, ...]:
    """Return what an option is picked by among several: what they are compared on, else its ways' names.

    So the order of the file changes nothing.
    """
    return *worth(option), sorted(part.name for part in option.supply.parts)


def total_cost(cash: Decimal, hours: Hours, hourly: Decimal) -> Decimal:
    """Return cash and hours x an hour's value."""
    return cash + hourly * Decimal(str(hours.compared))


def hours_counted(site: Site) -> str:
    """Return in brackets what an hour is counted at, where hours have a value."""
    hourly = site.labour.hourly_value
    return f" (hours at {hourly:f} {site.currency})" if hourly else ""


def barrows(option: Option) -> int:
    """Return whole barrow loads."""
    whole: int = round_up(option.loose / option.barrow)
    return whole
