"""Whether a raise is met already, with nothing more dug in."""

from __future__ import annotations

from barrowful.catalogue.materials import material
from barrowful.needs.ceilings import NO_CEILING
from barrowful.needs.raise_search import months_between
from barrowful.needs.raise_task import task_of
from barrowful.site.needs import Raise
from barrowful.site.records import Place, Site

#: Stuff of the catalogue that a task is told with: what is missing is the same whatever would be dug in.
ANY = "green compost"


def there_already(site: Site, place: Place, need: Raise) -> bool:
    """Say whether the target is there from its day on, or the start, as long as it is to be held."""
    stuff, due = material(ANY), (need.by or site.start).toordinal()
    assert stuff is not None, f"the catalogue has {ANY}"
    task = task_of(site, place, need, stuff, NO_CEILING)
    last = task.held_to(due)
    return all(task.missing(day) <= 0 for day in (due, *months_between(due, last), last))
