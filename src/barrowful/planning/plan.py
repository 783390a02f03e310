"""The least-cost plan of a site: one aim after another, proved by the ordinary code."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from functools import lru_cache
from typing import NamedTuple

from barrowful.answers.choices import WholeSite, whole_site
from barrowful.answers.options import Answer
from barrowful.catalogue.judgements import judgement
from barrowful.measures.fixed import fixed
from barrowful.planning.calendar import DAYS_A_YEAR, Calendar
from barrowful.planning.programme import CENT, Limited, SiteProgramme
from barrowful.planning.proof import Proved, lines_of_parts, proved
from barrowful.planning.search import ROUNDED, Progress, Search, Stage, is_small, no_word
from barrowful.site.records import PlanLine

#: How often a plan that is ready sooner is looked for: a setting of the search.
SOONER = 5
DAY = timedelta(days=1)


@fixed
class Plan:
    """A plan, what the ordinary code makes of it, and how far it is proven."""

    proved: Proved
    calendar: Calendar
    stages: tuple[Stage, ...]
    proven: bool  #: on the calendar
    gap: float  #: share by which it may at most be dearer than the least
    row: str = ""  #: the row of options it is, where the search finds none that is cheaper
    rest: str = ""  #: the row of options whose lines meet what the search cannot
    beyond: bool = False  #: does it meet more than the search can?
    stopped: bool = False  #: did the search stop before it was through?
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


class Tried(NamedTuple):
    """What may be the plan, with the row of options that it is, or whose lines meet the ``rest``."""

    title: str
    proved: Proved
    rest: bool = False


def plan_of(
    answer: Answer, limited: Limited, each_year: int = DAYS_A_YEAR, progress: Progress = no_word
) -> Plan | None:
    """Return the plan that meets most needs at least cost, hours, orders; None where nothing can be met."""
    calendar = Calendar(answer, each_year)
    search = Search(SiteProgramme(answer, calendar, limited), progress)
    search.run()
    found = _found(answer, _proof(search, limited, progress))
    tried = [each for each in found if _keeps_to(each.proved.whole, limited)]
    best = min(tried, key=_rank, default=None)
    if best is None or not best.proved.whole.places_met:
        return None
    own = next((len(each.proved.whole.places_met) for each in found if not each.title), 0)
    stopped = not search.proven or search.of.books.programme.interrupted
    beyond, cost = not stopped and len(best.proved.whole.places_met) > own, best.proved.cost
    plan = Plan(
        proved=best.proved,
        calendar=calendar,
        stages=tuple(search.stages),
        proven=not stopped and not beyond and cost <= search.bound + ROUNDED,
        gap=0.0 if beyond else search.gap(cost),
        row="" if best.rest else best.title,
        rest=best.title if best.rest else "",
        beyond=beyond,
        stopped=stopped,
        interrupted=search.of.books.programme.interrupted,
    )
    if not is_small(search.of) or plan.interrupted:
        return plan
    return _soonest(answer, limited, plan, progress)


def _proof(search: Search, limited: Limited, progress: Progress) -> Proved | None:
    """Return what a search found, as the ordinary code has it.

    Where it does not come out, what was left over may not have kept until it was used, or manure came too
    near a later lime: it is looked for anew with only what is sure to have kept, and manure apart from all
    lime.
    """
    proof, of = search.proof(), search.of
    if (proof is not None and search.comes_out(proof)) or of.books.programme.interrupted or not search.start:
        return proof
    sure = Search(SiteProgramme(of.answer, of.calendar, limited, sure=True), progress)
    sure.run()
    proofs = [each for each in (proof, sure.proof()) if each is not None]
    return min(proofs, key=Proved.worth, default=None)


def _soonest(answer: Answer, limited: Limited, plan: Plan, progress: Progress) -> Plan:
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
        sooner = _ready_by(answer, limited, plan, by)
        if sooner is None and best is plan:
            break
        best, too_soon = (best, by) if sooner is None else (sooner, too_soon)
    return best


def _ready_by(answer: Answer, limited: Limited, plan: Plan, by: date) -> Plan | None:
    """Return a plan that is ready by a day and no worse than another, if one is found."""
    sooner = replace(limited, by=by, cash=plan.whole.bill.cash)
    search = Search(SiteProgramme(answer, plan.calendar, sooner))
    if search.must_meet(plan.whole.places_met):
        search.run_within(plan.proved)
    proof = search.proof()
    if proof is None or not _keeps_to(proof.whole, sooner) or not _no_worse(proof, plan):
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


def _rank(found: Tried) -> tuple[int, float, float, date, bool]:
    whole = found.proved.whole
    hours, ready = round(whole.bill.hours.compared, 2), whole.ready_on or date.max
    return *found.proved.worth(), hours, ready, found.title != ""


def _found(answer: Answer, proof: Proved | None) -> list[Tried]:
    """Return what the search found, the rows of options, and what was found with the rest of each row.

    What a row meets and the search does not is done as the row does it, where both go together.
    """
    rows = [Tried(title, row) for title, row in _rows(answer)]
    if proof is None:
        return rows
    found, met = [Tried("", proof), *rows], proof.whole.places_met
    for title, row in _rows(answer):
        if row.whole.places_met - met:
            rest = [line for line in row.lines if (line.need, line.place) not in met]
            joined = proved(answer, [*proof.lines, *rest])
            if not joined.faults:
                found.append(Tried(title, joined, rest=True))
    return found


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
