"""The one table of what a dose becomes: by the days since for what lies there, by seasons for nitrogen."""

from __future__ import annotations

import math
from functools import cached_property

from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import kept_by_rates
from barrowful.ground import decay
from barrowful.site.records import Climate, Soil
from barrowful.soil.fading import ByDays
from barrowful.soil.nitrogen import Available, Lying, season
from barrowful.soil.turnover import Range, fresh_factor, turnovers_of


class Response:
    """What a dose of a material becomes in a manner, a soil and a climate, for each of what is put on.

    Each entry is worked out when it is first asked for and kept for all who ask; see :func:`response_of`.
    """

    def __init__(self, material: Material, climate: Climate, soil: Soil, dug: bool) -> None:
        self.material, self.climate, self.soil, self.dug = material, climate, soil, dug
        self._nitrogen: dict[tuple[int, str], Available] = {}

    @cached_property
    def turnovers(self) -> Range:
        """Return how its carbon goes: low, likely and high."""
        return turnovers_of(self.material, self.climate, self.soil, self.dug)

    @cached_property
    def humus(self) -> ByDays:
        """Return the humus for each carbon, by days."""
        return ByDays(self.turnovers.likely.forming.at)

    @cached_property
    def half(self) -> float:
        """Return the time in which its settled depth halves [years]: the figure is for 15 degC, moist."""
        factor = fresh_factor(self.climate)
        return self.material["lasts"] / factor if factor > 0 else math.inf

    @cached_property
    def depth(self) -> ByDays:
        """Return the share of its settled depth left, by days; nothing is seen of what is dug in."""
        return ByDays(lambda years: 0.0 if self.dug else decay.depth_left(self.half, years))

    def nitrogen(self, number: int, time: str = "spring") -> Available:
        """Return the nitrogen plants can use in its first (1), second (2) or a later season.

        ``time`` is the time of year it is put on: autumn, winter or spring.
        """
        if (number, time) not in self._nitrogen:
            lying = Lying(self.dug, self.soil.is_sandy, time)
            self._nitrogen[number, time] = season(self.material, lying, number)
        return self._nitrogen[number, time]


@kept_by_rates(4096)
def _of_clay(material: Material, climate: Climate, clay: float | None, dug: bool) -> Response:
    return Response(material, climate, Soil(clay=clay), dug)


def response_of(material: Material, climate: Climate, soil: Soil, dug: bool) -> Response:
    """Return what a dose of a material becomes; of the soil its clay decides, so equal ground shares it."""
    return _of_clay(material, climate, soil.clay, dug)
