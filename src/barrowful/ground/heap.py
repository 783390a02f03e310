"""Blending: moisture and C:N of heaps, and the masses that meet a target.

Masses are wet, moisture is a share of wet mass, carbon and nitrogen are shares of dry mass.
"""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.ground.amount import dry_mass
from barrowful.measures.dimensions import record, relation
from barrowful.measures.fixed import fixed


@record(mass="mass", moisture="share", carbon="share", nitrogen="share")
@fixed(kw_only=False, eq=True)
class Part:
    """A material of a mix: wet mass [kg], moisture, carbon and nitrogen [shares].

    >>> Part(mass=10.0, moisture=0.77, carbon=0.45, nitrogen=0.024).dry
    2.3
    """

    mass: float
    moisture: float
    carbon: float
    nitrogen: float

    @property
    def dry(self) -> float:
        """Return the dry mass [kg]."""
        return dry_mass(self.mass, self.moisture)


class Unreachable(ValueError):
    """A target that no amounts of the materials can meet."""


@relation("share", parts=[Part])
def blend_moisture(parts: Sequence[Part]) -> float:
    """Return the moisture of a mix: sum of q m over sum of q.

    Source: [cornell-moisture], [bc-1998].

    >>> blend_moisture([Part(10, 0.77, 0.45, 0.024), Part(6.8, 0.35, 0.5, 0.0075)])
    0.600
    """
    return sum(part.mass * part.moisture for part in parts) / sum(part.mass for part in parts)


@relation("ratio", parts=[Part])
def blend_cn(parts: Sequence[Part]) -> float:
    """Return the C:N of a mix: carbon over nitrogen, each summed; never a mean of ratios.

    Source: [cornell-cn], [bc-1998].

    >>> blend_cn([Part(50, 0.6, 0.40, 0.02), Part(20, 0.2, 0.40, 0.005)])
    30.0
    """
    nitrogen = sum(part.dry * part.nitrogen for part in parts)
    if nitrogen <= 0:
        raise Unreachable("there is no nitrogen in this mix")
    return sum(part.dry * part.carbon for part in parts) / nitrogen


@relation("mass", first=Part, second=Part, target="ratio")
def second_for_cn(first: Part, second: Part, target: float) -> float:
    """Return the wet mass [kg] of ``second`` that brings ``first`` to a C:N.

    The carbon that ``first`` lacks for its nitrogen at the target, over what each kg of ``second`` has to
    spare at it; so ``second`` need hold no nitrogen. Raises :class:`Unreachable` when no positive mass
    does it. Source: [bc-1998].

    >>> second_for_cn(Part(10, 0.77, 0.45, 0.024), Part(0, 0.35, 0.50, 0.0075), 30.0)
    3.4741
    """
    need, gives = -first.mass * _spare_carbon(first, target), _spare_carbon(second, target)
    return _positive(need, gives, f"a C:N of {target:g}", _ratio(first), _ratio(second))


@relation("mass", first=Part, second=Part, target="share")
def second_for_moisture(first: Part, second: Part, target: float) -> float:
    """Return the wet mass [kg] of ``second`` that brings ``first`` to a moisture.

    The water that ``first`` lacks for the target, over what each kg of ``second`` has to spare at it.
    Raises :class:`Unreachable` when no positive mass does it. Source: [cornell-moisture], [bc-1998].

    >>> second_for_moisture(Part(10, 0.77, 0.45, 0.024), Part(0, 0.35, 0.50, 0.0075), 0.60)
    6.8
    """
    need, gives = first.mass * _less(target, first.moisture), _less(second.moisture, target)
    return _positive(need, gives, f"{target:.0%} moisture", first.moisture, second.moisture)


def _less(value: float, target: float) -> float:
    """Return a value less its target, and nothing where they differ by rounding alone."""
    difference = value - target
    return difference if abs(difference) > 1e-12 * value else 0.0


def _spare_carbon(part: Part, target: float) -> float:
    """Return the carbon above the target's C:N in each wet mass of a material."""
    return (1 - part.moisture) * _less(part.carbon, target * part.nitrogen)


def _ratio(part: Part) -> float:
    return part.carbon / part.nitrogen if part.nitrogen > 0 else float("inf")


def _positive(need: float, gives: float, what: str, first: float, second: float) -> float:
    if need == 0:
        return 0.0
    if gives == 0 or need / gives < 0:
        low, high = sorted((first, second))
        raise Unreachable(f"{what} cannot be reached: these two materials reach {low:.3g} to {high:.3g}")
    return need / gives


@relation(("mass", "mass"), first=Part, second=Part, third=Part, cn="ratio", moisture="share")
def three_for_both(first: Part, second: Part, third: Part, cn: float, moisture: float) -> tuple[float, float]:
    """Return the wet masses [kg] of ``second`` and ``third`` that meet both targets.

    Cramer's rule on sum q (m - G) = 0 and sum q (1 - m)(c - R n) = 0. Raises
    :class:`Unreachable` when the two push the same way or a mass would be negative.
    Source: [cornell-simultaneous], in words.

    >>> manure, straw = Part(50, 0.60, 0.40, 0.02), Part(0, 0.20, 0.40, 0.005)
    >>> three_for_both(manure, straw, Part(0, 1.0, 0.0, 0.0), 30.0, 0.60)
    (20.0, 20.0)
    """
    a1, a2, a3 = (_less(part.moisture, moisture) for part in (first, second, third))
    b1, b2, b3 = (_spare_carbon(part, cn) for part in (first, second, third))
    scale = max(abs(a2 * b3), abs(a3 * b2))
    divisor = a2 * b3 - a3 * b2
    if abs(divisor) <= 1e-12 * scale or scale == 0:
        raise Unreachable("these two materials change moisture and C:N alike; choose another")
    q2 = first.mass * (a3 * b1 - a1 * b3) / divisor
    q3 = first.mass * (a1 * b2 - a2 * b1) / divisor
    if q2 < -1e-9 or q3 < -1e-9:
        raise Unreachable(f"a C:N of {cn:g} at {moisture:.0%} moisture cannot be reached with these three")
    return max(q2, 0.0), max(q3, 0.0)


@relation("mass", parts=[Part], target="share")
def water_to_add(parts: Sequence[Part], target: float) -> float:
    """Return the water [kg] that brings a mix to a moisture; negative means it is too wet already.

    W = (G sum q - sum q m) / (1 - G). C:N does not change. Source: [cornell-cn].

    >>> water_to_add([Part(50, 0.6, 0.4, 0.02), Part(20, 0.2, 0.4, 0.005)], 0.60)
    20.0
    """
    mass = sum(part.mass for part in parts)
    water = sum(part.mass * part.moisture for part in parts)
    return (target * mass - water) / (1 - target)


@relation(("share", "share", "share"), cn="ratio")
def nitrogen_lost(cn: float) -> tuple[float, float, float]:
    """Return the low, likely and high share of nitrogen a heap loses, by its starting C:N.

    Bands are this project's judgement over three sources: 2-38 % over C:N 25-50, 19-42 % of feedlot
    manure, and up to 40 %. Source: [michel-2004], [eghball-1997], [nebguide-g1315].

    >>> nitrogen_lost(30.0)
    (0.05, 0.125, 0.2)
    """
    bands = ((20, 0.40, 0.60), (25, 0.25, 0.40), (30, 0.15, 0.30), (40, 0.05, 0.20))
    low, high = next(((low, high) for below, low, high in bands if cn < below - 1e-6), (0.0, 0.10))
    return low, (low + high) / 2, high
