"""Needs that a plan does not meet: which single limit keeps them from it, and how much of it would do."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from itertools import combinations
from math import inf

from barrowful.answers.choices import cheapest
from barrowful.answers.options import Answer
from barrowful.measures.fixed import fixed
from barrowful.measures.money import rounded
from barrowful.planning.books import total
from barrowful.planning.calendar import Calendar
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import CENT, Limited, SiteProgramme
from barrowful.planning.proof import rounded_up
from barrowful.planning.search import REST
from barrowful.planning.ways_out import (
    ALL_DAY,
    JOINS,
    WayOut,
    carried_out,
    later_days,
    met_by,
    most_met,
    most_there_are,
)

DAY = timedelta(days=1)
#: How often a sooner day is looked for: a setting of the search.
MOST_TRIES = 8
#: The grower's limits by their names in the file.
LIMITS = {
    "limits.cash": "cash",
    "cash in the first year": "cash_first_year",
    "limits.hours": "hours",
    "labour.hours_per_week": "hours_per_week",
    ALL_DAY: "by",
}
#: Hours are told in tenths.
TENTH = 0.1


@fixed(eq=True)
class Clash:
    """A need of a place that is not met, the limit that clashes with it, and the least change to do."""

    need: str
    place: str
    limit: str
    least_change: str


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
    beyond = plan is not None and plan.beyond  # some is met as a row has it, and no programme can
    own = most_there_are(SiteProgramme(answer, Calendar(answer, each_year), limited)) if beyond else len(met)
    ways_out += later_days(answer, limited, each_year, unmet, own)
    for count in range(2, len(LIMITS) + 1):
        if not all(any(need in way.met for way in ways_out) for need in unmet):
            ways_out += _of_several(answer, limited, each_year, met, count)
    found = []
    for kind, place in unmet:
        helps = [way for way in ways_out if (kind, place) in way.met]
        fewest = min((way.limit.count(JOINS) for way in helps), default=0)  # one limit is enough
        helps = [way for way in helps if way.limit.count(JOINS) == fewest]
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
) -> Iterator[WayOut]:
    """Yield what each limit by itself would have to be for more needs to be met."""
    calendar, currency = Calendar(answer, each_year), answer.site.currency
    for limit, most, name in (
        ("cash", limited.cash, "limits.cash"),
        ("cash_first_year", limited.cash_first_year, "cash in the first year"),
    ):
        if most is not None:
            of = SiteProgramme(answer, calendar, replace(limited, **{limit: None}))
            costs = getattr(of.books, limit)
            solved = most_met(of, costs, len(met))
            bill = carried_out(of, solved) if solved else None
            if solved is not None and bill is not None and (spent := getattr(bill, limit)) > most:
                more = rounded(spent - most, currency)
                yield WayOut(limit=name, change=f"{more:,} {currency} more", met=met_by(of, solved))
    if limited.hours is not None:
        of = SiteProgramme(answer, calendar, replace(limited, hours=None), digging_waits=False)
        solved = most_met(of, of.books.hours, len(met))
        if solved is not None:
            hours = rounded_up(total(solved.values, of.books.hours) - limited.hours, TENTH)
            yield WayOut(limit="limits.hours", change=f"{hours} h more", met=met_by(of, solved))
    if limited.hours_per_week is not None:
        of = SiteProgramme(answer, calendar, limited)
        assert of.more_hours is not None
        of.books.programme.most[of.more_hours] = inf
        solved = most_met(of, {of.more_hours: 1.0}, len(met))
        if solved is not None:
            hours = rounded_up(solved.values[of.more_hours], TENTH)
            yield WayOut(
                limit="labour.hours_per_week", change=f"{hours} h a week more", met=met_by(of, solved)
            )
    if limited.by is not None:
        later = _soonest(answer, limited, each_year, met)
        if later is not None and later.ready_on is not None:
            change = f"by {later.ready_on} instead of {limited.by}"
            yield WayOut(limit=ALL_DAY, change=change, met=frozenset(later.whole.places_met))


def _of_several(
    answer: Answer, limited: Limited, each_year: int, met: set[tuple[str, str]], count: int
) -> Iterator[WayOut]:
    """Yield what so many limits keep from being met that fewer do not: what it takes without them."""
    calendar, currency = Calendar(answer, each_year), answer.site.currency
    there = [name for name, field in LIMITS.items() if getattr(limited, field) is not None]
    alone = "neither alone" if count == 2 else "no fewer alone"
    for names in combinations(there, count):
        without = replace(limited, **{LIMITS[name]: None for name in names})
        of = SiteProgramme(answer, calendar, without, digging_waits=False)
        solved = most_met(of, of.books.cash, len(met))
        if solved is not None:
            spent, programme = total(solved.values, of.books.cash), of.books.programme
            programme.row(of.books.cash, most=spent + CENT)
            wholes = [column for column, whole in enumerate(programme.whole) if whole]
            solved = programme.near(of.books.hours, REST, solved.values, wholes)
            cash = rounded(Decimal(str(spent)), currency)
            hours = rounded_up(total(solved.values, of.books.hours), TENTH)
            change = f"{alone}: {cash:,} {currency} and {hours} h in all without them"
            yield WayOut(limit=JOINS.join(names), change=change, met=met_by(of, solved))


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
