"""What an answer may take over from that of a site which differs little: a price, a depth, a distance."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import fields
from typing import Any

from barrowful.measures.fixed import fixed
from barrowful.site.records import Site
from barrowful.site.ways import Way
from barrowful.supplies.joint import Source

#: What may differ of a site without everything on it being another; all else of it goes into every answer.
MAY_DIFFER = frozenset({"name", "places", "ways", "labour", "limits", "plan"})


@fixed(kw_only=False)
class Differences:
    """What differs of two sites that are alike otherwise: places and ways, by name.

    ``costing`` are ways that are any other, those that draw on them too; ``bringing`` are those among them
    that may bring something else, or at another time. With other ``terms``, which are hours and the grower's
    limits but the day for all, everything costs something else, but goes on as before.
    """

    places: frozenset[str]
    costing: frozenset[str]
    bringing: frozenset[str]
    terms: bool

    def same_place(self, names: Iterable[str]) -> bool:
        """Say whether places are what they were."""
        return self.places.isdisjoint(names)

    def same_doses(self, source: Source) -> bool:
        """Say whether as much of a source goes on; what several ways share may go by their prices too."""
        of = self.bringing if len(source.names) == 1 or source.weight_of else self.costing
        return of.isdisjoint(source.names)

    def same_cost(self, names: Iterable[str]) -> bool:
        """Say whether ways cost what they did."""
        return not self.terms and self.costing.isdisjoint(names)


def differences(before: Site, site: Site) -> Differences | None:
    """Return what differs of two sites; None where so much does that nothing can be taken over."""
    same = all(
        getattr(before, field.name) == getattr(site, field.name)
        for field in fields(Site)
        if field.name not in MAY_DIFFER
    )
    if not same or (before.limits.lift, before.limits.by) != (site.limits.lift, site.limits.by):
        return None
    places = _unlike({of.name: of for of in before.places}, {of.name: of for of in site.places})
    were, are = {way.name: way for way in before.ways}, {way.name: way for way in site.ways}
    moved = {way.name for way in (*before.ways, *site.ways) if way.stands_on in places}
    costing = _with_those_on_them(moved | _unlike(were, are), site.ways)
    bringing = {name for name in costing if name in moved or not _brings_as(were.get(name), are.get(name))}
    return Differences(
        places=places,
        costing=costing,
        bringing=frozenset(bringing),
        terms=before.labour != site.labour or before.limits != site.limits,
    )


def _unlike(before: Mapping[str, Any], now: Mapping[str, Any]) -> frozenset[str]:
    """Return the names of what is another, or is there only once."""
    return frozenset(name for name in {**before, **now} if before.get(name) != now.get(name))


def _brings_as(before: Way | None, now: Way | None) -> bool:
    """Say whether a way brings what it did; what is made of others is taken for another with them."""
    return before is not None and now is not None and not now.draws_from and now.brings_as(before)


def _with_those_on_them(names: set[str] | frozenset[str], ways: Iterable[Way]) -> frozenset[str]:
    """Return names of ways with those that draw on them, and on those."""
    every = set(names)
    while more := {way.name for way in ways if way.name not in every and way.draws_from & every}:
        every |= more
    return frozenset(every)
