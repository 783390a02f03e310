"""The report of a plan: what is looked for, what is found, and its tables."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from barrowful.answers.advice import advice, all_advice
from barrowful.answers.begun_plan import before_start
from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import WholeSite, cheapest
from barrowful.answers.done import planned_again
from barrowful.answers.options import Answer, options
from barrowful.jobs.later import later_told
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import CannotMeet
from barrowful.planning.bindings import Binding, binding_limits
from barrowful.planning.calendar import DAYS_A_YEAR
from barrowful.planning.clashes import Clash, clashes_of
from barrowful.planning.engine import check_solver
from barrowful.planning.frontier import FrontierPoint, frontier_of
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import Limited
from barrowful.planning.proof import lines_of_parts
from barrowful.planning.search import Progress, no_word
from barrowful.planning.sharing import line_costs
from barrowful.planning.told import (
    LEAST_COST,
    gains,
    needs_there,
    nothing_to_do,
    proof_of,
    put_off,
    saving,
    stage_lines,
    totals_of,
    ways_out,
    why_nothing,
)
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.site.records import Site
from barrowful.tables.binds import BINDS
from barrowful.tables.cautions import caution_notes
from barrowful.tables.clash import CLASH
from barrowful.tables.frontier import FRONTIER
from barrowful.tables.plan import PLAN, head_of, in_order
from barrowful.tables.plan_stages import PLAN_STAGES
from barrowful.tables.plan_totals import PLAN_TOTALS
from barrowful.tables.report import Report, Table


@fixed
class PlanRequest:
    """What is asked for: days of each year to look at, the most cash of the first year, and what beside."""

    days: int = DAYS_A_YEAR
    cash_first_year: Decimal | None = None
    frontier: bool = False
    binds: bool = False


@fixed
class Found:
    """A plan, what it is looked for in, and what is asked for beside it."""

    answer: Answer
    limited: Limited
    plan: Plan
    clashes: list[Clash]
    frontier: list[FrontierPoint] | None
    binds: list[Binding] | None


def find(site: Site, asked: PlanRequest, step: Progress = no_word) -> Found | WholeSite:
    """Return the plan and what is asked for beside it, or what is there where nothing is to be done."""
    check_solver()
    reckoned = options(before_start(site))
    limited = replace(Limited.of(reckoned), cash_first_year=asked.cash_first_year)
    plan = plan_of(reckoned, limited, asked.days, step)
    if plan is None:
        return _nothing_to_do(reckoned, limited, asked.days, step)
    if plan.interrupted:
        return Found(answer=reckoned, limited=limited, plan=plan, clashes=[], frontier=None, binds=None)
    step("what would let the rest be met")
    clashes = clashes_of(reckoned, limited, plan, asked.days)
    frontier = frontier_of(reckoned, limited, plan, asked.days, step) if asked.frontier else None
    step("what a little more of each limit saves")
    return Found(
        answer=reckoned,
        limited=limited,
        plan=plan,
        clashes=clashes,
        frontier=frontier,
        binds=binding_limits(reckoned, limited, plan, asked.days) if asked.binds else None,
    )


def _nothing_to_do(reckoned: Answer, limited: Limited, days: int, step: Progress) -> WholeSite:
    """Return what is there where every need is met already; where none can be, say why."""
    there = cheapest(reckoned)
    if there.count < needs_there(reckoned.site) or lines_of_parts(there.together.parts):
        step("what would let any need be met")
        raise CannotMeet(why_nothing(clashes_of(reckoned, limited, None, days)))
    return there


def plan(found: Found | WholeSite, loaded: ReadSite, *, sources: bool = True) -> Report:
    """Return the report of a plan that was found."""
    if not isinstance(found, Found):
        tables = [PLAN.table([]), CLASH.table([]), PLAN_TOTALS.table([nothing_to_do(found)])]
        return report_of(
            "plan",
            loaded,
            [*tables, PLAN_STAGES.table([])],
            answer=(*planned_again(loaded.site, anew=True), *advice(found)),
        )
    plan, whole = found.plan, replace(found.plan.whole, title=LEAST_COST)
    first, more = all_advice(whole, later_told(found.plan.whole))
    words = [
        *planned_again(loaded.site, anew=True),
        *first,
        *put_off(plan),
        *ways_out(found.clashes),
        saving(found.answer, found.limited, plan),
        proof_of(plan),
    ]
    return report_of(
        "plan",
        loaded,
        _tables(found, loaded.site.start),
        sentences=[*more, *gains(plan)],
        answer=tuple(words),
        cautions=caution_notes(cautions_for(found.answer, plan.whole.together.options()), sources),
    )


def _tables(found: Found, start: date) -> list[Table]:
    """Return the tables of a plan."""
    lines = in_order(line_costs(found.plan.whole))
    tables = [replace(PLAN.table(lines), head=head_of(lines, start))]
    tables += [] if found.frontier is None else [FRONTIER.table(found.frontier)]
    tables += [] if found.binds is None else [BINDS.table(found.binds)]
    tables.append(CLASH.table(found.clashes))
    return [*tables, PLAN_TOTALS.table([totals_of(found.plan)]), PLAN_STAGES.table(stage_lines(found.plan))]
