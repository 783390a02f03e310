"""What doses leave: organic matter a year on, humus at the end, nutrients, and the mulch's life."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date

from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground import decay
from barrowful.measures.dates import MOST_YEARS, date_after, years_between
from barrowful.needs.doses import Dose
from barrowful.site.records import Cover, Site
from barrowful.soil.nitrogen import first_season
from barrowful.soil.turnover import carbon_in, half_depth_years, turnover


@dataclass(frozen=True)
class Outcome:
    """Organic matter and humus [kg], nutrients [kg], and for a cover its life; None where unknown."""

    matter_after_year: float | None = None
    humus_at_end: float | None = None
    nitrogen: float | None = None
    available_nitrogen: float | None = None
    phosphorus: float | None = None
    potassium: float | None = None
    mulch_left: float | None = None
    top_ups: int | None = None
    compost_like_on: date | None = None
    rule: str = ""
    in_range: bool | None = None


def outcome_of(site: Site, doses: list[Dose], material: Material) -> Outcome:
    """Return what doses of one material leave."""
    if not doses or material.lacks("density", "moisture"):
        return Outcome()
    dry = sum(dose.loose for dose in doses) * material["density"] * material.dry_share
    rules = [first_season(material, dose.need.dug) for dose in doses]
    available = sum(
        dose.loose * material["density"] * material.dry_share * one.per_dry
        for dose, one in zip(doses, rules, strict=True)
    )
    known = {name: material.get(name) for name in ("nitrogen", "phosphorus", "potassium")}
    left, humus = _carbon_left(site, doses, material)
    mulch, top_ups, compost_like = _cover_life(site, doses, material)
    return Outcome(
        left, humus, _times(dry, known["nitrogen"]), available if known["nitrogen"] is not None else None,
        _times(dry, known["phosphorus"]), _times(dry, known["potassium"]), mulch, top_ups, compost_like,
        "; ".join(dict.fromkeys(one.rule for one in rules)), all(one.in_range for one in rules),
    )  # fmt: skip


def _times(amount: float, share: float | None) -> float | None:
    return None if share is None else amount * share


def _carbon_left(site: Site, doses: list[Dose], material: Material) -> tuple[float | None, float | None]:
    """Return organic matter [kg] left a year after each dose, and humus [kg] at the horizon's end."""
    if material.lacks("carbon", "decay", "humus"):
        return None, None
    left = humus = 0.0
    for dose in doses:
        goes = turnover(material, site.climate, dose.place.soil, dose.need.dug)
        carbon = rate("matter_per_carbon") * carbon_in(material, dose.loose)
        left += carbon * (goes.left(1.0) + goes.formed(1.0))
        humus += carbon * goes.formed(years_between(dose.day, site.end))
    return left, humus


def _cover_life(
    site: Site, doses: list[Dose], material: Material
) -> tuple[float | None, int | None, date | None]:
    """Return depth left after a year, top-ups within the horizon, and the day it is compost-like."""
    covers = [dose for dose in doses if isinstance(dose.need, Cover)]
    if not covers or material.lacks("lasts", "decay"):
        return None, None, None
    half = half_depth_years(material, site.climate)
    goes = turnover(material, site.climate, covers[-1].place.soil, False)
    last = max(dose.day for dose in covers)
    keep = max(dose.need.keep for dose in covers if isinstance(dose.need, Cover))
    between = decay.years_to_top_up(half, keep)
    ahead = years_between(last, site.end)
    top_ups = 0 if not 0 < between <= ahead else math.floor(ahead / between + 1e-9)
    waits = float(decay.years_to_lose(judgement("compost_like"), goes.fresh))
    compost_like = date_after(last, waits) if waits < MOST_YEARS else None
    return float(decay.depth_left(half, 1.0)), top_ups, compost_like
