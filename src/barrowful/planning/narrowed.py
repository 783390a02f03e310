"""The least cost of a large programme: first it is narrowed to what may cost less than a plan that is known.

Number by number it is looked at what one more or one less costs at the least; where that alone is no less
than what is known, it stays. Only what is left then is searched.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from math import inf

from barrowful.planning.books import total
from barrowful.planning.columns import TOLERANCE
from barrowful.planning.relaxed import Part, Relaxed
from barrowful.planning.solved import Effort, Solved
from barrowful.planning.solver import Programme

#: By what share of what is open narrowing must raise the least for it to be narrowed once more; and how far
#: over the least the limit may be, as a share of it, for more than what orders are in all to be narrowed:
#: settings of the search.
GAINS, FAR = 0.1, 0.25
#: What a plan must cost less by to be looked for [coins].
LESS = 0.0005


def least_narrowed(
    programme: Programme, costs: Mapping[int, float], effort: Effort, start: Sequence[float]
) -> Solved:
    """Return the values at which costs are least, as :meth:`Programme.solve` does."""
    if not start:
        return programme.solve(costs, effort)
    known = Solved(tuple(start), total(tuple(start), costs), inf, stopped=False)
    limit = known.least - LESS
    try:
        part = _narrowed(programme, costs, limit)
    except KeyboardInterrupt:
        programme.interrupted = True
        return replace(known, bound=programme.relaxed, stopped=True)
    if part is None:
        return replace(known, bound=known.least)
    found = programme.within(part, costs, effort._replace(guesses=True), limit)
    bound = max(found.bound, programme.relaxed) if found.stopped else inf
    best = found if found.found and found.least < known.least else known
    return Solved(best.values, best.least, min(bound, best.least), found.stopped)


def _narrowed(programme: Programme, costs: Mapping[int, float], limit: float) -> Part | None:
    """Return the bounds within which costs may come to less than a limit, or None where they do nowhere."""
    totals = programme.in_all
    others = [column for column in programme.wholes() if column not in totals]
    with programme.without_wholes(costs, limit) as relaxed:
        cost, before = relaxed.cost(), -inf
        programme.relaxed = min(cost, limit)
        while cost < inf and cost - before >= GAINS * (limit - cost):
            before = cost
            relaxed.narrow(totals)
            relaxed.bound(
                {
                    each: (relaxed.least[each], min(relaxed.most[each], relaxed.most[column]))
                    for column, members in totals.items()
                    for each in members
                }
            )
            if limit - cost > FAR * limit:
                break
            cost = _narrow_each(relaxed, others)
        return None if cost == inf else relaxed.part()


def _narrow_each(relaxed: Relaxed, columns: Collection[int]) -> float:
    """Narrow columns, first those that are in between two whole numbers, and return the least cost then."""
    relaxed.cost()
    values = relaxed.values()
    between = [column for column in columns if abs(values[column] - round(values[column])) > TOLERANCE]
    for each in (between, sorted(set(columns) - set(between))):
        relaxed.narrow(each)
    return relaxed.cost()
