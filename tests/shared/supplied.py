"""What needs are tried with: supplies that bring what they are told to, and a meal whose figures make round sums."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.site.records import Site
from barrowful.supplies.lot import Lot
from barrowful.supplies.registry import supplies
from barrowful.supplies.supply import Cost, Supply

#: As sold 10 % nitrogen, all of it in its first season and none later, and phosphorus and potassium for any
#: crop; with the 600 kg/m3 of the dark stuff 60 kg of nitrogen in each m3.
MEAL = {
    "class": "fertiliser",
    "moisture": "0 %",
    "nitrogen": "10 %",
    "phosphorus": "5 %",
    "potassium": "30 %",
    "available_nitrogen": "100 %",
}


class Lots(Supply[Any]):
    """A supply that brings what it is told to, of what the first way of a site brings."""

    def __init__(self, site: Site, given: Sequence[Lot], keeps: bool = True) -> None:
        first = next(iter(supplies(site).values()))
        self.site, self.way, self.material = site, first.way, first.material
        self.given, self.keeps = given, keeps

    def lots(self, until: date) -> list[Lot]:
        return [lot for lot in self.given if lot.day <= until]

    def cost(self, draws: Mapping[date, float]) -> Cost:
        return Cost()


def most_of(least: float, doses: Sequence[float]) -> float:
    """Return the most that doses may come to: the least, or a twentieth more to do without any under a fiftieth."""
    small = any(loose < 0.02 * sum(doses) * (1 - 1e-9) for loose in doses)
    return least * (1 + 1e-5) if small else least * 1.05 * (1 + 1e-5)
