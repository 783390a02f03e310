"""Which published rule gives the nitrogen plants can use, for a material dug in or left on top."""

from __future__ import annotations

from typing import NamedTuple

from barrowful.catalogue.figures import SITE_GRADE
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import kept_by_rates, rate
from barrowful.ground import nutrients
from barrowful.measures.elementwise import at_least, at_most, likely


class Available(NamedTuple):
    """Nitrogen [kg for each kg dry] of the first season, the rule, and whether inside its range."""

    per_dry: float
    rule: str
    in_range: bool = True


class Lying(NamedTuple):
    """How and when a dose is put on: dug in or on top, on sandy soil or other, at what time of the year."""

    dug: bool
    sandy: bool = False
    time: str = "spring"


@kept_by_rates(4096)
def first_season(material: Material, lying: Lying) -> Available:
    """Return the first season's available nitrogen of a material; below nothing it ties some up.

    A figure stated in the site file stands over every rule. Wood, straw, dry leaf and paper tie up what
    was measured, hay what its carbon asks for over its nitrogen; a small part of it on top. Manure gives
    a share of its total by season, soil and manner; fresh leaf dug in follows the cover-crop line, and
    below its range the carbon balance; fresh leaf on top a recovery trial; everything else its own share
    of total nitrogen.
    """
    figure = material.figures.get("available_nitrogen")
    if figure is not None and figure.grade == SITE_GRADE and not material.lacks("nitrogen"):
        return Available(material["nitrogen"] * figure.likely, "stated in the site file")
    if material.has("woody"):
        return _woody(material, lying)
    if material.lacks("nitrogen"):
        return Available(0.0, "no nitrogen figure", False)
    total = material["nitrogen"]
    if material.sort.nitrogen == "leaf":
        return _leaf(material, total, lying.dug)
    if material.sort.manure_table:
        return Available(total * rate(_row(material, lying)), "share of total nitrogen, by season and soil")
    if figure is None:
        return Available(0.0, "no figure for available nitrogen", False)
    return Available(total * figure.likely, "share of total nitrogen, first season")


def _row(material: Material, lying: Lying) -> str:
    """Return the name of the share of a manure's nitrogen that counts."""
    manner = f"{'poultry' if material.has('bird') else 'litter'}_{'dug' if lying.dug else 'top'}"
    if lying.time == "spring":
        return f"{manner}_spring"
    return f"{manner}_{lying.time}_{'sand' if lying.sandy else 'heavier'}"


def _leaf(material: Material, total: float, dug: bool) -> Available:
    if not dug:
        return Available(total * rate("surface_leaf_available"), "fresh leaf on top, trial recovery")
    low, high = nutrients.COVER_CROP_RANGE
    if likely(total) >= low:
        gives = nutrients.cover_crop_available(total)
        return Available(gives, "cover-crop line, 1.5 to 3.5 % nitrogen", likely(total) <= high)
    tied = _balance(material)
    if tied is None:
        return Available(0.0, "no figure for carbon", False)
    return Available(-tied, "carbon balance of strawy leaf, dug in")


def _balance(material: Material) -> float | None:
    """Return the nitrogen [kg for each kg dry] that microbes lack of strawy stuff in its first year.

    None where its carbon or its nitrogen is not known.
    """
    known = not material.lacks("carbon", "nitrogen")
    if not known or min(likely(material["carbon"]), likely(material["nitrogen"])) <= 0:
        return None
    carbon = material["carbon"]
    tied = nutrients.drawdown(carbon * rate("first_year_straw"), carbon / material["nitrogen"])
    return at_least(tied, 0.0)


def _woody(material: Material, lying: Lying) -> Available:
    tied, rule = rate(_tie_up(material, lying.time)), "tie-up as measured"
    lacked = _balance(material) if material.sort.by_balance else None
    if lacked is not None:
        tied, rule = (
            at_most(tied, lacked),
            rule if likely(tied) <= likely(lacked) else "carbon balance of hay",
        )
    if lying.dug:
        return Available(-tied, f"{rule}, dug in")
    surface = "surface_tie_up_fine" if material.has("fine_wood") else material.sort.surface
    return Available(-tied * rate(surface), f"{rule}, small part on top")


def _tie_up(material: Material, time: str) -> str:
    """Return the name of what a woody material ties up."""
    if material.has("fine_wood"):
        return "tie_up_sawdust"
    in_autumn = material.sort.tie_up_autumn if time == "autumn" else ""
    return in_autumn or material.sort.tie_up or "tie_up_straw"


def season(material: Material, lying: Lying, year: int) -> Available:
    """Return what a material gives in its first (1), second (2) or a later season.

    Manure follows the published decay series of what was organic; compost gives a little each year; leaf a
    share of what is left in its second season; straw gives back part of what it tied up, wood nothing.
    """
    first = first_season(material, lying)
    if year <= 1:
        return first
    if material.has("woody"):
        share = rate(material.sort.gives_back) if material.sort.gives_back and year == 2 else 0.0
        return Available(at_least(-first.per_dry, 0.0) * share, "part of the tie-up, given back")
    if material.lacks("nitrogen"):
        return first
    total = material["nitrogen"]
    organic = total - at_least(first.per_dry, 0.0)
    if material.sort.later == "series":
        shares = (0.0, rate("second_manure"), rate("third_manure"))
        return Available(
            nutrients.released(organic, shares, year), "manure decay series, of organic nitrogen"
        )
    if material.sort.later == "leaf":
        return Available(organic * rate("later_leaf") if year == 2 else 0.0, "leaf, second season")
    if material.sort.later == "none":
        return Available(0.0, "gone after its first season")
    return Available(total * rate("later_compost"), "compost, later seasons")


def usable(material: Material, nutrient: str) -> float:
    """Return the phosphorus or potassium plants can use in the season for each dry mass [share].

    A figure of the material's own stands over that of its class.
    """
    figure, total = material.get(f"available_{nutrient}"), material.get(nutrient)
    if total is None:
        return 0.0
    by_class = getattr(material.sort, f"available_{nutrient}")
    return total * (rate(by_class) if figure is None else figure)
