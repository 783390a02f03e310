"""Which published rule gives the nitrogen plants can use, for a material dug in or left on top."""

from __future__ import annotations

import math
from dataclasses import dataclass

from barrowful.catalogue.figures import SITE_GRADE
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import rate
from barrowful.ground import nutrients


@dataclass(frozen=True)
class Available:
    """Nitrogen [kg for each kg dry] of the first season, the rule, and whether inside its range."""

    per_dry: float
    rule: str
    in_range: bool = True


def first_season(material: Material, dug: bool) -> Available:
    """Return the first season's available nitrogen of a material.

    A figure stated in the site file stands over every rule. Fresh leaf dug in follows the
    cover-crop line; fresh leaf on top a recovery trial; wood, straw, dry leaf and paper the carbon
    balance, a small part of it on top; everything else its own share of total nitrogen.
    """
    if material.lacks("nitrogen"):
        return Available(0.0, "no nitrogen figure", False)
    total, figure = material["nitrogen"], material.figures.get("available_nitrogen")
    if figure is not None and figure.grade == SITE_GRADE:
        return Available(total * figure.likely, "stated in the site file")
    if material.has("woody"):
        return _woody(material, total, dug)
    if material.sort.nitrogen == "leaf":
        return _leaf(total, dug)
    if figure is None:
        return Available(0.0, "no figure for available nitrogen", False)
    return Available(total * figure.likely, "share of total nitrogen, first season")


def _leaf(total: float, dug: bool) -> Available:
    if not dug:
        return Available(total * rate("surface_leaf_available"), "fresh leaf on top, trial recovery")
    low, high = nutrients.COVER_CROP_RANGE
    return Available(
        float(nutrients.cover_crop_available(total)),
        "cover-crop line, 1.5 to 3.5 % nitrogen",
        low <= total <= high,
    )


def _woody(material: Material, total: float, dug: bool) -> Available:
    if material.lacks("carbon"):
        return Available(0.0, "no figure for carbon", False)
    carbon, fine = material["carbon"], material.has("fine_wood")
    decomposed = rate("first_year_sawdust" if fine else material.sort.first_year)
    if carbon:
        tied = float(nutrients.drawdown(carbon * decomposed, carbon / total if total else math.inf))
    else:  # what the same line comes to
        tied = -decomposed * total
    if dug:
        return Available(-tied, "carbon balance, dug in")
    surface = rate("surface_tie_up_fine" if fine else material.sort.surface)
    return Available(-tied * surface, "carbon balance, small part on top")


def season(material: Material, dug: bool, year: int) -> Available:
    """Return what a material gives in its first (1), second (2) or a later season.

    Manure follows the published decay series; compost gives a little each year; leaf a share of what
    is left in its second season; what wood and straw tied up comes back over the second and third.
    """
    first = first_season(material, dug)
    if year <= 1 or material.lacks("nitrogen"):
        return first
    total = material["nitrogen"]
    if material.has("woody"):
        seasons = judgement("tie_up_returns")
        back = -first.per_dry / seasons if year <= 1 + seasons else 0.0
        return Available(max(0.0, back), "tied-up nitrogen given back over two seasons")
    if material.sort.later == "series":
        shares = (first.per_dry / total if total > 0 else 0.0, rate("second_manure"), rate("third_manure"))
        return Available(nutrients.released(total, shares, year), "manure decay series")
    if material.sort.later == "leaf":
        left = max(0.0, total - first.per_dry)
        return Available(left * rate("later_leaf") if year == 2 else 0.0, "leaf, second season")
    return Available(total * rate("later_compost"), "compost, later seasons")
