"""The least cost looked for in parts: by how many trips, bags and steps come in all.

Where a plan is known, only few such numbers may cost less than it does, whatever else is done. For each of
these what else may be so is narrowed, number by number, and only what is left then is searched.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace
from heapq import heappop, heappush
from math import ceil, floor, inf

from barrowful.planning.books import total
from barrowful.planning.columns import TOLERANCE
from barrowful.planning.relaxed import Part, Relaxed
from barrowful.planning.solved import Effort, Solved
from barrowful.planning.solver import Programme

#: Parts at most, by what share of what is open the least of each must rise for it to be parted, and by what
#: share narrowing must raise it for it to be narrowed once more: settings of the search.
MOST_PARTS, RISES, GAINS = 12, 0.05, 0.1
#: Nodes that each part has at least, and of a first look at those in which nothing is known; and how far over
#: the least that a part may cost the limit may be, as a share of it, for more than its totals to be narrowed:
#: settings of the search.
LEAST_NODES, BRIEF, FAR = 250, 20, 0.25
#: How hard is looked near to what is known: a setting of the search.
NEAR = Effort(200, 0.002)
#: What a plan must cost less by to be looked for [coins].
LESS = 0.0005
#: Whole numbers are told apart by less.
HALF = 0.5


def least_in_parts(
    programme: Programme, costs: Mapping[int, float], effort: Effort, start: Sequence[float]
) -> Solved:
    """Return the values at which costs are least, as :meth:`Programme.solve` does."""
    if not (programme.in_all and start):
        return programme.solve(costs, effort, start)
    best = Solved(tuple(start), total(tuple(start), costs), inf, stopped=False)
    bound, stopped, nodes = inf, False, effort.nodes
    try:
        for part in _parts(programme, costs, best):
            each = Effort(max(nodes, LEAST_NODES), effort.gap)
            found = _least_of(programme, costs, part, each, best)
            nodes -= found.nodes
            best = found if found.found and found.least < best.least else best
            if found.stopped:
                bound, stopped = min(bound, found.bound), True
            if programme.interrupted:
                break
    except KeyboardInterrupt:
        programme.interrupted = True
    if programme.interrupted:
        bound, stopped = programme.relaxed, True
    return Solved(best.values, best.least, min(bound, best.least), stopped)


def _least_of(
    programme: Programme, costs: Mapping[int, float], part: Part, effort: Effort, known: Solved
) -> Solved:
    """Return what costs least in a part, or what is known where nothing there costs less.

    A part in which what is known does not lie is mostly too dear, which comes out at once.
    """
    if not _lies_in(known.values, part):
        found = programme.within(part, costs, Effort(BRIEF, effort.gap), known.least - LESS)
        if not found.stopped or programme.interrupted:
            return found
    narrow = _narrowed(programme, costs, part, known.least - LESS)
    if narrow is not None:
        near = _near(programme, costs, narrow, known)
        if near.least < known.least:
            known, narrow = near, _narrowed(programme, costs, narrow, near.least - LESS)
    if narrow is None or programme.interrupted:
        return replace(known, stopped=False)
    found = programme.within(narrow, costs, effort, known.least - LESS)
    better = found.found and found.least < known.least
    return found if better else replace(found, values=known.values, least=known.least)


def _near(programme: Programme, costs: Mapping[int, float], part: Part, known: Solved) -> Solved:
    """Return what costs least in a part near to what is known, or what is known where nothing costs less.

    Whole numbers stay that would be the same if none need be whole.
    """
    with programme.without_wholes(costs, known.least - LESS) as relaxed:
        relaxed.begin_with(part)
        cost, values = relaxed.cost(), relaxed.values()
    alike = [of for of in programme.wholes() if abs(values[of] - known.values[of]) < TOLERANCE]
    if cost == inf or not alike:
        return known
    near = {**part, **{column: (round(known.values[column]),) * 2 for column in alike}}
    found = programme.within(near, costs, NEAR, known.least - LESS)
    return found if found.found and found.least < known.least else known


def _lies_in(values: Sequence[float], part: Part) -> bool:
    """Say whether values lie within a part."""
    return all(least - HALF <= values[column] <= most + HALF for column, (least, most) in part.items())


def _parts(programme: Programme, costs: Mapping[int, float], known: Solved) -> list[Part]:
    """Return parts that may cost less than what is known: that in which it lies, then the cheapest."""
    with programme.without_wholes(costs, known.least - LESS) as relaxed:
        least = relaxed.cost()
        programme.relaxed = least if least < inf else known.least
        waiting: list[tuple[float, int, Part]] = [(least, 0, {})]
        parts, made = list[tuple[float, Part]](), 0
        while waiting:
            cost, _, part = heappop(waiting)
            few = len(parts) + len(waiting) + 1 < MOST_PARTS
            parted = _parted(relaxed, programme.in_all, part, cost) if few else None
            if parted is None:
                parts.append((cost, part))
            for each in parted or ():
                made += 1
                heappush(waiting, (each[0], made, each[1]))
    parts.sort(key=lambda each: (not _lies_in(known.values, each[1]), each[0]))
    return [part for _, part in parts]


def _parted(
    relaxed: Relaxed, totals: Collection[int], part: Part, cost: float
) -> list[tuple[float, Part]] | None:
    """Return a part in two, at the number in all by which both cost most; None where none is worth it.

    Of what may not cost less than the limit nothing is returned.
    """
    relaxed.begin_with(part)
    if relaxed.cost() == inf:
        return []
    values, best = relaxed.values(), list[tuple[float, Part]]()
    for column in totals:
        value, least, most = values[column], relaxed.least[column], relaxed.most[column]
        if abs(value - round(value)) > TOLERANCE:
            sides: list[Part] = [{**part, column: of} for of in ((least, floor(value)), (ceil(value), most))]
            both = [(relaxed.cost_of(side), side) for side in sides]
            best = max(best, both, key=_cheaper)
    rises = best and _cheaper(best) - cost >= RISES * (relaxed.limit - cost)
    return [of for of in best if of[0] < inf] if rises else None


def _cheaper(parts: Sequence[tuple[float, Part]]) -> float:
    """Return the least that the cheapest of some parts may cost."""
    return min((cost for cost, _ in parts), default=-inf)


def _narrowed(programme: Programme, costs: Mapping[int, float], part: Part, limit: float) -> Part | None:
    """Return a part narrowed to what may cost less than a limit, or None where nothing does."""
    totals = programme.in_all
    others = [column for column in programme.wholes() if column not in totals]
    with programme.without_wholes(costs, limit) as relaxed:
        relaxed.begin_with(part)
        cost, before = relaxed.cost(), -inf
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
