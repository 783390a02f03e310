"""What a case comes to at a glance: what the whole site costs by the best ways, and which ways these are."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from barrowful.answers.carrying_out import carried_out
from barrowful.answers.cases import CaseAnswer
from barrowful.answers.choices import CHEAPEST, WholeSite, cheapest, needs_of
from barrowful.answers.search import best_of
from barrowful.answers.together import Picks
from barrowful.measures.money import rounded
from barrowful.site.references import NO_WAY
from barrowful.site.ways import JOINS
from barrowful.supplies.joint import joint_called


class Served(NamedTuple):
    """How a kind of need is met: each way with the places it serves, and the places that nothing meets."""

    ways: tuple[tuple[str, tuple[str, ...]], ...]
    unmet: tuple[str, ...]

    @property
    def in_short(self) -> str:
        """Return the ways, and what is not met."""
        ways = ", ".join(dict.fromkeys(way for way, _ in self.ways)) or NO_WAY
        return f"{ways} (not {', '.join(self.unmet)})" if self.unmet and self.ways else ways

    @property
    def in_full(self) -> str:
        """Return the ways with the places each serves, and what is not met."""
        ways = ", ".join(f"{way} ({', '.join(places)})" for way, places in self.ways) or NO_WAY
        return f"{ways}, not {', '.join(self.unmet)}" if self.unmet and self.ways else ways


class Outlook(NamedTuple):
    """A whole site: cash, hours and day of what is followed, needs of places met, and how each kind is."""

    title: str
    currency: str
    cash: Decimal
    hours: float
    ready_on: date | None
    met: int
    needs: int
    served: Mapping[str, Served]

    @property
    def money(self) -> str:
        """Return the cash as people read it."""
        return f"{rounded(self.cash, self.currency):,} {self.currency}"

    @property
    def shortfall(self) -> str:
        """Return how many needs of places are not met, or nothing."""
        left = self.needs - self.met
        return f"{left} of {self.needs} needs not met" if left else ""


def best_outlook(case: CaseAnswer) -> Outlook:
    """Return what the whole site comes to by the cheapest way for each need."""
    return _outlook(cheapest(case.answer))


def best_picks(case: CaseAnswer) -> Picks:
    """Return the ways of the cheapest way for each need, by kind of need."""
    return best_of(case.answer).picks


def outlook_by(case: CaseAnswer, picks: Picks) -> Outlook | None:
    """Return what the whole site comes to by ways that are given, None where it is over the grower's limits.

    Several ways serve jointly as they did, though they may be none of the pairs that are looked at here.
    """
    answer, joints = case.answer, dict(case.answer.joints)
    for name in (name for ways in picks.values() for name in ways if JOINS in name and name not in joints):
        joints[name] = joint_called(name, answer.supplies)
    together = carried_out(replace(answer, joints=joints), picks)
    whole = WholeSite(CHEAPEST, together, together.bill())
    return None if whole.over else _outlook(whole)


def followed_outlook(case: CaseAnswer) -> Outlook:
    """Return what the whole site comes to by what is followed: the grower's plan, else the cheapest ways."""
    return _outlook(case.followed)


def _outlook(whole: WholeSite) -> Outlook:
    site = whole.together.answer.site
    return Outlook(
        title=whole.title,
        currency=site.currency,
        cash=whole.bill.cash,
        hours=whole.bill.hours.likely,
        ready_on=whole.ready_on,
        met=whole.count,
        needs=sum(len(site.places_with(kind)) for kind in needs_of(site)),
        served={kind: _served(whole, kind) for kind in needs_of(site)},
    )


def _served(whole: WholeSite, kind: str) -> Served:
    """Return how a kind of need is met."""
    ways = {
        part.way: tuple(of.place.name for of in part.decision.servings if of.met)
        for part in whole.together.parts
        if part.need == kind
    }
    return Served(
        ways=tuple((way, places) for way, places in ways.items() if places),
        unmet=tuple(whole.places_left_out(kind)),
    )


def differing(before: Outlook, after: Outlook) -> list[tuple[str, str, str]]:
    """Return each kind of need that is met otherwise, and by what before and after."""
    found = []
    for kind in dict.fromkeys([*before.served, *after.served]):
        was, now = before.served.get(kind), after.served.get(kind)
        if was == now or was is None or now is None:
            continue
        short = was.in_short, now.in_short
        found.append((kind, *(short if short[0] != short[1] else (was.in_full, now.in_full))))
    return found
