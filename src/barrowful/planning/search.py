"""The search for a plan: one aim after another, each kept to while the next is looked for."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence, Set
from typing import Any

from barrowful.catalogue.judgements import judgement
from barrowful.measures.fixed import fixed
from barrowful.planning.books import total
from barrowful.planning.narrowed import least_narrowed
from barrowful.planning.programme import CENT, HALF_A_COIN, SiteProgramme
from barrowful.planning.proof import ROUNDINGS, Exact, Proved, keeps_to, proof_of_solution
from barrowful.planning.solved import Effort, Solved
from barrowful.planning.solver import Programme
from barrowful.supplies.supply import Supply

#: How hard is looked for what the least cost leaves open, and for a first answer: settings of the search.
REST, FIRST = Effort(200, 0.005), Effort(200, 0.005)
#: How hard is looked for the least cost: up to how many nodes, and how many for all columns together, as each
#: takes the longer the more there are; how many columns a programme has that leaves time for more; and up to
#: how many nodes others are looked at, at the least.
COST, COST_BY_COLUMNS, MOST_COLUMNS, LARGE = 20_000, 16_000_000, 1_000, 250
#: By how much less is looked for what another look, or another limit, may gain.
AGAIN = 10
#: Rounds in which small amounts are made fewer, what is small beside what alone would do, how much more an
#: amount counts for each year it comes later, and how many are left out: settings of the search.
ROUNDS, SMALL, EARLY, MOST_LEFT_OUT = 3, 0.1, 0.1, 60
#: Solutions that are put through the ordinary code where the last does not come out: a setting of the search.
MOST_PROVED = 12
#: What rounding may add to a plan, of money [coins] and of hours: a setting of the search.
ROUNDED = 0.05
#: Says what is being worked on.
Progress = Callable[[str], None]


def no_word(aim: str) -> None:
    """Say nothing of what is being worked on."""


@fixed(eq=True)
class Stage:
    """What an aim came to: its name, and money, hours and orders once it is reached."""

    aim: str
    met: float
    cash: float
    hours: float
    orders: int


def is_small(of: SiteProgramme) -> bool:
    """Say whether a programme leaves time for all that may be looked for."""
    return len(of.books.programme.most) <= MOST_COLUMNS


def effort_for(of: SiteProgramme, again: bool = False) -> Effort:
    """Return how hard is looked for the least cost of a programme: less where it is looked at once more."""
    nodes = min(COST, COST_BY_COLUMNS // max(1, len(of.books.programme.most)))
    if again or (is_small(of) and (of.plots or of.limited.puts_off)):
        nodes //= AGAIN
    return Effort(max(LARGE, nodes))


class Search:
    """The aims of a plan one after another, each kept to while the next is looked for."""

    def __init__(self, of: SiteProgramme, progress: Progress = no_word) -> None:
        self.of, self.progress = of, progress
        self.effort = effort_for(of)
        self.stages: list[Stage] = []
        self.solved: list[Solved] = []
        self.start: tuple[float, ...] = ()
        self.proven, self.bound = True, 0.0

    def run(self) -> None:
        """Meet most needs, at least cost, then with least hours, fewest orders and fewest jobs."""
        programme = self.of.books.programme
        if not self._all_met() and not (self._most_met() and self._nearly_least()):
            return
        if self.of.put_off and not self._fewest_put_off():
            return
        self.bound = programme.relaxed
        if programme.interrupted:
            self.proven = False
            return
        least = self._least_cost()
        if not self._reached("least cost", least):
            return
        self.bound, self.proven = least.bound, self.proven and not least.stopped
        self.look_on()

    def _least_cost(self) -> Solved:
        """Return the values at which cost is least, narrowed to what may be less where it takes long."""
        least = Programme.solve if is_small(self.of) else least_narrowed
        return least(self.of.books.programme, self.of.cost, self.effort, self.start)

    def look_on(self) -> None:
        """Look for least hours, fewest orders and fewest jobs, at the cost there is."""
        books, programme = self.of.books, self.of.books.programme
        self._settle(self.of.cost, CENT)
        wholes = programme.wholes()
        self._reached("least hours", programme.near(books.hours, REST, self.start, wholes))
        if programme.interrupted:
            return
        self._settle(books.hours, total(self.start, books.hours) * judgement("speck_made_up") + CENT)
        among = [*wholes, *self.of.sizes]
        self._reached("fewest orders", programme.fewer(books.orders, REST, self.start, among))
        if programme.interrupted:
            return
        self._settle(books.orders, CENT)
        self._fewest_jobs()

    def run_within(self, plan: Proved) -> None:
        """Look for values at no more cost than a plan's and few hours more, and look on from there."""
        of, programme, bill = self.of, self.of.books.programme, plan.whole.bill
        programme.row(of.cost, most=plan.cost + HALF_A_COIN)  # its orders are in whole coins
        programme.row(of.books.hours, most=bill.hours.compared * (1 + judgement("speck_made_up")))
        low = programme.without(self._beside(of.columns_of(plan.lines)), of.cost, FIRST)
        if self._reached("least cost", low):
            self.look_on()

    def _all_met(self) -> bool:
        """Say whether values come up at once with which every need is met that may be."""
        programme = self.of.books.programme
        programme.demand(self.of.weights)
        low = self.first()
        if not self._reached("most needs met", low):
            programme.demand(self.of.weights, 0.0)
        return low.found

    def _most_met(self) -> bool:
        """Keep to as many needs met as may be; say whether anything was found."""
        programme = self.of.books.programme
        most = programme.solve({column: -weight for column, weight in self.of.weights.items()}, self.effort)
        self.proven = not most.stopped
        if not self._reached("most needs met", most) or programme.interrupted:
            return False
        self._keep_to(self.of.weights, round(-most.least))
        return True

    def _fewest_put_off(self) -> bool:
        """Keep to as few needs put off as may be, with as many met; say whether anything was found."""
        programme, put_off = self.of.books.programme, self.of.put_off
        fewest = programme.solve(put_off, self.effort, self.start)
        self.proven = self.proven and not fewest.stopped
        if not self._reached("fewest put off", fewest) or programme.interrupted:
            return False
        programme.row(put_off, most=round(fewest.least))
        return self._nearly_least()

    def _nearly_least(self) -> bool:
        """Begin with values at little cost, where any come up."""
        low = self.first(start=self.start)
        if low.found:
            self.solved.append(low)
            self.start = low.values
        return True

    def first(self, start: Sequence[float] = ()) -> Solved:
        """Return values at little cost: of what rows of options put on, and of more where time is left."""
        programme, of, more = self.of.books.programme, self.of, self._beside()
        low = programme.without(more, of.cost, FIRST, start)
        if programme.interrupted or (low.found and not is_small(of)):
            return low
        return programme.near(of.cost, FIRST, low.values or start, more)

    def _beside(self, known: Collection[int] = frozenset()) -> list[int]:
        """Return the columns of amounts beside what rows of options put on, and others that are known."""
        return sorted(self.of.sizes.keys() - self.of.used_by_rows - set(known))

    def must_meet(self, needs: Set[tuple[str, str]], put_off: Set[tuple[str, str]]) -> bool:
        """Keep to meeting needs, by kind and place, and putting off no others; say whether that may be."""
        programme = self.of.books.programme
        for amounts in self.of.amounts:
            for need in amounts.ground.place.needs:
                keys = {(need.kind, place.name) for place in amounts.ground.places}
                if keys & needs:
                    if need.kind not in amounts.met:
                        return False
                    programme.row({amounts.met[need.kind]: 1.0}, least=1.0)
                if not keys & put_off:
                    programme.row(dict.fromkeys(amounts.put_off.get(need.kind, ()), 1.0), most=0.0)
        return True

    def _keep_to(self, weights: Mapping[int, float], met: int) -> None:
        """Keep to so many needs met."""
        programme = self.of.books.programme
        if met == round(sum(weights.values())):
            for column in weights:
                programme.row({column: 1.0}, least=1.0)
        else:
            programme.row(weights, least=met)

    def _settle(self, costs: Mapping[int, float], slack: float) -> None:
        """Keep to what costs come to by now, and let what waited for them be decided."""
        programme = self.of.books.programme
        programme.row(costs, most=total(self.start, costs) + slack)
        self.start = programme.decide(self.start)

    def _fewest_jobs(self) -> None:
        """Make jobs fewer and early, with all that is yes or no as it is, and few hours more.

        The smaller an amount is beside what alone would do, the more it counts; then those that are small are
        left out one after another, where the others can do without.
        """
        programme, sizes = self.of.books.programme, self.of.sizes
        programme.fix(self.start)
        for number in range(ROUNDS):
            jobs = {
                column: (1 + years * EARLY) / ((self.start[column] if number else 0.0) + SMALL * most)
                for column, (most, years) in sizes.items()
            }
            if not self._reached("fewest jobs", programme.solve(jobs, REST)):
                return
        small = [column for column, (most, _) in sizes.items() if 0 < self.start[column] < SMALL * most]
        for column in sorted(small, key=lambda column: self.start[column] / sizes[column][0])[:MOST_LEFT_OUT]:
            if self.start[column] > 0:
                without = programme.without([column], jobs, REST)
                if self._reached("fewest jobs", without):
                    programme.leave_out(column)

    def _reached(self, aim: str, solved: Solved) -> bool:
        """Note what an aim came to, if it was reached at all."""
        if not solved.found:
            return False
        if not self.stages or self.stages[-1].aim != aim:
            self.progress(aim)
        self.solved.append(solved)
        self.start = solved.values
        books = self.of.books
        self.stages = [stage for stage in self.stages if stage.aim != aim]
        self.stages.append(
            Stage(
                aim=aim,
                met=total(solved.values, self.of.weights),
                cash=total(solved.values, books.cash),
                hours=total(solved.values, books.hours),
                orders=books.orders_at(solved.values),
            )
        )
        return True

    def proof(self) -> Proved | None:
        """Return what the last solution that the ordinary code finds sound comes to, rounded as it may be.

        Where it comes to more there than here, as a few grams ask for a bag of their own, those before it are
        looked at too.
        """
        best: tuple[Solved, Proved, Exact] | None = None
        for looked_at, solved in enumerate(reversed(self.solved)):
            for proof, exact in self._proofs(solved):
                if self._is_sound(proof) and (best is None or proof.worth() < best[1].worth()):
                    best = solved, proof, exact
            if best is not None and (looked_at >= MOST_PROVED or self.comes_out(best[1])):
                break
        return None if best is None else self._rounded_further(*best)

    def comes_out(self, proof: Proved) -> bool:
        """Say whether a proof comes to what was found for it."""
        return proof.cost <= total(self.start, self.of.cost) + ROUNDED

    def _proofs(self, solved: Solved) -> Iterator[tuple[Proved, Exact]]:
        """Yield a solution rounded, from the plainest on, up to one that comes to no more than it is to."""
        for exact in ROUNDINGS:
            proof = proof_of_solution(self.of, solved, exact)
            yield proof, exact
            if self._is_sound(proof) and proof.cost <= total(solved.values, self.of.cost) + ROUNDED:
                return

    def _is_sound(self, proof: Proved) -> bool:
        """Say whether a proof has no fault and keeps to all limits."""
        return not proof.faults and keeps_to(proof.whole, self.of.limited)

    def _rounded_further(self, solved: Solved, proof: Proved, exact: Exact) -> Proved:
        """Return a proof with way after way rounded that was exact, where that breaks and costs nothing."""
        ways, rounded = self.of.answer.supplies, set[str]()

        def still_exact(way: Supply[Any]) -> bool:
            return exact(way) and way.name not in rounded

        for name in sorted({line.way for line in proof.lines if line.amount and exact(ways[line.way])}):
            rounded.add(name)
            tried = proof_of_solution(self.of, solved, still_exact)
            if self._is_sound(tried) and _as_good(tried, proof):
                proof = tried
            else:
                rounded.remove(name)
        return proof


def _as_good(tried: Proved, proof: Proved) -> bool:
    """Say whether a proof meets as much as another, for no more but what rounding adds."""
    new, old = tried.whole, proof.whole
    return (
        old.places_met <= new.places_met
        and tried.cost <= proof.cost + CENT
        and new.bill.hours.compared <= old.bill.hours.compared + ROUNDED
        and len(new.bill.orders) <= len(old.bill.orders)
    )
