"""Doses of one place: what goes on at once, in how many parts, and on how much of the ground."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from barrowful.ground import amount
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.nitrogen import Lying, first_season
from barrowful.supplies.supply import Supply

#: What rounding may leave over, as a share and in m3.
SLACK_SHARE, DUST = 1e-9, 1e-9


def dose_for(
    place: Place, need: Need, supply: Supply[Any], day: date, loose: float, share: float = 1.0
) -> Application:
    """Return the dose that brings a need a loose volume [m3] on a day, to a share of the ground."""
    return Application(
        place=place,
        day=day,
        material=supply.material,
        loose=loose,
        dug=need.dug,
        need=need,
        way=supply.way.name,
        share=share,
    )


def doses_for(
    place: Place,
    need: Need,
    supply: Supply[Any],
    parts: Sequence[tuple[date, float]],
    wanted: float,
    at_once: float,
) -> list[Application]:
    """Return the doses of one need by day [m3], each with the share of the ground that gets it."""
    shares = ground_shares([loose for _, loose in parts], wanted, at_once)
    return [
        dose_for(place, need, supply, day, loose, share)
        for (day, loose), share in zip(parts, shares, strict=True)
    ]


def ground_shares(parts: Sequence[float], wanted: float, at_once: float) -> list[float]:
    """Return the share of the ground that each part [m3] of what is wanted goes on.

    It is all of it, as often as an application may bring no more than ``at_once``. Where there is less
    than is wanted, or it comes in more parts than that, each goes as deep as it is meant to and as far
    as it reaches.

    >>> ground_shares([5.0, 5.0, 2.0], 12.0, 5.0), ground_shares([4.0, 4.0, 2.0], 10.0, 10.0)
    ([1.0, 1.0, 1.0], [0.4, 0.4, 0.2])
    >>> ground_shares([4.0], 10.0, 10.0)
    [0.4]
    """
    given = sum(parts)
    enough = given >= wanted * (1 - SLACK_SHARE)
    if enough and (not parts or len(parts) <= math.ceil(given / at_once - SLACK_SHARE)):
        return [1.0] * len(parts)
    return [min(1.0, part / at_once) for part in parts]


def to_depth(place: Place, depth: float | None) -> float | None:
    """Return the volume [m3] of a place, all of its count, to a stated depth [m]; None where none is."""
    return None if depth is None else amount.volume(place.total_area, depth)


def most_at_once(place: Place, need: Need, otherwise: float = math.inf) -> float:
    """Return the most loose material [m3] for one application; ``otherwise`` is a depth [m]."""
    deepest = otherwise if need.most_per_application is None else need.most_per_application
    return amount.with_allowance(amount.volume(place.total_area, deepest), need.allowance)


@dataclass(eq=False)
class Taken:
    """Parts [m3] taken of lots by day, what is lacking [m3], and the ceiling that stopped it, if one did."""

    lacking: float
    by_day: list[tuple[date, float]] = field(default_factory=list)
    ceiling: str = ""
    again: int | None = None  #: day number from which the ceiling leaves more room

    @property
    def given(self) -> float:
        """Return what was taken in all [m3]."""
        return sum(loose for _, loose in self.by_day)

    def last_day(self, otherwise: date) -> date:
        """Return the day the last part is put on; another where nothing is."""
        return max((day for day, _ in self.by_day), default=otherwise)

    def add(self, day: date, loose: float) -> None:
        """Add a part; two of one day are one."""
        self.lacking = max(0.0, self.lacking - loose)
        before = self.by_day.pop()[1] if self.by_day and self.by_day[-1][0] == day else 0.0
        self.by_day.append((day, before + loose))


def last_of(site: Site, doses: Iterable[Application]) -> date:
    """Return the day of the last of some doses; the start where there are none."""
    return max((dose.day for dose in doses), default=site.start)


def nitrogen_of(dose: Application) -> float:
    """Return the nitrogen [kg] that plants can use of a dose in its season; as if put on in spring."""
    lying = Lying(dose.dug, dose.place.soil.is_sandy)
    return dose.material.dry_mass(dose.loose) * first_season(dose.material, lying).per_dry
