"""What becomes of the needs of places when a new season begins."""

from __future__ import annotations

from barrowful.needs.carrying import DIGITS as DIGITS
from barrowful.needs.registry import NEEDS
from barrowful.site.carried import Carried
from barrowful.site.records import Place, Site


def carried_on(old: Site, new: Site, place: Place, kind: str) -> Carried:
    """Return what becomes of a need of a place: ``new`` is the site from the next season's start on."""
    return NEEDS[kind].carried_on(old, new, place)
