"""How warmth, moisture and clay change the rate of decay; all are 1 at 15 degC, moist, 20 % clay."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from barrowful.measures.dimensions import relation
from barrowful.measures.elementwise import at_least, exp


@relation("ratio", temperature="temperature")
def rothc_temperature(temperature: Any) -> Any:
    """Return RothC's rate modifier for the monthly mean air temperature [degC].

    47.91 / (1 + exp(106.06 / (T + 18.27))). Source: [rothc-2025]. At and below -5 degC decay is
    taken as nothing (from memory of its code).

    >>> rothc_temperature(10.0)
    1.0990
    """
    cold = temperature <= -5.0
    if cold is True:
        return 0.0
    thawed = temperature if cold is False else at_least(temperature, -5.0)
    factor = 47.91 / (1 + exp(106.06 / (thawed + 18.27)))
    return factor if cold is False else (1 - cold) * factor


@relation("ratio", temperature="temperature")
def temperature_factor(temperature: Any) -> Any:
    """Return the decay factor for a temperature [degC], 1 at 15 degC.

    Source: [rothc-2025], scaled to 1 at 15 degC, at which the rates are stated.

    >>> temperature_factor(10.0)
    0.5789
    """
    return rothc_temperature(temperature) / rothc_temperature(15.0)


@relation("ratio", temperatures=["temperature"])
def mean_temperature_factor(temperatures: Iterable[float]) -> float:
    """Return the mean factor over some temperatures [degC].

    Warm months add more than cold ones take away, so a mean over the year tells less decay than its months.
    Source: [rothc-2025], which goes by months too.

    >>> mean_temperature_factor([5.0, 25.0]) > temperature_factor(15.0)
    True
    """
    factors: list[float] = [temperature_factor(temperature) for temperature in temperatures]
    return sum(factors) / len(factors)


@relation("ratio", temperature="temperature")
def amg_temperature_factor(temperature: Any) -> Any:
    """Return AMG's decay factor for a temperature [degC], 1 at 15 degC; a second opinion only.

    25 / (1 + 24 exp(0.12 (15 - T))). Source: [amg-2019], which has next to nothing below 0 degC where
    this goes on. Above some 18 degC it runs away from every other curve.

    >>> amg_temperature_factor(10.9)
    0.6211
    """
    return 25 / (1 + 24 * exp(0.12 * (15.0 - temperature)))


@relation("ratio", temperatures=["temperature"])
def mean_amg_temperature_factor(temperatures: Iterable[float]) -> float:
    """Return the mean of AMG's factor over some temperatures [degC]; AMG itself takes the yearly mean.

    Source: [amg-2019].

    >>> mean_amg_temperature_factor([15.0, 25.0])
    2.0191
    """
    factors: list[float] = [amg_temperature_factor(temperature) for temperature in temperatures]
    return sum(factors) / len(factors)


@relation("ratio", balance="water depth")
def moisture_factor(balance: Any) -> Any:
    """Return the factor for rain and watering less potential evaporation [mm a year], 1 at 0.

    1 / (1 + 0.03 exp(-5.247 d / 1000)), scaled to 1 at 0. Source: [amg-2019].

    >>> moisture_factor(-600.0)
    0.6063
    """
    return (1 + 0.03) / (1 + 0.03 * exp(-5.247 * balance / 1000))


@relation("ratio", clay="share")
def clay_factor(clay: Any) -> Any:
    """Return the factor for clay as a share of the fine soil, 1 at 20 %; humus only.

    exp(-0.002519 (A - 200)), A in g/kg. Source: [amg-2019].

    >>> clay_factor(0.34)
    0.7028
    """
    return exp(-2.519 * (clay - 0.2))
