"""The least-cost plan of a site: one aim after another, proved by the ordinary code."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from barrowful.answers.choices import WholeSite, whole_site
from barrowful.answers.options import Answer
from barrowful.planning.books import total
from barrowful.planning.calendar import DAYS_A_YEAR, Calendar
from barrowful.planning.programme import CENT, MINUTE, Limited, SiteProgramme
from barrowful.planning.proof import ROUNDINGS, Proved, lines_of, lines_of_parts, proved, standing_lines
from barrowful.planning.solver import Effort, Solved
from barrowful.site.records import PlanLine

#: How hard is looked for the least cost, and for what it leaves open: settings of the search.
COST, REST = Effort(20_000), Effort(200, 0.01)
#: Rounds in which small amounts are made fewer, and what [m3] is small: settings of the search.
ROUNDS, SMALL = 3, 0.05
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
    rows = _rows(answer, limited)
    proofs = [(title, proof) for title, proof in search.proofs() if _keeps_to(proof.whole, limited)]
    best = min([*proofs, *rows], key=_rank, default=None)
    if best is None or not best[1].whole.places_met:
        return None
    title, proof = best
    return Plan(
        proved=proof,
        calendar=calendar,
        stages=tuple(search.stages),
        proven=search.proven and not title,
        gap=search.gap(proof.cost),
        row=title,
    )


def _rank(each: tuple[str, Proved]) -> tuple[int, float, float, bool]:
    title, proof = each
    return (
        -len(proof.whole.places_met),
        round(proof.cost, 2),
        round(proof.whole.bill.hours.compared, 2),
        bool(title),
    )


def _rows(answer: Answer, limited: Limited) -> list[tuple[str, Proved]]:
    """Return the whole-site rows of options that keep to the limits, as plans."""
    found = []
    plain = replace(answer, site=replace(answer.site, plan=()))
    for row in whole_site(plain):
        if row.together.parts and not row.over and _keeps_to(row, limited):
            proof = proved(answer, lines_of_parts(row.together.parts))
            if not proof.faults:
                found.append((row.title, proof))
    return found


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

    def __init__(self, of: SiteProgramme, progress: Progress = no_word) -> None:
        self.of, self.progress = of, progress
        self.stages: list[Stage] = []
        self.solved: list[Solved] = []
        self.start: tuple[float, ...] = ()
        self.proven, self.bound = True, 0.0

    def run(self) -> None:
        """Meet most needs, at least cost, then with least hours, then with fewest orders."""
        books, programme = self.of.books, self.of.books.programme
        most = self._aim(
            "most needs met", {column: -weight for column, weight in self.of.weights.items()}, COST
        )
        if most is None:
            return
        met = round(-most.least)
        if met == round(sum(self.of.weights.values())):
            for column in self.of.weights:
                programme.row({column: 1.0}, least=1.0)
        else:
            programme.row(self.of.weights, least=met)
        for aim, costs, slack, effort in (
            ("least cost", self.of.cost, CENT, COST),
            ("least hours", books.hours, MINUTE, REST),
            ("fewest orders", books.orders, CENT, REST),
        ):
            solved = self._aim(aim, costs, effort)
            if solved is None:
                return
            if aim == "least cost":
                self.bound = solved.bound
            programme.row(costs, most=total(solved.values, costs) + slack)
            self.start = programme.decide(solved.values)
        self._fewest_jobs()

    def _fewest_jobs(self) -> None:
        """Make amounts fewer, with all that is yes or no as it is: the smaller one is, the more it counts."""
        columns = [column for amounts in self.of.amounts for column in amounts.loose.values()]
        for _ in range(ROUNDS):
            values = self.solved[-1].values
            jobs = {column: 1 / (values[column] + SMALL) for column in columns}
            if self._aim("fewest jobs", jobs, REST, fixed=True) is None:
                return

    def _aim(self, aim: str, costs: dict[int, float], effort: Effort, fixed: bool = False) -> Solved | None:
        self.progress(aim)
        solved = self.of.books.programme.solve(costs, effort, self.start, fixed)
        if effort is COST:
            self.proven = self.proven and not solved.stopped
        if not solved.found:
            return None
        self.solved.append(solved)
        self.start = solved.values
        books = self.of.books
        self.stages.append(
            Stage(
                aim=aim,
                met=total(solved.values, self.of.weights),
                cash=total(solved.values, books.cash),
                hours=total(solved.values, books.hours),
                orders=total(solved.values, books.orders),
            )
        )
        return solved

    def proofs(self) -> list[tuple[str, Proved]]:
        """Return what the last solution that the ordinary code finds sound comes to, rounded as it may be."""
        for solved in reversed(self.solved[1:] or self.solved):
            sound = [proof for proof in self._proofs(solved) if not proof.faults]
            if sound:
                best = min(sound, key=lambda proof: (-len(proof.whole.places_met), round(proof.cost, 2)))
                return [("", best)]
        return []

    def _proofs(self, solved: Solved) -> Iterator[Proved]:
        """Yield a solution rounded, from the plainest on, up to one that comes to no more than it is to."""
        answer, puts = self.of.answer, self.of.puts(solved)
        standing = standing_lines(self.of.standing(solved))
        for rounding in ROUNDINGS:
            proof = proved(answer, [*lines_of(puts, rounding), *standing])
            yield proof
            if not proof.faults and proof.cost <= total(solved.values, self.of.cost) + CENT:
                return

    def gap(self, cost: float) -> float:
        """Return the share by which a cost may at most be more than the least."""
        return max(0.0, (cost - self.bound) / cost) if cost > 0 else 0.0
