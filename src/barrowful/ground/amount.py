"""Amounts: from an area and a depth to loose volume, wet mass, dry mass and what is in it."""

from __future__ import annotations

from barrowful.measures.dimensions import relation


@relation("volume", area="area", depth="length")
def volume(area: float, depth: float) -> float:
    """Return the volume [m3] of a layer from area [m2] and depth [m]: 1 mm on 1 m2 is 1 L.

    Plane geometry; needs no source.

    >>> volume(27.2, 0.10)
    2.72
    """
    return area * depth


@relation("length", loose="volume", area="area")
def depth(loose: float, area: float) -> float:
    """Return the depth [m] of a volume [m3] spread over an area [m2].

    Plane geometry; needs no source.

    >>> depth(2.72, 27.2)
    0.1
    """
    return loose / area


@relation("volume", settled="volume", in_place="share")
def loose_for_settled(settled: float, in_place: float) -> float:
    """Return the loose volume [m3] to spread that settles to a volume [m3]; the factor is applied once.

    Source: [briggs-1994], Table 7-2A: loose chip settles by 19 to 25 %. Other in-place factors are
    figures of the catalogue with sources of their own.

    >>> loose_for_settled(2.0, 0.80)
    2.5
    """
    return settled / in_place


@relation("length", spread="length", in_place="share")
def settled_depth(spread: float, in_place: float) -> float:
    """Return the depth [m] that a layer spread to a depth [m] settles to; turns settling round.

    Source: [briggs-1994], turned round.

    >>> settled_depth(0.125, 0.80)
    0.1
    """
    return spread * in_place


@relation("dose", mass="mass", area="area")
def dose(mass: float, area: float) -> float:
    """Return the dose [kg/m2] that a mass [kg] is on an area [m2].

    By definition.

    >>> dose(1.2, 0.75)
    1.6
    """
    return mass / area


@relation("mass", dose="dose", area="area")
def mass_on(area: float, dose: float) -> float:
    """Return the mass [kg] that a dose [kg/m2] comes to on an area [m2].

    By definition, turned round.

    >>> mass_on(0.75, 1.6)
    1.2
    """
    return area * dose


@relation("volume", loose="volume", allowance="share")
def with_allowance(loose: float, allowance: float) -> float:
    """Return the loose volume [m3] with an allowance for spills and uneven ground.

    By definition; how much is the grower's judgement.

    >>> with_allowance(2.0, 0.10)
    2.2
    """
    return loose * (1 + allowance)


@relation("volume", brought="volume", allowance="share")
def without_allowance(brought: float, allowance: float) -> float:
    """Return what comes to lie on the ground [m3] of a volume brought with an allowance [m3].

    By definition, turned round.

    >>> without_allowance(2.2, 0.10)
    2.0
    """
    return brought / (1 + allowance)


@relation("mass", loose="volume", density="density")
def mass(loose: float, density: float) -> float:
    """Return the wet mass [kg] of a loose volume [m3] at its density as delivered [kg/m3].

    By definition of density.

    >>> mass(2.0, 640.0)
    1280.0
    """
    return loose * density


@relation("volume", mass="mass", density="density")
def loose_volume(mass: float, density: float) -> float:
    """Return the loose volume [m3] of a wet mass [kg] at its density as delivered [kg/m3].

    By definition of density.

    >>> loose_volume(1280.0, 640.0)
    2.0
    """
    return mass / density


@relation("mass", wet="mass", moisture="share")
def dry_mass(wet: float, moisture: float) -> float:
    """Return the dry mass [kg]; ``moisture`` is the share of the wet mass.

    By definition of moisture.

    >>> dry_mass(1000.0, 0.45)
    550.0
    """
    return wet * (1 - moisture)


@relation("mass", dry="mass", moisture="share")
def wet_mass(dry: float, moisture: float) -> float:
    """Return the wet mass [kg] that holds a dry mass [kg]; ``moisture`` is the share of the wet mass.

    By definition of moisture.

    >>> wet_mass(550.0, 0.45)
    1000.0
    """
    return dry / (1 - moisture)
