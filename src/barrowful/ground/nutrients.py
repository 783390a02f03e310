"""Nutrients: what plants can use and when, what carbon ties up, and oxides against elements."""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.measures.dimensions import relation
from barrowful.measures.elementwise import at_least

#: Atomic masses (IUPAC, abridged, from memory): phosphorus, potassium, oxygen.
_P, _K, _O = 30.974, 39.098, 15.999
PHOSPHORUS_IN_PHOSPHATE = 2 * _P / (2 * _P + 5 * _O)
POTASSIUM_IN_POTASH = 2 * _K / (2 * _K + _O)

#: Nitrogen range in which the cover-crop line was published ([sullivan-2012]).
COVER_CROP_RANGE = (0.015, 0.035)


@relation("share", phosphate="share")
def phosphorus(phosphate: float) -> float:
    """Return phosphorus (P) from phosphate (P2O5), by atomic masses: x 0.4364.

    By definition of the oxide; the atomic masses are from memory.

    >>> phosphorus(1.0)
    0.4364
    """
    return phosphate * PHOSPHORUS_IN_PHOSPHATE


@relation("share", potash="share")
def potassium(potash: float) -> float:
    """Return potassium (K) from potash (K2O), by atomic masses: x 0.8301.

    By definition of the oxide; the atomic masses are from memory.

    >>> potassium(1.0)
    0.8301
    """
    return potash * POTASSIUM_IN_POTASH


@relation("share", nitrogen="share")
def cover_crop_available(nitrogen: float) -> float:
    """Return nitrogen available in the season for each dry mass of cover crop or leaf dug in.

    8.75 g/kg for each percent of nitrogen above 1.5 %; nothing below. Published for 1.5 to 3.5 %.
    Source: [sullivan-2012], highlights: 35 lb a short ton of dry matter at 3.5 %.

    >>> cover_crop_available(0.035)
    0.0175
    >>> cover_crop_available(0.012)
    0.0
    """
    return at_least(0.875 * (nitrogen - 0.015), 0.0)


@relation("mass", carbon="mass", cn="ratio")
def drawdown(carbon: float, cn: float) -> float:
    """Return nitrogen [kg] tied up while microbes decompose ``carbon`` [kg]; negative is release.

    C x (1/24 - 1/C:N): microbes need one nitrogen for 24 carbons. Source: [nrcs-2011].

    >>> drawdown(0.400, 80.0)
    0.01167
    """
    return carbon * (1 / 24 - 1 / cn)


@relation("mass", organic="mass", shares=["share"])
def released(organic: float, shares: Sequence[float], year: int) -> float:
    """Return nitrogen [kg] released by one dose in its first (1) or a later year, of what it held [kg].

    ``shares`` are released in the year of the dose and in each year after; then nothing more.
    Source: [cornell-css-412], such as 35, 12 and 5 % for thin cattle manure.

    >>> [released(50.0, (0.35, 0.12, 0.05), year) for year in (1, 2, 3, 4)]
    [17.5, 6.0, 2.5, 0.0]
    """
    return organic * shares[year - 1] if 1 <= year <= len(shares) else 0.0


@relation("share", surplus="feed")
def soil_test_rise(surplus: float) -> float:
    """Return the rise of a soil test [share of soil mass] from a phosphate surplus [g/m2 of P2O5].

    20 lb of P2O5 an acre, 2.2417 g/m2, moves the test by 1 ppm. Source: [tri-state].

    >>> soil_test_rise(55.0) * 1e6
    24.5
    """
    return surplus / 2.2417 * 1e-6


@relation("dose", need="dose", available="share")
def dry_dose_for(need: float, available: float) -> float:
    """Return the dry dose [kg/m2] that brings ``need`` [kg/m2] of a nutrient.

    ``available`` is what each dry mass gives of it in the season; none raises ValueError.
    By definition.

    >>> dry_dose_for(0.010, 0.015 * 0.10)
    6.667
    """
    if available <= 0:
        raise ValueError("this material gives none of it in the season")
    return need / available


@relation("dose", uptake="dose", supply="dose", recovery="share")
def nitrogen_to_apply(uptake: float, supply: float, recovery: float) -> float:
    """Return the nitrogen [kg/m2] to apply for a crop that takes up ``uptake`` [kg/m2].

    ``supply`` [kg/m2] is what the soil gives the crop within its roots; of what is applied the crop
    recovers a share. Nothing is wanted where the soil gives enough; no recovery raises ValueError.
    Source: [rb209-6-2021], page 41.

    >>> leek = nitrogen_to_apply(0.0279, 0.0132 + 0.0110 * 45 / 90, 0.60)
    >>> round(leek * 10_000)
    153
    >>> nitrogen_to_apply(0.010, 0.012, 0.60)
    0.0
    """
    if recovery <= 0:
        raise ValueError("a crop that recovers nothing cannot be fed")
    return max(0.0, uptake - supply) / recovery
