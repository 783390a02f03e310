"""Places served one by one within the grower's limits, where there is too little for all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from barrowful.answers.costs import Bill
from barrowful.answers.option import Option, total_cost
from barrowful.answers.options import Answer
from barrowful.answers.together import Picks, Together
from barrowful.needs.decision import in_turn
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site

#: Places that are settled anew in looking for more that the limits have room for: a setting of the search.
MOST_SETTLED = 20_000
#: Ways for the places of a kind of need that others leave: a way, or several, and the names of the places.
Further = dict[tuple[str, str], frozenset[str]]


class Reached(NamedTuple):
    """What is settled within the limits, and what it costs."""

    together: Together
    bill: Bill


def reached_within_limits(answer: Answer, picks: Picks, reached: Reached) -> Reached:
    """Return what is settled with as many further places as the limits have room for, one by one.

    They come in their turn: by priority, the smallest first, each by the cheapest way that would do there.
    Nothing is changed of what is served already.
    """
    site, further, left = answer.site, Further(), MOST_SETTLED
    if not _has_limits(site):
        return reached
    for kind, place, rows in _left_out(answer, reached.together):
        for row in rows:
            left -= len(site.places)
            if left < 0:
                return reached
            names = further.get((kind, row.name), frozenset())
            tried = {**further, (kind, row.name): names | {place}}
            more = _settled(answer, picks, tried)
            if more.together.met > reached.together.met and not more.together.over_limits(more.bill):
                further, reached = tried, more
                break
    return reached


def _has_limits(site: Site) -> bool:
    limits = (site.limits.cash, site.limits.hours, site.limits.by, site.labour.hours_per_week)
    return any(limit is not None for limit in limits)


def _left_out(answer: Answer, together: Together) -> Iterator[tuple[str, str, list[Option]]]:
    """Yield each need of a place that is not met, in their turn, with the rows that would meet it alone."""
    met = {(part.need, of.place.name) for part in together.parts for of in part.decision.servings if of.met}
    hourly, would = answer.site.labour.hourly_value, dict[tuple[str, str], list[Option]]()
    for row in answer.options:
        for of in row.decision.servings:
            if of.met and (row.need, of.place.name) not in met:
                would.setdefault((row.need, of.place.name), []).append(row)
    for place in in_turn(answer.site.places):
        for kind in NEEDS:
            if rows := would.get((kind, place.name)):
                yield kind, place.name, sorted(rows, key=lambda row: total_cost(row.cash, row.hours, hourly))


def _settled(answer: Answer, picks: Picks, further: Mapping[tuple[str, str], frozenset[str]]) -> Reached:
    """Return all needs settled in their order: by the ways picked, then by those for further places."""
    together = Together(answer)
    for kind in NEEDS:
        if picks.get(kind):
            together.serve(kind, picks[kind])
        for (need, way), names in further.items():
            if need == kind:
                together.serve(kind, (way,), names)
    return Reached(together, together.bill())
