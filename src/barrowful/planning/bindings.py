"""What binds a plan: what a little more of a limit would save, found by planning again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from decimal import Decimal

from barrowful.answers.options import Answer, options
from barrowful.measures.dates import Step
from barrowful.measures.fixed import fixed
from barrowful.planning.plan import Plan, plan_of
from barrowful.planning.programme import Limited
from barrowful.site.records import Place, Site

MONTH = Step(months=1)
#: What is tried: an hour, and of money ten of the site's own.
AN_HOUR, TEN = 1.0, Decimal(10)


@fixed(eq=True)
class Binding:
    """A limit, how much more of it is tried, and what that saves."""

    limit: str
    more: str
    saves_cash: Decimal | None
    saves_days: int | None
    meets_more: int  #: needs


def binding_limits(answer: Answer, limited: Limited, plan: Plan | None, each_year: int) -> list[Binding]:
    """Return what a little more of each limit saves, each tried by itself."""
    found = []
    for limit, more, site, eased in _eased(answer.site, limited):
        beside = answer if site is answer.site else options(site)
        better = plan_of(beside, eased, each_year)
        found.append(_binding(limit, more, plan, better))
    return found


def _binding(limit: str, more: str, plan: Plan | None, better: Plan | None) -> Binding:
    if plan is None or better is None:
        meets = len(better.whole.places_met) if better else 0
        return Binding(limit=limit, more=more, saves_cash=None, saves_days=None, meets_more=meets)
    more_met = len(better.whole.places_met) - len(plan.whole.places_met)
    saved = plan.whole.bill.cash - better.whole.bill.cash
    days = (plan.ready_on - better.ready_on).days if plan.ready_on and better.ready_on else None
    if (more_met, saved, days or 0) < (0, 0, 0):  # what does with less does with more: the search missed it
        more_met, saved, days = 0, abs(saved * 0), 0
    return Binding(limit=limit, more=more, saves_cash=saved, saves_days=days, meets_more=more_met)


def _eased(site: Site, limited: Limited) -> Iterator[tuple[str, str, Site, Limited]]:
    """Yield each limit, how much more of it is tried, and the site and limits with that."""
    if limited.hours_per_week is not None:
        weekly = limited.hours_per_week + AN_HOUR
        labour = replace(site.labour, hours_per_week=weekly)
        yield (
            "labour.hours_per_week",
            "1 h",
            replace(site, labour=labour),
            replace(limited, hours_per_week=weekly),
        )
    if limited.hours is not None:
        hours = limited.hours + AN_HOUR
        limits = replace(site.limits, hours=hours)
        yield "limits.hours", "1 h", replace(site, limits=limits), replace(limited, hours=hours)
    if limited.cash is not None:
        cash = limited.cash + TEN
        limits = replace(site.limits, cash=cash)
        yield (
            "limits.cash",
            f"{TEN} {site.currency}",
            replace(site, limits=limits),
            replace(limited, cash=cash),
        )
    if limited.by is not None:
        by = MONTH.after(limited.by)
        yield (
            "limits.by",
            "1 month",
            replace(site, limits=replace(site.limits, by=by)),
            replace(limited, by=by),
        )
    later = _due_later(site)
    if later != site.places:
        yield "by of needs", "1 month", replace(site, places=later), limited
    for way in site.ways:
        roomy = way.with_more_room()
        if roomy is not None:
            ways = tuple(roomy if of is way else of for of in site.ways)
            yield f"room of {way.name}", "1 bay", replace(site, ways=ways), limited


def _due_later(site: Site) -> tuple[Place, ...]:
    """Return the places with a month more for everything that is to be met by a day of its own."""
    return tuple(
        replace(place, needs=tuple(need.due_later(MONTH) for need in place.needs)) for place in site.places
    )
