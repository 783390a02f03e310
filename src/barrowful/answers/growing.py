"""What is grown: from cuttings to a full stand, and each cover crop's first term."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date
from typing import Any, NamedTuple

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.measures.telling import TEMPERATURE, measured
from barrowful.supplies.crop.cover_crop import Sowing
from barrowful.supplies.crop.crop import Crop, crops_of
from barrowful.supplies.crop.stand import Stand
from barrowful.supplies.supply import Supply


class GrowingLine(NamedTuple):
    """One way that grows something: dry mass and nutrients [kg] of a full year, and its days.

    ``stand`` is there for a perennial or hedge; ``sowing`` for a cover crop with a term within the
    horizon, ``seed`` [kg] for any cover crop.
    """

    crop: Crop
    dry: tuple[float, float, float]
    nutrients: dict[str, float | None]
    remark: str | None
    first_harvest: date | None
    full_harvest: date | None
    stand: Stand | None = None
    sowing: Sowing | None = None
    seed: float | None = None


def growing_lines(supplies: Iterable[Supply[Any]]) -> list[GrowingLine]:
    """Return a line for each supply that grows something."""
    return [_sown(crop) if crop.is_sown else _standing(crop) for crop in crops_of(supplies)]


def _nutrients(crop: Crop, dry: float) -> dict[str, float | None]:
    shares = {nutrient: crop.material.get(nutrient) for nutrient in NUTRIENTS}
    return {nutrient: None if share is None else dry * share for nutrient, share in shares.items()}


def _remark(crop: Crop) -> str | None:
    """Return what is to be said of a crop: why it gives nothing, or that frost may kill it."""
    if crop.note:
        return crop.note
    killed = crop.way.plant.get("killed_below")
    coldest = min(crop.site.climate.temperatures)
    if killed is None or coldest >= killed + judgement("near_killing"):
        return None
    return f"killed below {measured(killed, TEMPERATURE, '.0f')}"


def _standing(crop: Crop) -> GrowingLine:
    stand = crop.stand
    low, likely, high = (
        one.room * one.yield_of_one for one in (replace(stand, end="low"), stand, replace(stand, end="high"))
    )
    most = max((amount for _, amount in crop.harvests), default=0.0)
    full = next((day for day, amount in crop.harvests if amount >= most * (1 - 1e-9)), None)
    return GrowingLine(
        crop=crop,
        dry=(low, likely, high),
        nutrients=_nutrients(crop, likely),
        remark=_remark(crop),
        first_harvest=crop.harvests[0][0] if crop.harvests else None,
        full_harvest=full if stand.full_on is not None and most > 0 else None,
        stand=stand,
    )


def _sown(crop: Crop) -> GrowingLine:
    first = next(iter(crop.sowings), None)
    dry = _spread(crop, first.dry if first else 0.0)
    ended = first.ended if first else None
    return GrowingLine(
        crop=crop,
        dry=dry,
        nutrients=_nutrients(crop, dry[1]),
        remark=_remark(crop),
        first_harvest=ended,
        full_harvest=ended,
        sowing=first,
        seed=crop.seed_mass,
    )


def _spread(crop: Crop, likely: float) -> tuple[float, float, float]:
    """Return a cover crop's dry mass [kg] low, likely and high, in proportion to the plant's figure."""
    figure, area = crop.way.plant.figures.get("dry_matter"), crop.way.area or 0.0
    if figure is None:
        return likely, likely, likely
    share = likely / (figure.likely * area) if area else 1.0
    return figure.low * area * share, likely, figure.high * area * share
