"""A break-even in sentences: where it was looked, how finely, and what changes to what."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from barrowful.answers.break_even import BreakEven, Search
from barrowful.measures.money import rounded
from barrowful.site.records import Site

#: Changes that are told one by one.
MOST_TOLD = 6


def break_even_advice(search: Search) -> Iterator[str]:
    """Give where the best ways change, and how that was looked for; where they never do, what they are."""
    scale = search.scale
    span = f"{scale.text(0)} to {scale.text(scale.last)}"
    points = [list(changes) for _, changes in groupby(search.changes, key=lambda change: change.text)]
    if not points:
        served = search.first.served.items()
        ways = "; ".join(f"{need} by {of.in_short}" for need, of in served) or "no needs"
        yield f"{scale.path}: from {span} the best ways stay the same ({_costs(search)}): {ways}."
    else:
        times = "once" if len(points) == 1 else f"{len(points)} times"
        yield f"{scale.path}: from {span} the best ways change {times}{_told_of(len(points))}:"
    yield from (_told(changes) for changes in points[:MOST_TOLD])
    yield _how(search)


def plan_not_followed(site: Site) -> list[str]:
    """Return that a plan of the grower's is not what is looked at, where there is one."""
    return ["Best is the cheapest way for each need; your plan is not looked at."] if site.plan else []


def _told_of(count: int) -> str:
    """Return how many changes are told, where the table has more."""
    return f", the first {MOST_TOLD}" if count > MOST_TOLD else ""


def _costs(search: Search) -> str:
    """Return what the whole site costs at both ends."""
    first, last = search.first.money, search.last.money
    return f"the whole site costs {first}" if first == last else f"the whole site costs {first} to {last}"


def _told(changes: Sequence[BreakEven]) -> str:
    """Return what changes at a value, in a sentence."""
    was, now = changes[0].was, changes[0].now
    turns = ", ".join(f"{of.need} by {of.after} instead of {of.before}" for of in changes)
    cost = f"the whole site costs {now.money}"
    if now.met != was.met:
        cost += f" and has {now.shortfall or 'every need met'}"
        cost += f" ({was.money} and {was.shortfall or 'every need met'} just before)"
    elif now.money != was.money:
        cost += f" ({was.money} just before)"
    unchanged = changes[0].unchanged
    if now.met == was.met and unchanged is not None and unchanged < now.cash:
        # a pair that was looked at before is none of those looked at from here on
        still = f"{rounded(unchanged, now.currency):,} {now.currency}"
        cost += (
            f"; by the ways from before it would still be {still}: only the most promising pairs are looked"
            ' at, "barrowful plan" looks at all'
        )
    return f"- from {changes[0].text} on {turns}; {cost}."


def _how(search: Search) -> str:
    """Return how it was looked for, and what would not be seen."""
    scale = search.scale
    why = f" ({search.why})" if search.why else ""
    grain = "the day" if scale.is_days else f"{scale.step.normalize():f} {scale.unit}".strip()
    return (
        f"Looked at {search.looked_at} values{why}; where ways differ, halved to {grain}. A change and back"
        f' again between two of them is not seen: --break-even "{scale.path}=A..B:N" looks at N.'
    )
