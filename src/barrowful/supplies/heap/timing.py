"""How a heap is looked after, and how long it then takes: published ranges, shifted by conditions."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from barrowful.catalogue.figures import Figure
from barrowful.site.ways import Make
from barrowful.supplies.heap.recipe import Recipe

#: A bay filled to this share counts as full.
FULL = 0.99
#: Turned at least this often [years] a heap counts as turned often, or as turned.
OFTEN, TURNED = 4.5 / 365.25, 36 / 365.25


def care_of(way: Make, volume: float, figures: Mapping[str, Figure]) -> str:
    """Return the class of care: unturned, turned or often; a small heap counts as unturned."""
    if way.turn_every is None or volume < figures["hot_volume"].low * (1 - 1e-6):
        return "unturned"
    if way.turn_every.years <= OFTEN:
        return "often"
    return "turned" if way.turn_every.years <= TURNED else "unturned"


def time_to_compost(
    recipe: Recipe, way: Make, warm: bool, figures: Mapping[str, Figure]
) -> tuple[float, float, float]:
    """Return low, likely and high years from building to compost, curing included.

    The likely time lies at a quarter of its class's range when all five conditions are favourable
    (C:N 25-35, moisture 50-60 %, pieces under 5 cm, at least 1 m3, built in the warm half of the
    year), at three quarters when none is. The shift is this project's judgement.
    """
    span = figures[care_of(way, recipe.volume, figures)]
    favourable = (
        24.9 <= recipe.cn <= 35.1,
        0.499 <= recipe.moisture <= 0.601,
        way.chopped,
        recipe.volume >= FULL,
        warm,
    )
    position = 0.75 - 0.1 * sum(favourable)
    return span.low, span.low + position * (span.high - span.low), span.high


def is_warm(day: date, hemisphere: str) -> bool:
    """Say whether a heap built on a day works in the warm half of the year."""
    return (day.month in range(3, 9)) == (hemisphere == "north")
