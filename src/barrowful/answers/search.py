"""The cheapest ways for all needs together: searched over which ways serve each kind of need."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from functools import cached_property, lru_cache
from math import inf, prod
from operator import itemgetter
from typing import NamedTuple

from barrowful.answers.bills import left_over
from barrowful.answers.branch import Branch, Rank
from barrowful.answers.chains import Chains
from barrowful.answers.costs import Bill
from barrowful.answers.further import Reached, has_limits, reached_within_limits
from barrowful.answers.known import Assigned
from barrowful.answers.met_besides import may_be_met_besides
from barrowful.answers.option import Option
from barrowful.answers.options import Answer
from barrowful.answers.together import Picks, Together
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place, Site

#: Assignments times kinds of place that are searched through to the end, and servings that are worked out
#: where there are more: settings of the search.
MOST_SEARCHED, MOST_WORKED_OUT = 50_000, 3_000
#: Servings that are worked out for ways beside one that does all by itself: a setting of the search.
MOST_BESIDE = 100
#: Servings that are worked out for what differs by one way from the best: a setting of the search.
MOST_CHANGED = 500
#: Servings known already that take as long to handle as one takes to work out: a setting of the machine.
SERVINGS_HANDLED = 3
#: Ceilings that bind a need whatever else is put on its place.
ALWAYS_BIND = frozenset({"suits", "cover_depth", "fill_share"})


class Best(NamedTuple):
    """The cheapest assignment there is, and whether all were searched through."""

    together: Together
    bill: Bill
    picks: Picks
    whole: bool


class Candidate(NamedTuple):
    """Ways for one kind of need, how many of its places they may serve at best, what they cost alone.

    ``least`` is no more than what they add to any bill: their stuff at its price, with no delivery, for the
    places that nothing else is put on.
    """

    ways: tuple[str, ...]
    alone: int  #: places they serve by themselves
    at_best: int
    cost: Decimal
    least: Decimal
    order: int


@lru_cache(maxsize=8)
def best_of(answer: Answer) -> Best:
    """Return the assignment of ways to kinds of need that meets most needs, at least cost.

    Within limits that have no room for all places of a kind, it serves those that they have room for.
    """
    best = Search(answer).run()
    if not has_limits(answer.site):
        return best
    from barrowful.answers.by_places import reached_by_places  # most files have no limits

    reached = reached_within_limits(answer, best.picks, Reached(best.together, best.bill))
    (together, bill), whole = reached_by_places(answer, reached)
    return best._replace(together=together, bill=bill, whole=best.whole and whole)


@dataclass(eq=False)
class Search:
    """A search, branch by branch in the order needs are settled; what cannot be better is cut off."""

    answer: Answer
    best: tuple[Rank, Branch] | None = None
    left: float = inf
    kinds: list[str] = field(default_factory=list)
    candidates: dict[str, list[Candidate]] = field(default_factory=dict)
    most: dict[str, int] = field(default_factory=dict)
    least: dict[str, Decimal] = field(default_factory=dict)
    besides: dict[str, frozenset[str]] = field(default_factory=dict)  #: places met by later needs

    def run(self) -> Best:
        """Return the best assignment: of one way to each kind of need, then of others for what it leaves.

        Last come others beside a way that does all by itself: beside other needs it may not, or cost more.
        Where not all were searched through, what differs from the best by one way is tried then.
        """
        site = self.answer.site
        self.kinds = [kind for kind in NEEDS if site.places_with(kind)]
        self.besides = {kind: may_be_met_besides(self.answer, kind) for kind in self.kinds}
        every = {kind: candidates_of(self.answer, kind) for kind in self.kinds}
        alone = {kind: [of for of in every[kind] if len(of.ways) <= 1] for kind in self.kinds}
        assignments = prod(len(alone[kind]) for kind in self.kinds)
        whole = assignments * kinds_of_place(site) <= MOST_SEARCHED
        self._through(alone, inf if whole else MOST_WORKED_OUT)
        whole = whole or self.left > 0
        if every != alone or self.left <= 0:  # else all of it was searched through just now
            self._through(every, MOST_WORKED_OUT)
        if self.left > 0:
            beside = {kind: candidates_of(self.answer, kind, beside_all=True) for kind in self.kinds}
            if beside != every:
                self._through(beside, MOST_BESIDE)
        else:
            self._change(MOST_CHANGED)
        assert self.best is not None
        _, best = self.best
        return Best(best.together, best.bill, dict(best.assigned), whole)

    def _through(self, candidates: dict[str, list[Candidate]], most: float) -> None:
        """Search through candidates for each kind of need, until so many servings are worked out."""
        self.candidates, self.left = candidates, most
        self.most = {kind: max(of.at_best for of in candidates[kind]) for kind in self.kinds}
        self.least = {kind: _least_added(candidates[kind], self.most[kind]) for kind in self.kinds}
        self._down(Branch(self.answer), ())

    def _down(self, branch: Branch, order: tuple[int, ...]) -> None:
        reach, depth = branch.reach, len(branch.assigned)
        self.left -= branch.worked_out
        if branch.over:
            return
        if depth == len(self.kinds):
            rank = branch.rank(self._needs, order)
            if self.best is None or rank < self.best[0]:
                self.best = rank, branch
            return
        kind, rest = self.kinds[depth], self.kinds[depth + 1 :]
        yet = sum(name in self.besides[of] for of, name in reach.unmet)
        at_best = reach.met + yet + sum(self.most[of] for of in rest)
        at_least = branch.cost - left_over(branch.bill) + sum(self.least[kind] for kind in rest)
        for candidate in self.candidates[kind]:
            if self.best is not None and (self.left <= 0 or self._no_better(candidate, at_best, at_least)):
                continue
            self.left -= self._handling(kind)
            self._down(branch.further(kind, candidate.ways), (*order, candidate.order))

    def _change(self, most: float) -> None:
        """Change what serves one kind of need at a time in the best, by one way, while it gets better."""
        self.left, before = most, None
        while self.best is not before:
            before = self.best
            for depth in range(len(self.kinds)):
                self._change_one(depth)

    def _change_one(self, depth: int) -> None:
        """Change what serves one kind of need by one way; all others are served as in the best."""
        assert self.best is not None
        best = self.best[1]
        kind, now = best.assigned[depth]
        names = dict.fromkeys(way for of in self.candidates[kind] for way in of.ways)
        for ways in changed_by_one(now, list(names)):
            branch = self._beside(best, (*best.assigned[:depth], (kind, ways), *best.assigned[depth + 1 :]))
            if branch is not None:
                rank = branch.rank(self._needs, self.best[0].order)  # what is as good is no change
                self.best = min(self.best, (rank, branch), key=itemgetter(0))

    def _beside(self, branch: Branch, assigned: Assigned) -> Branch | None:
        """Return the branch of these ways, beginning as another; none over a limit or past the search."""
        while branch.before is not None and branch.assigned != assigned[: len(branch.assigned)]:
            branch = branch.before
        for kind, ways in assigned[len(branch.assigned) :]:
            branch = branch.further(kind, ways)
            if self.left <= 0 or branch.over:
                return None
            self.left -= branch.worked_out + self._handling(kind)
        return branch

    def _handling(self, kind: str) -> int:
        """Return what handling a kind of need takes besides, told in servings that are worked out."""
        return 1 + len(self.answer.site.places_with(kind)) // SERVINGS_HANDLED

    def _no_better(self, candidate: Candidate, at_best: int, at_least: Decimal) -> bool:
        """Say whether nothing below a branch can be better than the best there is.

        All else there meets so many needs of places at best, and costs so much at least.
        """
        assert self.best is not None
        unmet, best = self._needs - at_best - candidate.at_best, self.best[0]
        if unmet != best.unmet:
            return unmet > best.unmet
        return at_least + candidate.least > best.cost

    @cached_property
    def _needs(self) -> int:
        return sum(len(self.answer.site.places_with(kind)) for kind in self.kinds)


def changed_by_one(ways: tuple[str, ...], names: Sequence[str]) -> Iterator[tuple[str, ...]]:
    """Yield ways one after another that differ by one: it is left out, is another, or comes besides."""
    others = [name for name in names if name not in ways]
    for at in range(len(ways)):
        yield (*ways[:at], *ways[at + 1 :])
        yield from ((*ways[:at], other, *ways[at + 1 :]) for other in others)
    for at in range(len(ways) + 1):
        yield from ((*ways[:at], other, *ways[at:]) for other in others)


def _least_added(candidates: Sequence[Candidate], most: int) -> Decimal:
    """Return the least that candidates add to any bill, of those that may serve most places."""
    return min(of.least for of in candidates if of.at_best == most)


def candidates_of(answer: Answer, kind: str, beside_all: bool = False) -> list[Candidate]:
    """Return the ways that may serve a kind of need, the cheapest by themselves first, and none at all.

    Where a way does not serve every place, it is also tried with others for the rest; with ``beside_all``
    one that serves all is too, for what it leaves beside other needs.
    """
    own = [row for row in (*answer.options, *answer.spare) if row.need == kind]
    rows = {row.key: row for row in sorted(own, key=_words)}
    by_words = {name: number for number, name in enumerate(rows)}
    # what fits within limits beside equal ways may differ: the file does not choose among them there
    in_file = {name: number for number, name in enumerate([*answer.supplies, *answer.joints])}
    numbers = by_words if has_limits(answer.site) else in_file
    may = {name: _may_serve(row, row.supply.limited) for name, row in rows.items()}
    met = {name: {of.place.name for of in row.decision.servings if of.met} for name, row in rows.items()}
    cash = {name: row.cash for name, row in rows.items()}
    names = {of.name for of in answer.site.places_with(kind)}
    besides = may_be_met_besides(answer, kind)
    found = [
        Candidate(
            ways=ways,
            alone=len(set().union(*(met[way] for way in ways))),
            at_best=len(besides.union(*(may[way] for way in ways))),
            cost=sum((rows[way].cash for way in ways), Decimal(0)),
            least=_least_of(answer, [rows[way] for way in ways]),
            order=numbers[ways[0]],
        )
        for ways in Chains(names, met, may, cash).found(beside_all)
    ]
    found = sorted(
        (of for of in found if of.at_best),
        key=lambda of: (
            *(-of.alone, of.cost, sum(rows[way].hours.compared for way in of.ways), len(of.ways)),
            [by_words[way] for way in of.ways],
        ),
    )
    none = Candidate(
        ways=(), alone=0, at_best=len(besides), cost=Decimal(0), least=Decimal(0), order=len(numbers)
    )
    return [*found, none]


def _words(row: Option) -> list[str]:
    """Return the names of the ways of a row, whatever their order in the file."""
    return sorted(part.name for part in row.supply.parts)


def _least_of(answer: Answer, rows: Sequence[Option]) -> Decimal:
    """Return no more than what rows, each for the places those before it do not serve, add to any bill."""
    served, least = set[str](), Decimal(0)
    for row in rows:
        alone = [
            of
            for of in row.decision.servings
            if of.met and not _others(of.place) and of.place.name not in served
        ]
        doses = [dose for of in alone for dose in of.every_dose]
        for part, own in row.supply.divide(doses):
            least += part.least_cash(sum(dose.loose for dose in own))
        served |= {of.place.name for of in row.decision.servings if of.met}
    return least


def rows_of(answer: Answer, kind: str) -> list[Option]:
    """Return the rows of a kind of need, one for each way."""
    return [row for row in answer.options if row.need == kind]


def _may_serve(row: Option, limited: bool) -> set[str]:
    """Return the places whose need a way may meet, by itself or beside what other needs and ways bring.

    What has an end may reach a place once others take less of it.
    """
    return {
        of.place.name
        for of in row.decision.servings
        if of.met or ((limited or _others(of.place)) and not of.refused and of.ceiling not in ALWAYS_BIND)
    }


def _others(place: Place) -> bool:
    """Say whether a place has another need, whose doses may count."""
    return len(place.needs) > 1


def kinds_of_place(site: Site) -> int:
    """Return how many kinds of place with needs there are: equal ones beside their name, area and count."""
    return len({site.sorts[place.name] for place in site.places if place.needs})
