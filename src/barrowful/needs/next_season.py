"""What becomes of needs when the next season begins: what is done goes, what is done in part is less."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from barrowful.catalogue.judgements import judged_time, judgement
from barrowful.measures.dates import years_between
from barrowful.measures.telling import of_count
from barrowful.measures.text import in_figures
from barrowful.needs.ceilings import NO_CEILING, unsuited
from barrowful.needs.dress import Dressing
from barrowful.needs.feed import Feeding
from barrowful.needs.fill import Filling
from barrowful.needs.kind import NeedKind
from barrowful.needs.lime import Liming
from barrowful.needs.raise_task import task_of
from barrowful.needs.raising import Raising
from barrowful.needs.registry import NEEDS
from barrowful.site.carried import AS_IT_IS, DIGITS, Carried
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import base, done, still_counted
from barrowful.supplies.lot import YEAR


def carried_on(old: Site, new: Site, place: Place, kind: str) -> Carried:
    """Return what becomes of a need of a place: ``new`` is the site from the next season's start on.

    A kind of which nothing is said here stays as it is, as a cover that is to be kept up.
    """
    carry = _CARRY.get(kind)
    return AS_IT_IS if carry is None else carry(old, new, place)


def since_start(site: Site, place: Place) -> list[Application]:
    """Return what was put on a place in the season that is over."""
    return [dose for dose in done(site, place) if dose.day >= site.start]


def _dress(old: Site, new: Site, place: Place) -> Carried:
    kind = NEEDS[Dressing.kind]
    need, wanted = kind.of(place), 0.0
    for dose in since_start(old, place):
        known = dose.dug == need.dug and not dose.material.lacks(*kind.figures)
        counts = known and not unsuited(place, need, dose.material)
        if counts and not (dose.material.sort.as_sold and kind.volume(place) is not None):
            wanted += dose.loose / kind.bare_loose(old, place, dose.material)
    return _less(kind, place, wanted, {"depth": ("cm", 100.0), "dose": ("kg/m2", 1.0)})


def _fill(old: Site, new: Site, place: Place) -> Carried:
    kind, filled = NEEDS[Filling.kind], 0.0
    need = kind.of(place)
    for dose in since_start(old, place):
        if not unsuited(place, need, dose.material):
            filled += dose.loose / kind.bare_loose(old, place, dose.material)
    return _less(kind, place, filled, {"depth": ("cm", 100.0), "volume": ("m3", 1.0)})


def _less(kind: NeedKind[Any], place: Place, share: float, keys: dict[str, tuple[str, float]]) -> Carried:
    """Return a need of which a share is done: gone where that is as good as all, else what is left.

    Which of several places had theirs is not known: what is left is asked of all.
    """
    need = kind.of(place)
    told = f"{place.name}: {share:.0%} of the {need.kind} was put on{of_count(share, place.count)}"
    if share >= judgement("as_good_as_done"):
        return _gone(share, told)
    if share <= 0:
        return AS_IT_IS
    left = {
        key: f"{in_figures(times * (1 - share) * getattr(need, key), DIGITS)} {unit}"
        for key, (unit, times) in keys.items()
        if getattr(need, key) is not None
    }
    told += "; what is left of it stands in the new file"
    if place.count > 1:
        told += f", asked of all {place.count}: give those that had none a place of their own"
    return Carried(keys=left, told=told)


def _gone(share: float, told: str) -> Carried:
    """Return that a need goes of which a share is done, with what is told of it where that is not all."""
    is_all = share >= 1 or f"{share:.0%}" == "100%"
    return Carried(gone=True, told="" if is_all else f"{told}; that is taken as all of it, and it goes")


def _raise(old: Site, new: Site, place: Place) -> Carried:
    """Return a raise with the day it is due; one that was held to its end goes."""
    need, start = NEEDS[Raising.kind].of(place), new.start
    dug = [dose for dose in since_start(old, place) if dose.dug]
    if need.by is None and not dug:
        return AS_IT_IS
    due = need.by or YEAR.after(min(dose.day for dose in dug))
    last = need.hold.after(due)
    if start < due:
        return AS_IT_IS if need.by else Carried(keys={"by": due.isoformat()})
    tomorrow = start + timedelta(days=1)
    gained = _gained(new, place, min(tomorrow, last))
    if start < last and max(gained, _gained(new, place, due)) >= 1:
        kept = gained >= 1 and _gained(new, place, last) >= 1
        by = tomorrow if kept else min(last, start + judged_time("job_waits"))  # what is wanted has to come
        keys = {"by": by.isoformat(), "hold": f"{(last - by).days} days"}
        told = (
            f"{place.name}: the raise is reached; to be held to {last} it says by: {by}, hold: {keys['hold']}"
        )
        return Carried(keys=keys, told=told)
    if gained >= judgement("as_good_as_done") and start >= last:
        return _gone(gained, f"{place.name}: {gained:.0%} of the raise is there")
    told = (
        f"{place.name}: {gained:.0%} of the raise is there, due on {due}; give it a new day, or leave it out"
    )
    return Carried(keys={"by": None}, told=told)


def _gained(site: Site, place: Place, day: date) -> float:
    """Return the share of a raise, from the last soil test to its target, that was there on a day."""
    need, dug = NEEDS[Raising.kind].of(place), still_counted(site, place)
    if not dug:
        return float(base(site, place, site.start).matter >= need.organic_matter)
    task = task_of(site, place, need, dug[0].material, NO_CEILING)
    there = task.matter([], day.toordinal())
    return 1.0 if task.holds([], day.toordinal()) else (there - task.start) / (task.target - task.start)


def _feed(old: Site, new: Site, place: Place) -> Carried:
    """Return the feed of a tree with its age on the new start; a trunk is to be measured."""
    need = NEEDS[Feeding.kind].of(place)
    told = f"{place.name}: the trunk may be thicker by now; measure it" if need.trunk is not None else ""
    if need.age is None:
        return Carried(told=told)
    age = need.age + years_between(old.start, new.start)
    return Carried(keys={"age": f"{round(age, 1):g} years"}, told=told)


def _lime(old: Site, new: Site, place: Place) -> Carried:
    """Return that a lime that was put on goes: how far the pH rose a test has to tell."""
    if Liming().share_done(new, place) < judgement("as_good_as_done"):
        return AS_IT_IS
    return Carried(gone=True, told=f"{place.name}: limed as asked for; test its pH, and write it under soil")


#: What becomes of each kind of need of which something does.
_CARRY: dict[str, Callable[[Site, Site, Place], Carried]] = {
    Dressing.kind: _dress,
    Liming.kind: _lime,
    Filling.kind: _fill,
    Raising.kind: _raise,
    Feeding.kind: _feed,
}
