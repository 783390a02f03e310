"""Soil arithmetic: the mass of a layer, its organic matter, and bulk density."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from barrowful.measures.dimensions import relation
from barrowful.measures.elementwise import at_least, sqrt


@relation("dose", depth="length", bulk_density="density", stones="share")
def layer_mass(depth: Any, bulk_density: Any, stones: Any) -> Any:
    """Return the fine dry soil [kg/m2] in a depth [m]; ``stones`` is a share of the volume.

    By definition of density.

    >>> layer_mass(0.20, 1300.0, 0.0)
    260.0
    """
    return depth * bulk_density * (1 - stones)


@relation("share", start="share", carbon="dose", soil="dose", matter_per_carbon="ratio")
def organic_matter(start: Any, carbon: Any, soil: Any, matter_per_carbon: Any) -> Any:
    """Return soil organic matter as a share of dry soil with so much carbon [kg/m2] added.

    start + carbon x F / soil mass, soil mass held constant.
    By definition.

    >>> organic_matter(0.015, 1.95, 260.0, 2.0)
    0.030
    """
    return start + carbon * (matter_per_carbon / soil)


@relation("dose", gain="share", soil="dose", matter_per_carbon="ratio")
def carbon_for(gain: Any, soil: Any, matter_per_carbon: Any) -> Any:
    """Return the carbon [kg/m2] that raises soil organic matter by the share ``gain``.

    By definition, turned round.

    >>> carbon_for(0.015, 260.0, 2.0)
    1.95
    """
    return gain * soil / matter_per_carbon


@relation("density", carbon="share")
def bulk_density_from_carbon(carbon: Any) -> Any:
    """Return dry bulk density [kg/m3] from organic carbon: 1.66 - 0.318 sqrt(C %), in g/cm3.

    Source: [manrique-jones-1991].

    >>> bulk_density_from_carbon(0.02)
    1210.3
    """
    return 1000 * (1.66 - 0.318 * sqrt(100 * carbon))


@relation("conductivity", parts=[("share", "conductivity")])
def mixed_conductivity(parts: Sequence[tuple[float, float]]) -> float:
    """Return the conductivity [dS/m] of a mix, all of one kind of extract: of each its share and its own.

    sum(share x EC).
    By definition, as of two waters mixed; what the parts do to each other's salt is left out.

    >>> mixed_conductivity([(0.30, 8.0), (0.70, 0.8)])
    2.96
    """
    return sum(share * of for share, of in parts)


@relation("rate", temperature="temperature", clay="share", lime="share")
def henin_dupuis_rate(temperature: Any, clay: Any, lime: Any = 0.0) -> Any:
    """Return the Henin-Dupuis rate of humus loss [a year]; lime is a share like clay.

    K2 = 0.03 (1 + 0.2 (T - 10)) / ((1 + 0.005 A)(1 + 0.0015 L)), A and L in g/kg.
    Source: [inrae-qualiagro]. Zero at and below 5 degC; not to be used much above 18 degC.

    >>> henin_dupuis_rate(11.0, 0.150)
    0.0206
    """
    return 0.03 * at_least(1 + 0.2 * (temperature - 10), 0.0) / ((1 + 5 * clay) * (1 + 1.5 * lime))
