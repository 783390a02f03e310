"""Needs met by what goes on for needs settled after them: a dressing, by a cover of stuff that suits it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache

from barrowful.answers.options import Answer
from barrowful.needs.decision import MET, CannotServe, Decision, Judged, Serving
from barrowful.needs.registry import NEEDS
from barrowful.needs.settled import Settled
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application


def counting_later(kind: str) -> list[str]:
    """Return the kinds of need settled before one that what goes on for it may meet too."""
    return [of for of in list(NEEDS)[: list(NEEDS).index(kind)] if NEEDS[of].counts_later]


def met_by_all(
    site: Site, kind: str, places: Iterable[Place], settled: Settled, carried: Iterable[Decision]
) -> dict[str, Serving]:
    """Return the servings of places not met by what is ``carried`` out, whose need all put on meets."""
    own = {of.place.name: of for decision in carried for of in decision.servings}
    met = dict[str, Serving]()
    for place in places:
        there = own.get(place.name, Serving(place=place, why_not="nothing of its own is put on"))
        judged = None if there.met else _judged(site, kind, place, settled.on(place))
        if judged is not None and not judged.why_not:
            met[place.name] = Serving(
                place=place, doses=there.doses, later=there.later, ready_on=judged.ready_on
            )
    return met


@lru_cache(maxsize=32)
def may_be_met_besides(answer: Answer, kind: str) -> frozenset[str]:
    """Return the places whose need of a kind what goes on for needs settled after it may come to."""
    later = list(NEEDS)[list(NEEDS).index(kind) + 1 :] if NEEDS[kind].counts_later else []
    shares = dict[str, dict[str, float]]()
    for row in answer.options:
        for of in row.decision.servings if row.need in later else ():
            if of.place.need(kind) is None or not of.every_dose:
                continue
            judged = _judged(answer.site, kind, of.place, of.every_dose)
            by_kind = shares.setdefault(of.place.name, {})
            by_kind[row.need] = max(by_kind.get(row.need, 0.0), judged.share if judged else 0.0)
    return frozenset(name for name, by_kind in shares.items() if sum(by_kind.values()) >= 1 - MET)


def _judged(site: Site, kind: str, place: Place, doses: Iterable[Application]) -> Judged | None:
    """Return how far doses meet a need of a place; None where they cannot."""
    try:
        return NEEDS[kind].judge(site, place, [*doses])
    except CannotServe:
        return None
