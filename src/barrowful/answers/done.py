"""What was really done, entry by entry, and what it took in all."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from barrowful.answers.begun_plan import NOT_COUNTED, put_on_since, with_plan_begun
from barrowful.measures.fixed import fixed
from barrowful.measures.money import rounded
from barrowful.measures.text import all_of
from barrowful.needs.cover import Covering
from barrowful.needs.registry import NEEDS
from barrowful.site.job_names import JOINT, number_of
from barrowful.site.records import HistoryEntry, Site
from barrowful.supplies.supply import Supply

#: The season's words for an order and for what comes of it.
ORDERED_AND_CAME = frozenset({"order", "delivery", "collect"})


@fixed(eq=True)
class Done:
    """An entry of the history: what was put on or used [m3, kg], found [share, degC], what it took."""

    day: date
    place: str | None
    way: str | None
    job: str | None
    material: str | None
    loose: float | None
    mass: float | None
    tested: float | None
    temperature: float | None
    hours: float | None
    cash: Decimal | None
    note: str


def done(site: Site) -> list[Done]:
    """Return every entry of the history, in the order of their days."""
    return [_done(entry) for entry in site.history]


def _done(entry: HistoryEntry) -> Done:
    stuff = entry.material
    weighed = stuff is not None and not stuff.lacks("density")
    return Done(
        day=entry.day,
        place=entry.place or None,
        way=entry.way or None,
        job=entry.job or None,
        material=stuff.name if stuff else None,
        loose=entry.loose if stuff or entry.loose else None,
        mass=stuff.wet_mass(entry.loose) if stuff and weighed else None,
        tested=entry.tested,
        temperature=entry.temperature,
        hours=entry.hours,
        cash=entry.cash,
        note=entry.note,
    )


def spent(site: Site) -> list[str]:
    """Return a sentence on the hours and the money that the history tells of, or none."""
    hours = [entry.hours for entry in site.history if entry.hours is not None]
    cash = [entry.cash for entry in site.history if entry.cash is not None]
    told = [f"{sum(hours):,.1f} h in {_entries(len(hours))}"] if hours else []
    if cash:
        paid = rounded(sum(cash, Decimal(0)), site.currency)
        told.append(f"{paid:,} {site.currency} in {_entries(len(cash))}")
    return [f"Done so far, as your history has it: {' and '.join(told)}."] if told else []


def paid_twice(site: Site) -> list[str]:
    """Return a sentence on each order of which the same money stands with what came of it as well."""
    paid: dict[tuple[str, Decimal], dict[str, HistoryEntry]] = defaultdict(dict)
    for entry in site.history:
        word, _, of = entry.job.partition(JOINT)
        if entry.cash and word in ORDERED_AND_CAME and number_of(entry.job):
            paid[of, entry.cash][word] = entry
    both = [(cash, [f'"{of.job}" of {of.day}' for of in told.values()]) for (_, cash), told in paid.items()]
    return [
        f"{rounded(cash, site.currency):,} {site.currency} stands with {' and with '.join(told)}: where that"
        " was paid once, take it out of one of them"
        for cash, told in both
        if len(told) > 1
    ]


def planned_again(site: Site, anew: bool = False) -> tuple[str, ...]:
    """Return what of that which was done since the start is planned once more, and what goes on from it.

    A plan that is looked for ``anew`` plans all of it. What was spent since is in no sum here, so that limits
    are as if nothing had been: that is told of them.
    """
    since = [entry for entry in site.history if entry.day >= site.start]
    if not since:
        return ()
    last = since[-1].day
    what = f"This plans from {site.start}, and once more what your history has done since, to {last}"
    if not anew:
        what = _of_plan(site) or _of_needs(site, since) or what
    return f'{what}: "barrowful season --today DAY" tells what is left to do and order.', *_spent_since(
        site, since
    )


def _of_plan(site: Site) -> str:
    """Return how what was put on since the start stands to the lines of a plan, or nothing without both."""
    put_on, beside = put_on_since(site), put_on_since(with_plan_begun(site))
    if not (site.plan and put_on):
        return ""
    whole = f"This follows your plan whole, from {site.start}"
    more = f"what your history has put on besides, to {beside[-1].day}, counts beside it" if beside else ""
    if put_on == beside:
        return f"{whole}; {more.replace(' besides', '')}"
    own = f"what your history has done of its lines since, to {put_on[-1].day}, is theirs and counts once"
    return "; ".join(filter(None, (whole, own, more)))


def _of_needs(site: Site, since: Sequence[HistoryEntry]) -> str:
    """Return for which kinds of need it counts what was done since the start, and which it plans again."""
    counted, again = (_kinds_since(site, since, counted) for counted in (True, False))
    if not counted:
        return ""
    more = f", and plans {all_of(again)} once more" if again else ""
    done = f"your history has done since, to {since[-1].day}"
    return f"This plans from {site.start}, counts for {all_of(counted)} what {done}{more}"


def _kinds_since(site: Site, since: Sequence[HistoryEntry], counted: bool) -> list[str]:
    """Return the kinds of need of places that got something since the start, counted or planned again."""
    got = [(site.place(entry.place), entry.day) for entry in since if entry.place and entry.material]
    kinds = {need.kind for place, _ in got for need in place.needs}
    again = {
        need.kind
        for place, day in got
        for need in place.needs
        if need.kind in NOT_COUNTED and (need.kind != Covering.kind or day > site.start)
    }
    return [kind for kind in NEEDS if kind in (kinds - again if counted else again)]


def _spent_since(site: Site, since: Sequence[HistoryEntry]) -> list[str]:
    """Return that nothing of the cash and hours spent since the start is taken off the grower's limits."""
    cash = sum((entry.cash for entry in since if entry.cash is not None), Decimal(0))
    hours = sum(entry.hours for entry in since if entry.hours is not None)
    limited = {
        "limits.cash": f"{rounded(cash, site.currency):,} {site.currency}" if cash else "",
        "limits.hours": f"{hours:,.1f} h" if hours else "",
    }
    asked = {"limits.cash": site.limits.cash, "limits.hours": site.limits.hours}
    told = {limit: spent for limit, spent in limited.items() if spent and asked[limit] is not None}
    if not told:
        return []
    spent_told, off = all_of([*told.values()]), all_of([*told])
    return [f"None of the {spent_told} that your history has spent since is taken off {off}."]


def overtaken(supplies: Iterable[Supply[Any]]) -> list[str]:
    """Return a sentence on each stock of which the history takes more than there was."""
    return [supply.overtaken for supply in supplies if supply.overtaken]


def _entries(count: int) -> str:
    return "1 entry" if count == 1 else f"{count} entries"
