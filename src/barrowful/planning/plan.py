"""The least-cost plan of a site: one aim after another, proved by the ordinary code."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Set
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import lru_cache

from barrowful.answers.choices import WholeSite, whole_site
from barrowful.answers.options import Answer
from barrowful.catalogue.judgements import judgement
from barrowful.planning.books import total
from barrowful.planning.calendar import DAYS_A_YEAR, Calendar
from barrowful.planning.programme import CENT, Limited, SiteProgramme
from barrowful.planning.proof import ROUNDINGS, Proved, lines_of, lines_of_parts, proved, standing_lines
from barrowful.planning.solver import Effort, Solved
from barrowful.site.records import PlanLine

#: How hard is looked for the least cost, and for what it leaves open: settings of the search.
COST, REST, BRIEF = Effort(20_000), Effort(200, 0.005), Effort(10, 0.005)
#: Rounds in which small amounts are made fewer, what is small beside what alone would do, how much more an
#: amount counts for each year it comes later, and how many are left out: settings of the search.
ROUNDS, SMALL, EARLY, MOST_LEFT_OUT = 3, 0.1, 0.1, 60
#: What rounding each order to whole coins may add: a setting of the search.
ROUNDED = 0.05
#: How often a plan that is ready sooner is looked for, and in programmes of how many columns at most.
SOONER, MOST_COLUMNS = 3, 1_000
DAY = timedelta(days=1)
#: Says what is being worked on.
Progress = Callable[[str], None]


def no_word(aim: str) -> None:
    """Say nothing of what is being worked on."""


@dataclass(frozen=True, kw_only=True)
class Stage:
    """What an aim came to: its name, and money, hours and orders once it is reached."""

    aim: str
    met: float
    cash: float
    hours: float
    orders: float


@dataclass(frozen=True, kw_only=True, eq=False)
class Plan:
    """A plan, what the ordinary code makes of it, and how far it is proven."""

    proved: Proved
    calendar: Calendar
    stages: tuple[Stage, ...]
    proven: bool  #: on the calendar
    gap: float  #: share by which it may at most be dearer than the least
    row: str = ""  #: the row of options it is, where the search finds none that is cheaper
    interrupted: bool = False  #: by the grower: it is the best so far

    @property
    def lines(self) -> tuple[PlanLine, ...]:
        """Return its lines."""
        return self.proved.lines

    @property
    def whole(self) -> WholeSite:
        """Return what it comes to over the site."""
        return self.proved.whole

    @property
    def ready_on(self) -> date | None:
        """Return the day all that is met is ready."""
        return self.whole.ready_on


def plan_of(
    answer: Answer, limited: Limited, each_year: int = DAYS_A_YEAR, progress: Progress = no_word
) -> Plan | None:
    """Return the plan that meets most needs at least cost, hours, orders; None where nothing can be met."""
    calendar = Calendar(answer, each_year)
    search = Search(SiteProgramme(answer, calendar, limited), progress)
    search.run()
    proof = search.proof()
    found = [("", proof)] if proof is not None else []
    tried = [each for each in (*found, *_rows(answer)) if _keeps_to(each[1].whole, limited)]
    best = min(tried, key=_rank, default=None)
    if best is None or not best[1].whole.places_met:
        return None
    title, proof = best
    plan = Plan(
        proved=proof,
        calendar=calendar,
        stages=tuple(search.stages),
        proven=search.proven and not title and proof.cost <= search.bound + ROUNDED,
        gap=search.gap(proof.cost),
        row=title,
        interrupted=search.of.books.programme.interrupted,
    )
    few = len(search.of.books.programme.most) <= MOST_COLUMNS
    return _soonest(answer, limited, plan, progress) if few and not plan.interrupted else plan


def _soonest(answer: Answer, limited: Limited, plan: Plan, progress: Progress) -> Plan:
    """Return a plan that is ready sooner at the same cash and cost and few hours more, if one is found."""
    progress("earliest")
    for _ in range(SOONER):
        bill, ready = plan.whole.bill, plan.ready_on
        if ready is None or ready <= answer.site.start:
            break
        sooner = replace(limited, by=ready - DAY, cash=bill.cash)
        search = Search(SiteProgramme(answer, plan.calendar, sooner), no_word, BRIEF)
        if search.must_meet(plan.whole.places_met):
            search.run()
        proof = search.proof()
        if proof is None or not _keeps_to(proof.whole, sooner) or not _no_worse(proof, plan):
            break
        last = replace(search.stages[-1], aim="earliest")
        kept = tuple(stage for stage in plan.stages if stage.aim != last.aim)
        plan = replace(plan, proved=proof, stages=(*kept, last), row="")
    return plan


def _no_worse(proof: Proved, plan: Plan) -> bool:
    """Say whether as much is met as by a plan, at no more cost and few hours more."""
    most_hours = plan.whole.bill.hours.compared * (1 + judgement("speck_made_up"))
    return (
        len(proof.whole.places_met) >= len(plan.whole.places_met)
        and proof.whole.bill.hours.compared <= most_hours
        and proof.cost <= plan.proved.cost + CENT
    )


def _rank(each: tuple[str, Proved]) -> tuple[int, float, float, bool]:
    title, proof = each
    return (
        -len(proof.whole.places_met),
        round(proof.cost, 2),
        round(proof.whole.bill.hours.compared, 2),
        bool(title),
    )


@lru_cache(maxsize=8)
def _rows(answer: Answer) -> tuple[tuple[str, Proved], ...]:
    """Return the whole-site rows of options that are sound as plans, by title; once for an answer."""
    rows = [row for row in whole_site(answer.with_plan(())) if row.together.parts and not row.over]
    proofs = [(row.title, proved(answer, lines_of_parts(row.together.parts))) for row in rows]
    return tuple(each for each in proofs if not each[1].faults)


def _keeps_to(row: WholeSite, limited: Limited) -> bool:
    ready, bill = row.ready_on, row.bill
    return (
        (limited.by is None or (ready is not None and ready <= limited.by))
        and (limited.cash is None or bill.cash <= limited.cash)
        and (limited.cash_first_year is None or bill.cash_first_year <= limited.cash_first_year)
        and (limited.hours is None or bill.hours.compared <= limited.hours)
    )


class Search:
    """The aims of a plan one after another, each kept to while the next is looked for."""

    def __init__(self, of: SiteProgramme, progress: Progress = no_word, effort: Effort = COST) -> None:
        self.of, self.progress, self.effort = of, progress, effort
        self.stages: list[Stage] = []
        self.solved: list[Solved] = []
        self.start: tuple[float, ...] = ()
        self.proven, self.bound = True, 0.0

    def run(self) -> None:
        """Meet most needs, at least cost, then with least hours, fewest orders and fewest jobs."""
        books, programme = self.of.books, self.of.books.programme
        most = programme.solve({column: -weight for column, weight in self.of.weights.items()}, self.effort)
        self.proven = not most.stopped
        if not self._reached("most needs met", most) or programme.interrupted:
            return
        self._keep_to(self.of.weights, round(-most.least))
        low = programme.near(self.of.cost, REST, most.values)
        if low.found:
            self.solved.append(low)
            self.start = low.values
        self.bound = programme.relaxed
        if programme.interrupted:
            self.proven = False
            return
        least = programme.solve(self.of.cost, self.effort, self.start)
        if not self._reached("least cost", least):
            return
        self.bound, self.proven = least.bound, self.proven and not least.stopped
        for aim, costs, before in (
            ("least hours", books.hours, self.of.cost),
            ("fewest orders", books.orders, books.hours),
        ):
            if programme.interrupted:
                return
            more = total(self.start, before) * judgement("speck_made_up") if before is books.hours else 0.0
            self._settle(before, more + CENT)
            self._reached(aim, programme.near(costs, REST, self.start))
        self._settle(books.orders, CENT)
        self._fewest_jobs()

    def must_meet(self, needs: Set[tuple[str, str]]) -> bool:
        """Keep to meeting needs, by kind and place; say whether that may be so at all."""
        for amounts in self.of.amounts:
            for need in amounts.ground.place.needs:
                if any((need.kind, place.name) in needs for place in amounts.ground.places):
                    if need.kind not in amounts.met:
                        return False
                    self.of.books.programme.row({amounts.met[need.kind]: 1.0}, least=1.0)
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
                self._reached("fewest jobs", programme.without(column, jobs, REST))

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
                orders=total(solved.values, books.orders),
            )
        )
        return True

    def proof(self) -> Proved | None:
        """Return what the last solution that the ordinary code finds sound comes to, rounded as it may be."""
        for solved in reversed(self.solved[1:] or self.solved):
            sound = [proof for proof in self._proofs(solved) if not proof.faults]
            if sound:
                return min(sound, key=lambda proof: (-len(proof.whole.places_met), round(proof.cost, 2)))
        return None

    def _proofs(self, solved: Solved) -> Iterator[Proved]:
        """Yield a solution rounded, from the plainest on, up to one that comes to no more than it is to."""
        answer, puts = self.of.answer, self.of.puts(solved)
        standing = standing_lines(self.of.standing(solved))
        for rounding in ROUNDINGS:
            proof = proved(answer, [*lines_of(puts, rounding), *standing])
            yield proof
            if not proof.faults and proof.cost <= total(solved.values, self.of.cost) + ROUNDED:
                return

    def gap(self, cost: float) -> float:
        """Return the share by which a cost may at most be more than the least."""
        return max(0.0, (cost - self.bound) / cost) if cost > 0 else 0.0
