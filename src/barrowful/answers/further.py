"""Places served one by one within the grower's limits, where there is too little for all."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from typing import NamedTuple

from barrowful.answers.costs import Bill
from barrowful.answers.option import Option, first_among_equals, total_cost
from barrowful.answers.options import Answer
from barrowful.answers.together import Picks, Together
from barrowful.needs.decision import in_turn
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site

#: Places that are looked at anew in search of more that the limits have room for: a setting of the search.
MOST_SETTLED = 20_000
#: Ways for the places of a kind of need that others leave: a way, or several, and the names of the places.
Further = dict[tuple[str, str], frozenset[str]]


class Reached(NamedTuple):
    """What is settled within the limits, and what it costs."""

    together: Together
    bill: Bill


def reached_within_limits(answer: Answer, picks: Picks, reached: Reached) -> Reached:
    """Return what is settled with as many further places as the limits have room for.

    They come in their turn: by priority, the smallest first, each by the cheapest way that would do there.
    While all fit, more are taken at once. Nothing is changed of what is served already.
    """
    left_out, further = list(_left_out(answer, reached.together)), Further()
    first = {kind: _open_places(reached.together, kind) for kind in picks}
    at, step = 0, 1
    for _ in range(MOST_SETTLED // max(1, len(answer.site.places))):
        some = left_out[at : at + step]
        if not some:
            break
        tried = [_with(further, [(kind, place, rows[0]) for kind, place, rows in some])]
        if len(some) == 1:
            [(kind, place, rows)] = some
            tried += [_with(further, [(kind, place, row)]) for row in rows[1:]]
        fitting = _first_fitting(answer, picks, first, tried, reached.together.met + len(some))
        if fitting is not None:
            further, reached = fitting
            at, step = at + len(some), 2 * step
        elif step > 1:
            step //= 2
        else:
            at += 1
    return reached


def _with(further: Further, more: Iterable[tuple[str, str, Option]]) -> Further:
    """Return ways for further places with those of some more: kind of need, place, row."""
    together = dict(further)
    for kind, place, row in more:
        together[kind, row.key] = together.get((kind, row.key), frozenset()) | {place}
    return together


def _first_fitting(
    answer: Answer, picks: Picks, first: Mapping[str, set[str]], tried: Iterable[Further], met: int
) -> tuple[Further, Reached] | None:
    """Return the first that meets so many needs within the limits, or None."""
    for further in tried:
        reached = _settled(answer, picks, first, further)
        if reached.together.met >= met and not reached.together.over_limits(reached.bill):
            return further, reached
    return None


def has_limits(site: Site) -> bool:
    """Say whether cash, hours or the day ready have a limit of the grower's."""
    limits = (site.limits.cash, site.limits.hours, site.limits.by, site.labour.hours_per_week)
    return any(limit is not None for limit in limits)


def leaves_out(answer: Answer, together: Together) -> bool:
    """Say whether a need of a place is not met that some row would meet alone."""
    return any(True for _ in _left_out(answer, together))


def _left_out(answer: Answer, together: Together) -> Iterator[tuple[str, str, list[Option]]]:
    """Yield each need of a place that is not met, in their turn, with the rows that would meet it alone."""
    met = {(part.need, of.place.name) for part in together.parts for of in part.decision.servings if of.met}
    hourly, would = answer.site.labour.hourly_value, dict[tuple[str, str], list[Option]]()
    for row in answer.options:
        for of in row.decision.servings:
            if of.met and (row.need, of.place.name) not in met:
                would.setdefault((row.need, of.place.name), []).append(row)

    def by_cost(row: Option) -> tuple[object, ...]:
        return total_cost(row.cash, row.hours, hourly), *first_among_equals(row)

    for place in in_turn(answer.site.places):
        for kind in NEEDS:
            if rows := would.get((kind, place.name)):
                yield kind, place.name, sorted(rows, key=by_cost)


def _open_places(together: Together, kind: str) -> set[str]:
    """Return the places that were looked at for a kind of need: not those still to be filled."""
    places = {place.name for place in together.answer.site.places_with(kind)}
    return places - together.not_made(kind)


def with_further(together: Together, row: Option, names: Collection[str]) -> Reached | None:
    """Return all that is carried out with a row in further places; None where it meets not all of them.

    Lines of a plan stay as they are, and the row comes after them.
    """
    beside = _plan_so_far(together) if together.written else Together(together.answer)
    for kind in () if together.written else NEEDS:
        for part in together.parts:
            if part.need == kind and not part.decision.by_others:
                beside.serve(
                    kind, (part.source.key,), {of.place.name for of in part.decision.servings if of.met}
                )
        if kind == row.need:
            beside.serve(kind, (row.key,), names)
    if together.written:
        beside.serve(row.need, (row.key,), names)
    return Reached(beside, beside.bill()) if beside.met >= together.met + len(names) else None


def _plan_so_far(plan: Together) -> Together:
    """Return a plan with what it puts on taken from its stocks, to serve more beside it."""
    beside = plan.copy()
    for part in plan.parts:
        beside.take(part.source, part.doses)
    return beside


def _settled(answer: Answer, picks: Picks, first: Mapping[str, set[str]], further: Further) -> Reached:
    """Return all needs settled in their order: by the ways picked, then by those for further places.

    Ways picked serve the places they were picked for ``first``: what is filled further is no reason for more.
    """
    together = Together(answer)
    for kind in NEEDS:
        if picks.get(kind):
            together.serve(kind, picks[kind], first[kind])
        for (need, way), names in further.items():
            if need == kind:
                together.serve(kind, (way,), names)
    return Reached(together, together.bill())
