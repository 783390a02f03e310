"""Needs that a plan does not meet: which single limit keeps them from it, and how much of it would do."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal
from itertools import combinations
from math import inf
from typing import Any

from barrowful.answers.choices import cheapest
from barrowful.answers.options import Answer
from barrowful.measures.fixed import fixed
from barrowful.measures.money import rounded
from barrowful.planning.books import total
from barrowful.planning.calendar import Calendar
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.plots import plots_of
from barrowful.planning.programme import CENT, Limited, SiteProgramme
from barrowful.planning.proof import rounded_up
from barrowful.planning.search import REST, effort_for, is_small
from barrowful.planning.solved import Solved
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
#: How often a sooner day is looked for, and the least more of a limit: settings of the search.
MOST_TRIES, MOST_STEPS = 8, 4
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
    beyond = _Beyond(
        answer,
        Calendar(answer, each_year),
        replace(limited, puts_off=limited.cash_first_year is not None),
        plan,
        unmet,
    )
    ways_out = list(beyond.one_limit())
    by_rows = plan is not None and plan.beyond  # some is met as a row has it, and no programme can
    own = most_there_are(SiteProgramme(answer, Calendar(answer, each_year), limited)) if by_rows else len(met)
    ways_out += later_days(answer, limited, each_year, unmet, own)
    for count in range(2, len(LIMITS) + 1):
        if not all(any(need in way.met for way in ways_out) for need in unmet):
            ways_out += beyond.several(count)
    found = []
    for kind, place in unmet:
        helps = {
            way.limit: way for way in reversed(ways_out) if (kind, place) in way.met
        }  # the first of each
        fewest = min((limit.count(JOINS) for limit in helps), default=0)  # one limit is enough
        told = [way for way in ways_out if helps.get(way.limit) is way and way.limit.count(JOINS) == fewest]
        found += [Clash(need=kind, place=place, limit=way.limit, least_change=way.change) for way in told]
        if not told:
            found.append(_because(answer, kind, place))
    return found


def _because(answer: Answer, kind: str, place: str) -> Clash:
    """Return what keeps a need from being met where no limit of the grower's is what does."""
    because, serving = cheapest(answer.with_plan(())).why_left_out(kind, place)
    limit = serving.ceiling if serving and serving.ceiling else "what the ways bring"
    return Clash(need=kind, place=place, limit=limit, least_change=because or "no way of the file meets it")


class _Beyond:
    """What may be met where limits give way, beside what a plan meets."""

    def __init__(
        self,
        answer: Answer,
        calendar: Calendar,
        limited: Limited,
        plan: Plan | None,
        unmet: Sequence[tuple[str, str]],
    ) -> None:
        self.answer, self.calendar, self.limited, self.unmet = answer, calendar, limited, unmet
        self.met = len(plan.whole.places_met) if plan else 0
        self.plots = plan.plots if plan else plots_of(SiteProgramme(answer, calendar, limited), unmet)

    def one_limit(self) -> Iterator[WayOut]:
        """Yield what each limit by itself would have to be for more needs to be met: the least first."""
        yield from self._money("cash", "limits.cash")
        yield from self._money("cash_first_year", "cash in the first year")
        limited = self.limited
        if limited.hours is not None:
            of = self._without("hours", digging_waits=False)
            for solved in self._steps(of, of.books.hours):
                hours = rounded_up(total(solved.values, of.books.hours) - limited.hours, TENTH)
                yield WayOut(limit="limits.hours", change=f"{hours} h more", met=met_by(of, solved))
        if limited.hours_per_week is not None:
            of = self._without()
            assert of.more_hours is not None
            of.books.programme.most[of.more_hours] = inf
            for solved in self._steps(of, {of.more_hours: 1.0}):
                change = f"{rounded_up(solved.values[of.more_hours], TENTH)} h a week more"
                yield WayOut(limit="labour.hours_per_week", change=change, met=met_by(of, solved))
        if limited.by is not None:
            later = self._soonest()
            if later is not None and later.ready_on is not None:
                change = f"by {later.ready_on} instead of {limited.by}"
                yield WayOut(limit=ALL_DAY, change=change, met=frozenset(later.whole.places_met))

    def several(self, count: int) -> Iterator[WayOut]:
        """Yield what so many limits keep from being met that fewer do not: what it takes without them."""
        currency = self.answer.site.currency
        there = [name for name, field in LIMITS.items() if getattr(self.limited, field) is not None]
        alone = "neither alone" if count == 2 else "no fewer alone"
        for names in combinations(there, count):
            of = self._without(*(LIMITS[name] for name in names), digging_waits=False)
            solved = most_met(of, of.books.cash, self.met)
            if solved is not None:
                spent, programme = total(solved.values, of.books.cash), of.books.programme
                programme.row(of.books.cash, most=spent + CENT)
                wholes = [column for column, whole in enumerate(programme.whole) if whole]
                solved = programme.near(of.books.hours, REST, solved.values, wholes)
                cash = rounded(Decimal(str(spent)), currency)
                hours = rounded_up(total(solved.values, of.books.hours), TENTH)
                change = f"{alone}: {cash:,} {currency} and {hours} h in all without them"
                yield WayOut(limit=JOINS.join(names), change=change, met=met_by(of, solved))

    def _without(self, *limits: str, digging_waits: bool = True) -> SiteProgramme:
        """Return the programme without some limits."""
        free: dict[str, Any] = dict.fromkeys(limits)
        return SiteProgramme(
            self.answer, self.calendar, replace(self.limited, **free), self.plots, digging_waits=digging_waits
        )

    def _money(self, limit: str, name: str) -> Iterator[WayOut]:
        """Yield how much more money of a limit would do."""
        most, currency = getattr(self.limited, limit), self.answer.site.currency
        if most is None:
            return
        of = self._without(limit)
        for solved in self._steps(of, getattr(of.books, limit)):
            bill = carried_out(of, solved)
            if bill is not None and (spent := getattr(bill, limit)) > most:
                more = rounded(spent - most, currency)
                yield WayOut(limit=name, change=f"{more:,} {currency} more", met=met_by(of, solved))

    def _steps(self, of: SiteProgramme, costs: Mapping[int, float]) -> Iterator[Solved]:
        """Yield the least costs at which more needs are met, each time some that were not before; then most.

        Where there are many needs the least for all that can be met is looked for soon.
        """
        left, programme = of.columns_of_needs(self.unmet), of.books.programme
        programme.row(of.weights, least=self.met + 1)
        for _ in range(MOST_STEPS if is_small(of) else 0):
            if not left:
                return
            programme.row(dict.fromkeys(left, 1.0), least=1.0)
            solved = programme.solve(costs, effort_for(of, again=True))
            if not solved.found:
                return
            yield solved
            left = {column for column in left if not solved.says_yes(column)}
        last = most_met(of, costs, self.met)
        if left and last is not None:
            yield last

    def _soonest(self) -> Plan | None:
        """Return the plan that meets more and is ready soonest, the day all is to be ready left out."""
        site, each_year = self.answer.site, self.calendar.each_year
        free = replace(self.answer, site=replace(site, limits=replace(site.limits, by=None)))
        plan = plan_of(free, replace(self.limited, by=None), each_year)
        if plan is None or len(plan.whole.places_met) <= self.met:
            return None
        for _ in range(MOST_TRIES):
            if plan.ready_on is None:
                break
            sooner = plan_of(free, replace(self.limited, by=plan.ready_on - DAY), each_year)
            if sooner is None or len(sooner.whole.places_met) < len(plan.whole.places_met):
                break
            plan = sooner
        return plan
