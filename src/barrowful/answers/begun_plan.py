"""What the history has done since the start of that which is planned: it is of that, and counts once."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from math import inf

from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.catalogue.suits import why_unsuited
from barrowful.needs.cover import Covering
from barrowful.needs.doses import DUST
from barrowful.needs.dress import Dressing
from barrowful.needs.fill import Filling
from barrowful.needs.registry import NEEDS
from barrowful.site.job_names import JOINT, base_of, number_of
from barrowful.site.records import HistoryEntry, PlanLine, Site
from barrowful.soil.application import Application
from barrowful.soil.history import did_fill, was_dug
from barrowful.soil.seasons import season_of

#: Kinds of need that do not count what was put on since the start; what covers counts if it lay there then.
NOT_COUNTED = frozenset({Filling.kind, Dressing.kind, Covering.kind})


@dataclass
class Planned:
    """What is planned for a need of a place, and how much of it [m3] the history has not done yet."""

    need: str
    way: str
    stuff: str
    day: date
    lacks: float  #: without end where what is needed goes on


def begun(site: Site) -> Site:
    """Return a site whose history has since the start only what counts beside its plan, or for its needs."""
    return with_plan_begun(site) if site.plan else with_needs_begun(site)


def with_plan_begun(site: Site) -> Site:
    """Return a site whose history has since the start what is of no line of its plan: lines stand whole."""
    planned: dict[str, list[Planned]] = defaultdict(list)
    stuffs = {way.name: way.material for way in site.ways}
    for line in site.plan:
        lacks = _loose(line, stuffs[line.way].get("density"))
        stuff, day = stuffs[line.way].name, line.day or site.start
        planned[line.place].append(Planned(line.need, line.way, stuff, day, lacks))
    return _beside(site, planned)


def with_needs_begun(site: Site) -> Site:
    """Return a site whose history has since the start only what counts for its needs.

    Lime, a raise and a feed count it. A fill, a dressing and a cover are planned whole once more, and what
    was put on for them is of that.
    """
    again = {id(entry) for entry in put_on_since(site) if _is_planned_again(entry, site)}
    if not again:
        return site
    return replace(site, history=tuple(entry for entry in site.history if id(entry) not in again))


def with_what_nothing_replaces(begun: Site, site: Site, doses: Iterable[Application]) -> Site:
    """Return a site that is begun, with what was put on for a need that none of the doses is for again."""
    planned = {dose.place.name for dose in doses if dose.kind in NOT_COUNTED}
    there = {id(entry) for entry in begun.history}
    added = [of for of in site.history if id(of) not in there and of.place not in planned]
    if not added:
        return begun
    history = sorted((*begun.history, *added), key=lambda entry: entry.day)
    return replace(begun, history=tuple(history))


def _is_planned_again(entry: HistoryEntry, site: Site) -> bool:
    """Say whether an entry was for a need of its place that counts only what was there on the start."""
    place, stuff = site.place(entry.place), entry.material
    if stuff is None:
        return False
    named = next((need.kind for need in place.needs if _names(entry, need.kind, entry.way)), "")
    if named:
        return named in NOT_COUNTED
    if was_dug(entry.dug, stuff, place):
        return place.need(Dressing.kind) is not None and not {"raise", "lime"} & place.asked
    fed = bool({"feed", "lime"} & place.asked) and stuff.sort.as_sold
    covers = entry.day > site.start and not why_unsuited(stuff, Covering.kind, place.kind, False)
    if Covering.kind in place.asked and covers:
        return not fed
    return did_fill(entry, place, site.start) or (Dressing.kind in place.asked and not fed)


def before_start(site: Site) -> Site:
    """Return a site as it was before its start, on which a plan and a season are decided whole."""
    before = tuple(entry for entry in site.history if entry.day < site.start)
    return site if before == site.history else replace(site, history=before)


def put_on_since(site: Site) -> list[HistoryEntry]:
    """Return the entries of the history that put something on a place since the start."""
    return [
        entry
        for entry in site.history
        if entry.day >= site.start and entry.place and entry.material is not None and entry.loose > 0
    ]


def _loose(line: PlanLine, density: float | None) -> float:
    """Return what a line puts on [m3]; without end where it says no amount."""
    return inf if line.amount is None else line.amount.loose(density or 1.0)


def _beside(site: Site, planned: Mapping[str, Sequence[Planned]]) -> Site:
    """Return a site without what its history has put on of what is planned, by place.

    What is more than was planned stays in it, where that is more than the eye sees.
    """
    left: dict[int, float] = {}
    for entry in sorted(put_on_since(site), key=lambda entry: number_of(entry.job) == 0):
        rest = entry.loose
        for own in sorted(planned.get(entry.place, ()), key=lambda own: own.day):
            if _is_of(entry, own, site):
                part = min(rest, own.lacks)
                own.lacks, rest = own.lacks - part, rest - part
        if rest < entry.loose:
            seen = rest > max(DUST, (1 - judgement("as_good_as_done")) * entry.loose)
            left[id(entry)] = rest if seen else 0.0
    if not left:
        return site
    history = (replace(entry, loose=left.get(id(entry), entry.loose)) for entry in site.history)
    kept = (new for new, entry in zip(history, site.history, strict=True) if left.get(id(entry), 1.0) > 0)
    return replace(site, history=tuple(kept))


def _names(entry: HistoryEntry, need: str, way: str) -> bool:
    """Say whether an entry names a job of a season for a need, by a way."""
    return number_of(entry.job) > 0 and base_of(entry.job).endswith(JOINT.join(("", need, way)))


def _is_of(entry: HistoryEntry, own: Planned, site: Site) -> bool:
    """Say whether what an entry put on a place is of what is planned for it: by way or stuff, name and day.

    As in a season, it is of nothing that begins long after it, nor of a feed whose season is over.
    """
    stuff = entry.material.name if entry.material else ""
    if entry.way != own.way if entry.way else stuff != own.stuff:
        return False
    if number_of(entry.job) and not _names(entry, own.need, own.way):
        return False
    over = NEEDS[own.need].by_season and season_of(site, entry.day) > season_of(site, own.day)
    return not over and own.day - entry.day <= judged_time("done_early")
