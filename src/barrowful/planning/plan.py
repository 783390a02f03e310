"""The least-cost plan of a site: one aim after another, proved by the ordinary code."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from functools import cached_property

from barrowful.answers.choices import WholeSite
from barrowful.answers.options import Answer
from barrowful.catalogue.judgements import judgement
from barrowful.measures.fixed import fixed
from barrowful.needs.decision import Decision
from barrowful.planning.calendar import DAYS_A_YEAR, Calendar
from barrowful.planning.plots import are_coarse, plots_of, run_short
from barrowful.planning.programme import ALL_ALIKE, CENT, Limited, SiteProgramme
from barrowful.planning.proof import Proved, keeps_to
from barrowful.planning.search import ROUNDED, Progress, Search, Stage, is_small, no_word
from barrowful.planning.tried import Tried, found_by, rank_of
from barrowful.site.records import PlanLine
from barrowful.supplies.lot import YEAR

#: How often a plan that is ready sooner is looked for: a setting of the search.
SOONER = 5
DAY = timedelta(days=1)


@fixed
class Plan:
    """A plan, what the ordinary code makes of it, and how far it is proven."""

    proved: Proved
    calendar: Calendar
    limited: Limited
    plots: Mapping[str, int]  #: of places that are not planned with all that are alike
    stages: tuple[Stage, ...]
    bound: float  #: cost that no plan on the calendar that meets as much comes under, as far as is known
    row: str = ""  #: the row of options it is, where the search finds none that is cheaper
    rest: str = ""  #: the row of options whose lines meet what the search cannot
    coarse: bool = False  #: is ground that is alike planned together, and not all of it is met?
    beyond: bool = False  #: does it meet more than the search can?
    stopped: bool = False  #: did the search stop before it was through?
    interrupted: bool = False  #: by the grower: it is the best so far

    @property
    def proven(self) -> bool:
        """Say whether it is proven on the calendar that none costs less."""
        unknown = self.stopped or self.beyond or self.coarse
        return not unknown and self.proved.cost <= self.bound + ROUNDED

    @property
    def gap(self) -> float:
        """Return the share by which it may at most be dearer than the least."""
        cost = self.proved.cost
        return max(0.0, (cost - self.bound) / cost) if cost > 0 and not self.beyond else 0.0

    @property
    def below(self) -> bool:
        """Say whether it is a row that costs less than the search holds for possible."""
        return self.row != "" and not self.beyond and self.proved.cost < self.bound - ROUNDED

    @property
    def rank(self) -> tuple[int, float, float, date, bool]:
        """Return what a plan goes before another by."""
        return rank_of(Tried(self.row or self.rest, self.proved))

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

    @cached_property
    def put_off(self) -> set[tuple[str, str]]:
        """Return the needs, by kind and place, that begin in the second year, as no row alone has them do."""
        if not self.limited.puts_off:
            return set()
        answer = self.calendar.answer
        second = YEAR.after(answer.site.start)
        rows = [(row.need, row.decision) for row in (*answer.options, *answer.spare)]
        planned = [(part.need, part.decision) for part in self.whole.together.parts]
        only_later = _begun(rows, second, date.max) - _begun(rows, date.min, second)
        return _begun(planned, second, date.max) - only_later


def _begun(of: Iterable[tuple[str, Decision]], first: date, before: date) -> set[tuple[str, str]]:
    """Return the needs, by kind and place, that are met by what first goes on in a time."""
    return {
        (kind, serving.place.name)
        for kind, decision in of
        for serving in decision.servings
        if serving.met and serving.doses and first <= min(dose.day for dose in serving.doses) < before
    }


def plan_of(
    answer: Answer, limited: Limited, each_year: int = DAYS_A_YEAR, progress: Progress = no_word
) -> Plan | None:
    """Return the plan that meets most needs at least cost, hours, orders; None where nothing can be met.

    Where it leaves needs out, ground that is alike is looked at once more in plots, and where the first
    year's money is limited needs may be put off.
    """
    of = SiteProgramme(answer, Calendar(answer, each_year), limited)
    plan = _searched(of, progress)
    closer = _closer(of, plan)
    if closer is not None:
        plan, of = _better(plan, _searched(closer, progress)), closer
    waiting = _waiting(of, plan)
    if waiting is not None:
        later = _searched(waiting, progress)
        if _count(later) > _count(plan):
            plan, of = later, waiting
    if plan is None or plan.interrupted:
        return plan
    if _is_scarce(of) and _unmet(of, plan) and are_coarse(of):
        plan = replace(plan, coarse=True)
    return _soonest(answer, plan, progress) if is_small(of) else plan


def _better(plan: Plan | None, finer: Plan | None) -> Plan | None:
    """Return the better of a plan and one that was looked for more closely, with what is proven so."""
    if plan is None or finer is None or finer.rank <= plan.rank:
        return finer or plan
    beyond = not finer.stopped and len(plan.whole.places_met) > len(finer.whole.places_met)
    return replace(
        plan,
        limited=finer.limited,
        plots=finer.plots,
        bound=finer.bound,
        stopped=finer.stopped,
        beyond=plan.beyond or beyond,
        interrupted=finer.interrupted,
    )


def _closer(of: SiteProgramme, plan: Plan | None) -> SiteProgramme | None:
    """Return a programme that may do better than a plan, where there is one."""
    if of.books.programme.interrupted:
        return None
    unmet, limited = _unmet(of, plan), of.limited
    if not unmet and plan and not (plan.below or run_short(of, plan.whole.together.all_doses)):
        return None
    put_off = bool(unmet) and limited.cash_first_year is not None
    plots = plots_of(of, unmet) if _is_scarce(of) else ALL_ALIKE
    if not (put_off or plots):
        return None
    return SiteProgramme(of.answer, of.calendar, replace(limited, puts_off=put_off), plots)


def _waiting(of: SiteProgramme, plan: Plan | None) -> SiteProgramme | None:
    """Return a programme in which needs wait for the second year, where a plan does not meet all it might."""
    if of.books.programme.interrupted or of.limited.puts_off or not is_small(of) or not _unmet(of, plan):
        return None
    return SiteProgramme(of.answer, of.calendar, replace(of.limited, puts_off=True), of.plots)


def _count(plan: Plan | None) -> int:
    """Return how many needs a plan meets, those of each place counting once."""
    return len(plan.whole.places_met) if plan is not None else 0


def _unmet(of: SiteProgramme, plan: Plan | None) -> set[tuple[str, str]]:
    """Return the needs, by kind and place, that a plan does not meet and that something might."""
    may_be = {(kind, place.name) for each in of.amounts for kind in each.met for place in each.ground.places}
    return may_be - (plan.whole.places_met if plan else set())


def _is_scarce(of: SiteProgramme) -> bool:
    """Say whether some places may be met at the expense of others: by money, hours or what has an end."""
    limited = of.limited
    limits = (limited.cash, limited.cash_first_year, limited.hours, limited.hours_per_week)
    return any(each is not None for each in limits) or any(way.limited for way in of.answer.supplies.values())


def _searched(of: SiteProgramme, progress: Progress) -> Plan | None:
    """Return the best plan of a programme, or of the rows of options."""
    answer, limited, search = of.answer, of.limited, Search(of, progress)
    search.run()
    found = found_by(answer, _proof(search, progress))
    tried = [each for each in found if keeps_to(each.proved.whole, limited)]
    best = min(tried, key=rank_of, default=None)
    if best is None or not best.proved.whole.places_met:
        return None
    own = next((len(each.proved.whole.places_met) for each in found if not each.title), 0)
    stopped = not search.proven or of.books.programme.interrupted
    return Plan(
        proved=best.proved,
        calendar=of.calendar,
        limited=limited,
        plots=of.plots,
        stages=tuple(search.stages),
        bound=search.bound,
        row="" if best.rest else best.title,
        rest=best.title if best.rest else "",
        beyond=not stopped and len(best.proved.whole.places_met) > own,
        stopped=stopped,
        interrupted=of.books.programme.interrupted,
    )


def _proof(search: Search, progress: Progress) -> Proved | None:
    """Return what a search found, as the ordinary code has it.

    Where it does not come out, what was left over may not have kept until it was used: it is looked for anew
    with only what is sure to have kept.
    """
    proof, of = search.proof(), search.of
    if (proof is not None and search.comes_out(proof)) or of.books.programme.interrupted or not search.start:
        return proof
    sure = Search(SiteProgramme(of.answer, of.calendar, of.limited, of.plots, sure=True), progress)
    sure.run()
    proofs = [each for each in (proof, sure.proof()) if each is not None]
    return min(proofs, key=Proved.worth, default=None)


def _soonest(answer: Answer, plan: Plan, progress: Progress) -> Plan:
    """Return a plan that is ready sooner at the same cash and cost and few hours more, if one is found.

    A day sooner is looked for first; where there is one, the days before it are halved.
    """
    progress("earliest")
    best, too_soon = plan, answer.site.start - DAY
    for _ in range(SOONER):
        ready = best.ready_on
        if ready is None or ready - DAY <= too_soon:
            break
        by = ready - DAY if best is plan else too_soon + (ready - too_soon) // 2
        sooner = _ready_by(answer, plan, by)
        if sooner is None and best is plan:
            break
        best, too_soon = (best, by) if sooner is None else (sooner, too_soon)
    return best


def _ready_by(answer: Answer, plan: Plan, by: date) -> Plan | None:
    """Return a plan that is ready by a day and no worse than another, if one is found."""
    sooner = replace(plan.limited, by=by, cash=plan.whole.bill.cash)
    search = Search(SiteProgramme(answer, plan.calendar, sooner, plan.plots))
    if search.must_meet(plan.whole.places_met, plan.put_off):
        search.run_within(plan.proved)
    proof = search.proof()
    if proof is None or not keeps_to(proof.whole, sooner) or not _no_worse(proof, plan):
        return None
    last = replace(search.stages[-1], aim="earliest")
    kept = tuple(stage for stage in plan.stages if stage.aim != last.aim)
    return replace(plan, proved=proof, stages=(*kept, last), row="")


def _no_worse(proof: Proved, plan: Plan) -> bool:
    """Say whether as much is met as by a plan, at no more cost and few hours more."""
    most_hours = plan.whole.bill.hours.compared * (1 + judgement("speck_made_up"))
    return (
        len(proof.whole.places_met) >= len(plan.whole.places_met)
        and proof.whole.bill.hours.compared <= most_hours
        and proof.cost <= plan.proved.cost + CENT
    )
