"""Needs that a plan does not meet: which single limit keeps them from it, and how much of it would do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import timedelta
from decimal import Decimal
from itertools import combinations
from math import inf

from barrowful.answers.choices import cheapest
from barrowful.answers.options import Answer
from barrowful.measures.money import rounded
from barrowful.planning.books import total
from barrowful.planning.calendar import Calendar
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import CENT, Limited, SiteProgramme
from barrowful.planning.proof import rounded_up
from barrowful.planning.search import COST, REST
from barrowful.planning.solved import Solved

DAY = timedelta(days=1)
#: How often a sooner day is looked for: a setting of the search.
MOST_TRIES = 8
#: The grower's limits by their names in the file, and what stands between two of them.
LIMITS = {
    "limits.cash": "cash",
    "limits.hours": "hours",
    "labour.hours_per_week": "hours_per_week",
    "limits.by": "by",
}
JOINS = " and "
#: Hours are told in tenths.
TENTH = 0.1


@dataclass(frozen=True, kw_only=True)
class Clash:
    """A need of a place that is not met, the limit that clashes with it, and the least change to do."""

    need: str
    place: str
    limit: str
    least_change: str


@dataclass(frozen=True, kw_only=True)
class _WayOut:
    """A way out: the limit that gives way, by how much, and the needs that are met then."""

    limit: str
    change: str
    met: frozenset[tuple[str, str]]


def clashes_of(answer: Answer, limited: Limited, plan: Plan | None, each_year: int) -> list[Clash]:
    """Return for each need that is not met the limits of which a single one would do, or why none does."""
    met = plan.whole.places_met if plan else set()
    unmet = [
        (need.kind, place.name)
        for place in answer.site.places
        for need in place.needs
        if (need.kind, place.name) not in met
    ]
    if not unmet:
        return []
    ways_out = list(_ways_out(answer, limited, each_year, met))
    if not all(any(need in way.met for way in ways_out) for need in unmet):
        ways_out += _of_two(answer, limited, each_year, met)
    found = []
    for kind, place in unmet:
        helps = [way for way in ways_out if (kind, place) in way.met]
        helps = [way for way in helps if JOINS not in way.limit] or helps  # one limit is enough
        found += [Clash(need=kind, place=place, limit=way.limit, least_change=way.change) for way in helps]
        if not helps:
            found.append(_because(answer, kind, place))
    return found


def _because(answer: Answer, kind: str, place: str) -> Clash:
    """Return what keeps a need from being met where no limit of the grower's is what does."""
    because, serving = cheapest(answer.with_plan(())).why_left_out(kind, place)
    limit = serving.ceiling if serving and serving.ceiling else "what the ways bring"
    return Clash(need=kind, place=place, limit=limit, least_change=because or "no way of the file meets it")


def _ways_out(
    answer: Answer, limited: Limited, each_year: int, met: set[tuple[str, str]]
) -> Iterator[_WayOut]:
    """Yield what each limit by itself would have to be for more needs to be met."""
    calendar, currency = Calendar(answer, each_year), answer.site.currency
    for limit, most, name in (
        ("cash", limited.cash, "limits.cash"),
        ("cash_first_year", limited.cash_first_year, "cash in the first year"),
    ):
        if most is not None:
            of = SiteProgramme(answer, calendar, replace(limited, **{limit: None}))
            costs = getattr(of.books, limit)
            solved = _most_met(of, costs, met)
            if solved is not None:
                more = rounded(Decimal(str(total(solved.values, costs))) - most, currency)
                yield _WayOut(limit=name, change=f"{more:,} {currency} more", met=_met(of, solved))
    if limited.hours is not None:
        of = SiteProgramme(answer, calendar, replace(limited, hours=None), digging_waits=False)
        solved = _most_met(of, of.books.hours, met)
        if solved is not None:
            hours = rounded_up(total(solved.values, of.books.hours) - limited.hours, TENTH)
            yield _WayOut(limit="limits.hours", change=f"{hours} h more", met=_met(of, solved))
    if limited.hours_per_week is not None:
        of = SiteProgramme(answer, calendar, limited)
        assert of.more_hours is not None
        of.books.programme.most[of.more_hours] = inf
        solved = _most_met(of, {of.more_hours: 1.0}, met)
        if solved is not None:
            hours = rounded_up(solved.values[of.more_hours], TENTH)
            yield _WayOut(
                limit="labour.hours_per_week", change=f"{hours} h a week more", met=_met(of, solved)
            )
    if limited.by is not None:
        later = _soonest(answer, limited, each_year, met)
        if later is not None and later.ready_on is not None:
            change = f"by {later.ready_on} instead of {limited.by}"
            yield _WayOut(limit="limits.by", change=change, met=frozenset(later.whole.places_met))


def _of_two(answer: Answer, limited: Limited, each_year: int, met: set[tuple[str, str]]) -> Iterator[_WayOut]:
    """Yield what two limits keep from being met that neither does alone: what it takes without both."""
    calendar, currency = Calendar(answer, each_year), answer.site.currency
    there = [(name, field) for name, field in LIMITS.items() if getattr(limited, field) is not None]
    for (one, first), (other, second) in combinations(there, 2):
        without = replace(limited, **{first: None, second: None})
        of = SiteProgramme(answer, calendar, without, digging_waits=False)
        solved = _most_met(of, of.books.cash, met)
        if solved is not None:
            spent = total(solved.values, of.books.cash)
            of.books.programme.row(of.books.cash, most=spent + CENT)
            solved = of.books.programme.near(of.books.hours, REST, solved.values)
            cash = rounded(Decimal(str(spent)), currency)
            hours = rounded_up(total(solved.values, of.books.hours), TENTH)
            change = f"neither alone: {cash:,} {currency} and {hours} h in all without them"
            yield _WayOut(limit=f"{one}{JOINS}{other}", change=change, met=_met(of, solved))


def _most_met(of: SiteProgramme, costs: Mapping[int, float], met: set[tuple[str, str]]) -> Solved | None:
    """Return the least costs at which most needs are met; None where that is no more than before."""
    programme = of.books.programme
    most = programme.solve({column: -weight for column, weight in of.weights.items()}, COST)
    if not most.found or round(-most.least) <= len(met):
        return None
    programme.row(of.weights, least=round(-most.least))
    solved = programme.solve(costs, COST, most.values)
    return solved if solved.found else None


def _met(of: SiteProgramme, solved: Solved) -> frozenset[tuple[str, str]]:
    unmet = set(of.unmet(solved))
    every = {(need.kind, place.name) for place in of.answer.site.places for need in place.needs}
    return frozenset(every - unmet)


def _soonest(answer: Answer, limited: Limited, each_year: int, met: set[tuple[str, str]]) -> Plan | None:
    """Return the plan that meets more and is ready soonest, the day everything is to be ready left out."""
    limits = replace(answer.site.limits, by=None)
    free = replace(answer, site=replace(answer.site, limits=limits))
    plan = plan_of(free, replace(limited, by=None), each_year)
    if plan is None or len(plan.whole.places_met) <= len(met):
        return None
    for _ in range(MOST_TRIES):
        if plan.ready_on is None:
            break
        sooner = plan_of(free, replace(limited, by=plan.ready_on - DAY), each_year)
        if sooner is None or len(sooner.whole.places_met) < len(plan.whole.places_met):
            break
        plan = sooner
    return plan
