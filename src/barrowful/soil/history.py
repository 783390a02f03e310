"""What was really done, replayed: mulch that lies there, organic matter still in the soil, nitrogen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, timedelta
from typing import NamedTuple

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.catalogue.suits import why_unsuited
from barrowful.measures.dates import years_between
from barrowful.site.job_names import is_fill, number_of
from barrowful.site.records import HistoryEntry, Place, Site
from barrowful.soil.application import Application
from barrowful.soil.present import Kept, present_kept

FOLLOWED = ("density", "moisture", "carbon", "decay", "humus")


def done(site: Site, place: Place) -> list[Application]:
    """Return what the history says was put on a place, oldest first."""
    return [
        Application(
            place=place,
            day=entry.day,
            material=entry.material,
            loose=entry.loose,
            dug=not fills and was_dug(entry.dug, entry.material, place),
            fills=fills,
            typed="weight" if entry.weighed else "volume",
        )
        for entry in site.done_on(place.name)
        for fills in (did_fill(entry, place, site.start),)
        if entry.material is not None and entry.loose > 0 and not entry.material.lacks("density", "moisture")
    ]


def as_done(site: Site, doses: Iterable[Application]) -> Site:
    """Return a site on whose places doses were put already: what is worked out on it is beside them."""
    entries = (
        HistoryEntry(
            day=dose.day,
            place=dose.place.name,
            material=dose.material,
            loose=dose.loose,
            dug=dose.dug,
            job=dose.kind if is_fill(dose.kind) else "",
        )
        for dose in doses
    )
    return replace(site, history=tuple(sorted((*site.history, *entries), key=lambda entry: entry.day)))


def followed(doses: Iterable[Application]) -> list[Application]:
    """Return those of some doses whose carbon can be followed; what fills is the ground itself."""
    return [dose for dose in doses if dose.kind != "fill" and not dose.material.lacks(*FOLLOWED)]


def did_fill(entry: HistoryEntry, place: Place, start: date) -> bool:
    """Return whether what an entry put on a place filled it: its job says so, or the place is to be filled.

    By its need only what was put on since a start did, of stuff that may fill: not what the name of another
    job tells of, and not what was dug in.
    """
    stuff, told = entry.material, number_of(entry.job) > 0 or entry.dug
    if is_fill(entry.job) or stuff is None or told or place.need("fill") is None or entry.day < start:
        return is_fill(entry.job)
    return "suits" in place.limits.lift or not why_unsuited(stuff, "fill", place.kind, False)


def was_dug(stated: bool | None, material: Material, place: Place) -> bool:
    """Return whether it was dug in: as stated, else finished stuff was where a need digs it in."""
    if stated is not None:
        return stated
    dress = place.need("dress")
    return material.finished and (place.need("raise") is not None or (dress is not None and dress.dug))


class Base(NamedTuple):
    """The last soil test: organic matter [share] and its day."""

    matter: float | None  #: None where it is not known; there may be none
    day: date | None


def base(site: Site, place: Place, until: date) -> Base:
    """Return the last test of a place up to a day; without a date the soil section is as of the start."""
    found = Base(place.soil.organic_matter, place.soil.tested)
    for one in site.done_on(place.name):
        tested = one.tested is not None and one.day <= until
        if tested and (found.day is None or one.day >= found.day):
            found = Base(one.tested, one.day)
    return found


def kept_since(site: Site, place: Place, known: Base, day: date) -> Kept:
    """Return the share of the humus of a soil test that is left on a day, as the ground is managed."""
    return present_kept(site.climate, place.soil, years_between(known.day or site.start, day))


def still_counted(site: Site, place: Place, past: Iterable[Application] | None = None) -> list[Application]:
    """Return the past applications a soil test has not seen yet: those dug in after it.

    Without a dated test the soil section is taken to hold for the start; it has seen all before it. The past
    is what the history says, where none is given.
    """
    tested = base(site, place, site.start).day or site.start - timedelta(days=1)
    past = done(site, place) if past is None else past
    return [dose for dose in followed(past) if dose.dug and dose.day > tested]


def layer(site: Site, place: Place) -> float:
    """Return the mulch lying on a place [m] at the start; a stated layer stands for all before it."""
    past = (dose for dose in done(site, place) if dose.kind != "fill")
    there = [dose for dose in past if dose.day == site.start or place.layer_now == 0]
    return place.layer_now + sum(dose.depth(site, site.start) for dose in there)


def net_nitrogen(site: Site, doses: Iterable[Application], season: int) -> float:
    """Return the nitrogen [kg] plants can use in a growing season of all doses put on by its end.

    What woody and strawy ones tie up is taken off: it may come to less than nothing.
    """
    return sum(dose.nitrogen(site, season) for dose in doses)


def followed_depth(place: Place) -> float:
    """Return the soil depth organic matter is followed in [m]: the raise need's, else the usual."""
    need = place.need("raise")
    depth = getattr(need, "depth", None)
    return rate("sampled_depth") if depth is None else float(depth)
