"""The least cash for each day everything may be ready, from one day to the next that costs more."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

from barrowful.answers.option import hours_counted
from barrowful.answers.options import Answer
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import VOLUME, measured
from barrowful.planning.calendar import DAYS_A_YEAR
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import Limited
from barrowful.planning.search import Progress, no_word

#: Points at most: a setting of the search.
MOST_POINTS = 12
DAY = timedelta(days=1)


@fixed
class FrontierPoint:
    """A plan that costs least of all that are ready by its day, and what changes from the one after it."""

    plan: Plan
    ready_on: date
    cash: Decimal
    hours: float
    orders: int
    change: str


def frontier_of(
    answer: Answer,
    limited: Limited,
    least: Plan | None,
    each_year: int = DAYS_A_YEAR,
    progress: Progress = no_word,
) -> list[FrontierPoint]:
    """Return the plans that meet as many needs as any, the soonest first: each sooner one costs more.

    What one costs is its cash, and its hours at their value where they have one.
    """
    plans = list(_plans(answer, limited, least, each_year, progress))
    points = [_point(plan, later) for plan, later in zip(plans, [None, *plans], strict=False)]
    return points[::-1]


def _plans(
    answer: Answer, limited: Limited, plan: Plan | None, each_year: int, progress: Progress
) -> Iterator[Plan]:
    """Yield the plan of least cost, then that of those ready sooner, and so on while as much is met."""
    met = len(plan.whole.places_met) if plan else 0
    for _ in range(MOST_POINTS):
        if plan is None or plan.ready_on is None or len(plan.whole.places_met) < met:
            return
        sooner = plan
        before = plan.ready_on - DAY
        if before < answer.site.start:
            yield sooner
            return
        plan = plan_of(answer, replace(limited, by=before), each_year, progress)
        # of plans that cost the same only the soonest is worth telling
        if plan is None or len(plan.whole.places_met) < met or plan.proved.worth() > sooner.proved.worth():
            yield sooner


def _point(plan: Plan, later: Plan | None) -> FrontierPoint:
    bill, counted = plan.whole.bill, hours_counted(plan.calendar.answer.site)
    assert plan.ready_on is not None
    return FrontierPoint(
        plan=plan,
        ready_on=plan.ready_on,
        cash=bill.cash,
        hours=bill.hours.likely,
        orders=len(bill.orders),
        change=_change(plan, later) if later else f"least {'cost' if counted else 'cash'}{counted}",
    )


def _change(plan: Plan, later: Plan) -> str:
    """Return which ways bring more, and which less, than in a plan that is ready later."""
    now, then = _volumes(plan), _volumes(later)
    more = {way: now[way] - then[way] for way in sorted({*now, *then})}
    told = [
        f"{measured(abs(loose), VOLUME, 2)} {'more' if loose > 0 else 'less'} {way}"
        for way, loose in sorted(more.items(), key=lambda each: (-abs(each[1]), each[0]))
        if abs(loose) > 0.005 * max(1.0, now[way], then[way])
    ]
    return ", ".join(told[:3]) or "other days"


def _volumes(plan: Plan) -> Counter[str]:
    volumes: Counter[str] = Counter()
    for dose in plan.whole.together.all_doses:
        volumes[dose.way] += dose.loose  # type: ignore[assignment]
    return volumes
