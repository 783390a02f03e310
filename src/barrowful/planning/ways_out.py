"""Ways out where a need is not met: how many can be, and the day of a need's own by which it can."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import date

from barrowful.answers.costs import Bill
from barrowful.answers.options import Answer, options
from barrowful.measures.dates import Step
from barrowful.measures.fixed import fixed
from barrowful.planning.calendar import Calendar
from barrowful.planning.programme import Limited, SiteProgramme
from barrowful.planning.proof import ROUNDINGS, proof_of_solution
from barrowful.planning.search import effort_for, is_small
from barrowful.planning.solved import Effort, Solved
from barrowful.site.records import Place

#: What the day of a need's own is called, that for all, and what stands between several limits.
OWN_DAY, ALL_DAY, JOINS = "by of the need", "limits.by", " and "
#: How many sorts of need, and how many days of each, are tried.
MOST_SORTS, MOST_TRIES = 3, 7


@fixed(eq=True)
class WayOut:
    """A way out: the limit that gives way, by how much, and the needs that are met then."""

    limit: str
    change: str
    met: frozenset[tuple[str, str]]


def most_met(of: SiteProgramme, costs: Mapping[int, float], met: int) -> Solved | None:
    """Return the least costs at which most needs are met; None where that is no more than before."""
    programme, most = of.books.programme, _most(of)
    if not most.found or round(-most.least) <= met:
        return None
    programme.row(of.weights, least=round(-most.least))
    solved = programme.solve(costs, _effort(of), most.values)
    return solved if solved.found else None


def carried_out(of: SiteProgramme, solved: Solved) -> Bill | None:
    """Return what a solution costs at least as the ordinary code carries it out; None where it is unsound."""
    met, proofs = met_by(of, solved), [proof_of_solution(of, solved, exact) for exact in ROUNDINGS]
    bills = [proof.whole.bill for proof in proofs if proof.meets(met) and not proof.broken]
    return min(bills, key=lambda bill: bill.cash, default=None)


def met_by(of: SiteProgramme, solved: Solved) -> frozenset[tuple[str, str]]:
    """Return the needs that a solution meets, by kind and place."""
    unmet = set(of.unmet(solved))
    every = {(need.kind, place.name) for place in of.answer.site.places for need in place.needs}
    return frozenset(every - unmet)


def most_there_are(of: SiteProgramme) -> int:
    """Return how many needs can be met at the most."""
    most = _most(of)
    return round(-most.least) if most.found else 0


def _effort(of: SiteProgramme) -> Effort:
    """Return how hard is looked for a way out: of a large programme several are, each after a long search."""
    return effort_for(of, again=not is_small(of))


def _most(of: SiteProgramme) -> Solved:
    """Return a solution that meets most needs."""
    return of.books.programme.solve({column: -weight for column, weight in of.weights.items()}, _effort(of))


def later_days(
    answer: Answer, limited: Limited, each_year: int, unmet: Sequence[tuple[str, str]], met: int
) -> Iterator[WayOut]:
    """Yield the first day of its own, as far as it is looked for, by which a need can be met beside the rest.

    Needs of one kind that are due on the same day are put off together. Where the day by which all is to be
    met keeps them from it as well, both are put off. So many needs are ``met`` as it is.
    """
    sorts: dict[tuple[str, date], set[str]] = {}
    for kind, name in unmet:
        need = answer.site.place(name).need(kind)
        if need is not None and need.due is not None:
            sorts.setdefault((kind, need.due), set()).add(name)
    for (kind, due), names in list(sorts.items())[:MOST_SORTS]:
        put_off = _PutOff(
            answer=answer,
            limited=limited,
            each_year=each_year,
            kind=kind,
            due=due,
            names=frozenset(names),
            met=met,
        )
        way_out = put_off.first_day() or put_off.first_for_all()
        if way_out is not None:
            yield way_out


@fixed
class _PutOff:
    """Needs of one kind that are not met by the day of their own, in the places named."""

    answer: Answer
    limited: Limited
    each_year: int
    kind: str
    due: date
    names: frozenset[str]
    met: int  #: needs that are met as it is, in all
    for_all: bool = False  #: is the day by which all is to be met put off as well, where it is before?

    def first_day(self) -> WayOut | None:
        """Return the first day by which they can be met: days from the one due to a way's own are halved."""
        last = _ready_alone(self.answer, self.kind, self.names)
        best = self._met_by(last) if last is not None and last > self.due else None
        if best is None or last is None:
            return None
        too_soon = self.due
        for _ in range(MOST_TRIES):
            if (last - too_soon).days <= 1:
                break
            day = too_soon + (last - too_soon) // 2
            met = self._met_by(day)
            last, best, too_soon = (day, met, too_soon) if met else (last, best, day)
        change = f"by {last} instead of {self.due}"
        if not self.for_all:
            return WayOut(limit=OWN_DAY, change=change, met=best)
        both = f"neither alone: {change}, and all by {self._all_by(last)} instead of {self.limited.by}"
        return WayOut(limit=f"{OWN_DAY}{JOINS}{ALL_DAY}", change=both, met=best)

    def first_for_all(self) -> WayOut | None:
        """Return the first day by which they can be met where all may be met as late, if that is later."""
        return None if self.limited.by is None else replace(self, for_all=True).first_day()

    def _all_by(self, day: date) -> date | None:
        """Return the day by which all is to be met where these are due on a day."""
        by = self.limited.by
        return max(by, day) if self.for_all and by is not None else by

    def _met_by(self, day: date) -> frozenset[tuple[str, str]] | None:
        """Return what can be met where these are due on a day, if they can, and more than now."""
        later = Step(days=(day - self.due).days)

        def put_off(place: Place) -> Place:
            needs = (need.due_later(later) if need.kind == self.kind else need for need in place.needs)
            return replace(place, needs=tuple(needs)) if place.name in self.names else place

        site, all_by = self.answer.site, self._all_by(day)
        limits = replace(site.limits, by=all_by) if self.for_all else site.limits
        answer = options(replace(site, places=tuple(map(put_off, site.places)), limits=limits))
        of = SiteProgramme(answer, Calendar(answer, self.each_year), replace(self.limited, by=all_by))
        solved = most_met(of, {}, self.met)
        met = met_by(of, solved) if solved else frozenset()
        return met if {(self.kind, name) for name in self.names} <= met else None


def _ready_alone(answer: Answer, kind: str, names: Collection[str]) -> date | None:
    """Return the soonest day on which a way by itself has a kind of need ready in all of some places."""
    days = []
    for row in (*answer.options, *answer.spare):
        if row.need == kind:
            ready = {of.place.name: of.ready_on for of in row.decision.servings if of.place.name in names}
            known = [day for day in ready.values() if day is not None]
            if len(known) == len(names):
                days.append(max(known))
    return min(days, default=None)
