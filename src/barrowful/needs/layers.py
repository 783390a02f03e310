"""The mulch on a place, day by day: what lies there, what is put on, and how deep it still is."""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterable, Sequence
from datetime import date

from barrowful.catalogue.materials import Material
from barrowful.ground import amount, decay
from barrowful.measures.dates import DAYS_PER_YEAR
from barrowful.measures.elementwise import per
from barrowful.needs.doses import SLACK_SHARE
from barrowful.site.needs import Cover
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import done
from barrowful.soil.response import Response, response_of

#: What a cover may fall short of its depth, as a share, and still has it.
MET = 1e-6


def settled_depth(need: Cover, material: Material) -> float:
    """Return the depth [m] a cover is to have once it has settled."""
    return need.depth if need.settled else material.settled_depth(need.depth)


def on_top(site: Site, material: Material) -> Response:
    """Return what a material becomes on top, where the soil under it makes no difference to it."""
    return response_of(material, site.climate, site.soil, False)


def is_laid(need: Cover, share: float) -> bool:
    """Say whether so much of the depth a cover is to have lies there that it is only to be kept up.

    >>> from barrowful.site.needs import Cover
    >>> cover = Cover(depth=0.08, settled=True, keep=0.6, allowance=0.0)
    >>> is_laid(cover, 0.7), is_laid(cover, 0.5)
    (True, False)
    """
    return share >= need.keep * (1 - MET) and share > 0


def covers(dose: Application) -> bool:
    """Say whether a dose lies on top and covers, for whatever need it is put on."""
    return not dose.dug and dose.kind != "fill" and not dose.material.lacks("lasts")


def share_of_depth(site: Site, need: Cover, dose: Application) -> float:
    """Return the share of the depth a cover is to have that a dose makes when it is put on."""
    return dose.depth(site, dose.day) / (settled_depth(need, dose.material) or 1.0)


class Covered:
    """What covers a place, as a share of the depth it is to have, by day number.

    What was stated goes as the first stuff put on for it, else for any need, for nobody knows what it is.
    """

    def __init__(self, site: Site, place: Place, need: Cover, lying: Sequence[Application]) -> None:
        own = [dose for dose in lying if dose.decided]
        first = min(lying, key=lambda dose: (not dose.decided, dose.kind != need.kind, dose.day)).material
        self.layers = Layers(site, place, (), first, need=need)
        self.stated = settled_depth(need, first)
        self.parts = [(dose.number, share_of_depth(site, need, dose), dose.response(site)) for dose in own]
        self.days = sorted({site.start.toordinal(), *(day for day, _, _ in self.parts)})
        self.eve = site.eve.toordinal()

    def before(self, day: int) -> float:
        """Return the share of its depth that lies on a day of what was there already."""
        return self.layers.on(day) / self.stated if self.stated else 1.0

    def on(self, day: int) -> float:
        """Return the share of its depth that lies on a day."""
        return self.before(day) + sum(
            share * of.depth[day - since] for since, share, of in self.parts if since <= day
        )

    def falls(self, since: int, keep: float) -> int | None:
        """Return the first day from one on, before the last, on which less than is kept lies, or None."""
        least = keep * (1 - MET)
        begins = [day for day in self.days if day >= since]
        for begin, end in zip(begins, [*begins[1:], self.eve + 1], strict=True):
            span = range(begin, max(begin, min(end, self.eve + 1)))  # nothing is put on in it: it only falls
            if span and self.on(span[-1]) < least:
                return span[bisect_left(span, True, key=lambda day: self.on(day) < least)]
        return None


class Layers:
    """The mulch on a place, old and new: what was stated, logged, settled for other needs, and put on.

    Each part is its half-life [years], the day number it is told of, and its settled depth [m] then. What
    was stated goes as the stuff it is covered with, for nobody knows what it is. For a ``need`` told as
    spread other stuff lies as deep as so much of the depth wanted does of this stuff.
    """

    def __init__(
        self,
        site: Site,
        place: Place,
        doses: Iterable[Application],
        stuff: Material,
        past: Iterable[Application] | None = None,
        need: Cover | None = None,
    ) -> None:
        self.site, self.stuff, self.area = site, stuff, place.total_area
        self.last, self.put_on = site.start, list[tuple[int, float]]()
        self._half = on_top(site, stuff).half
        self._own: tuple[int, float] | None = None
        past = done(site, place) if past is None else past
        logged = [dose for dose in past if dose.day >= site.start or place.layer_now == 0]
        self._others = [
            (dose.response(site).half, dose.number, dose.depth(site, dose.day) * _as_deep(need, stuff, dose))
            for dose in (*logged, *doses)
            if covers(dose)
        ]
        if place.layer_now:
            self._others.append((self._half, site.start.toordinal(), place.layer_now))

    def put(self, dose: Application) -> None:
        """Put on a dose of the stuff, no earlier than the last."""
        lies = self._left(self._half, *self._own, dose.number) if self._own else 0.0
        self._own = dose.number, lies + dose.depth(self.site, dose.day)
        self.put_on.append((dose.number, amount.depth(dose.loose, self.area)))
        self.last = max(self.last, dose.day)

    def on(self, day: int) -> float:
        """Return the settled depth [m] that lies on a day."""
        own = self._left(self._half, *self._own, day) if self._own else 0.0
        return own + sum(self._left(*part, day) for part in self._others)

    @staticmethod
    def _left(half: float, since: int, depth: float, day: int) -> float:
        if day < since:
            return 0.0
        left: float = decay.depth_left(half, (day - since) / DAYS_PER_YEAR)
        return depth * left

    def falls_to(self, depth: float, since: date, until: date) -> date | None:
        """Return the first day after one, up to another, on which no more than a depth [m] lies, or None."""
        first, last, least = since.toordinal() + 1, until.toordinal(), depth * (1 + SLACK_SHARE)
        if math.isinf(self._half):
            return None
        if first > last or self.on(last) > least:
            return None
        if not self._others:
            left = decay.years_to_top_up(self._half, min(1.0, least / max(self.on(first - 1), least)))
            near = first - 1 + math.floor(left * DAYS_PER_YEAR)
            return date.fromordinal(
                next(day for day in range(max(first, near), last + 1) if self.on(day) <= least)
            )
        days = range(first, last + 1)
        return date.fromordinal(days[bisect_left(days, True, key=lambda day: self.on(day) <= least)])


def _as_deep(need: Cover | None, stuff: Material, dose: Application) -> float:
    """Return how deep a stuff lies where a dose of another lies 1 m deep, to be as much of a cover."""
    return per(settled_depth(need, stuff), settled_depth(need, dose.material), 1.0) if need else 1.0


def stays(site: Site, place: Place, need: Cover, stuff: Material) -> bool:
    """Say whether what lies on a place, taken for a stuff, is a cover that needs nothing to the end."""
    layers, depth = Layers(site, place, (), stuff, need=need), settled_depth(need, stuff)
    laid = depth > 0 and is_laid(need, layers.on(site.start.toordinal()) / depth)
    return laid and layers.falls_to(need.keep * depth, site.start, site.eve) is None
