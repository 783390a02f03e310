"""How a heap is looked after, and how long it then takes: published ranges, shifted by conditions."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judged_months, judgement, judgement_figure
from barrowful.site.ways import Make
from barrowful.supplies.heap.recipe import Recipe

#: What rounding may take from a C:N or a share of moisture that was aimed at the edge of a range.
SLACK_CN, SLACK_SHARE = 0.1, 0.001
#: How a heap is looked after that is not turned, or gains nothing by it.
UNTURNED = "unturned"


def care_of(way: Make, volume: float, figures: Mapping[str, Figure]) -> str:
    """Return the class of care: unturned, turned or often; a small heap counts as unturned."""
    if way.turn_every is None or volume < figures["hot_volume"].low * (1 - 1e-6):
        return UNTURNED
    if way.turn_every.years <= judgement("turned_often"):
        return "often"
    return "turned" if way.turn_every.years <= judgement("turned_at_all") else UNTURNED


def time_to_compost(
    recipe: Recipe, way: Make, warm: bool, figures: Mapping[str, Figure]
) -> tuple[float, float, float]:
    """Return low, likely and high years from building to compost, curing included.

    The likely time lies late in its class's range when no condition is favourable (C:N and moisture
    that heat well, small pieces, a full heap, built in the warm half of the year), and earlier for
    each that is.
    """
    span = figures[care_of(way, recipe.volume, figures)]
    cn, moisture = judgement_figure("heating_cn"), judgement_figure("heating_moisture")
    favourable = (
        cn.low - SLACK_CN <= recipe.cn <= cn.high + SLACK_CN,
        moisture.low - SLACK_SHARE <= recipe.moisture <= moisture.high + SLACK_SHARE,
        way.chopped,
        recipe.volume >= figures["hot_volume"].high * judgement("full_bay"),
        warm,
    )
    position = judgement("place_in_range") - judgement("each_condition") * sum(favourable)
    return span.low, span.low + position * (span.high - span.low), span.high


def is_warm(day: date, hemisphere: str) -> bool:
    """Say whether a heap built on a day works in the warm half of the year."""
    return day.month in judged_months("warm_half_from", "warm_half_to", hemisphere)
