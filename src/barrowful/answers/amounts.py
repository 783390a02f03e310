"""What a row of several ways says beside what all rows say: amounts of each, and what a mix of them is."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from barrowful.answers.option import Option
from barrowful.catalogue.materials import Material
from barrowful.ground.heap import Part, blend_cn
from barrowful.ground.soil import mixed_conductivity
from barrowful.measures.text import all_of
from barrowful.needs.fill import Filling
from barrowful.soil.application import Application


class Mixture(NamedTuple):
    """What a mix that fills a place is: C:N, organic matter as a share of its dry mass, and salt."""

    cn: float | None = None
    organic_matter: float | None = None
    conductivity: float | None = None  #: dS/m of the saturated extract


def mixture(option: Option) -> Mixture | None:
    """Return what a fill is mixed to; None of anything else."""
    return _mixed(option.decision.doses) if option.need == Filling.kind and option.decision.doses else None


def _mixed(doses: Sequence[Application]) -> Mixture:
    """Return what the doses of a fill are mixed to."""
    masses = [(dose.material, dose.material.wet_mass(dose.loose)) for dose in doses]
    return Mixture(_cn(masses), _organic_matter(masses), _conductivity(doses))


def _cn(masses: Sequence[tuple[Material, float]]) -> float | None:
    if any(stuff.lacks("carbon", "nitrogen", "moisture") for stuff, _ in masses):
        return None
    parts = [Part(mass, stuff["moisture"], stuff["carbon"], stuff["nitrogen"]) for stuff, mass in masses]
    return float(blend_cn(parts)) if any(part.dry * part.nitrogen > 0 for part in parts) else None


def _conductivity(doses: Sequence[Application]) -> float | None:
    if any(dose.material.lacks("conductivity") for dose in doses):
        return None
    whole = sum(dose.loose for dose in doses)
    return mixed_conductivity([(dose.loose / whole, dose.material["conductivity"]) for dose in doses])


def _organic_matter(masses: Sequence[tuple[Material, float]]) -> float | None:
    if any(stuff.lacks("organic_matter", "moisture") for stuff, _ in masses):
        return None
    dry = [(stuff, stuff.dry_of(mass)) for stuff, mass in masses]
    return sum(stuff["organic_matter"] * of for stuff, of in dry) / sum(of for _, of in dry)


def amounts(option: Option, mix: Mixture | None) -> str:
    """Return how much goes on first of each of several ways: shares of a mix, kg of fertilisers, else m3.

    Nothing where there is one way.
    """
    if len(option.supply.parts) == 1:
        return ""
    if mix is not None:
        ways = option.supply.divide(option.decision.doses)
        return mixes_told(option.decision.doses, [part.name for part, _ in ways])
    parts = []
    for part, doses in option.supply.divide(option.decision.doses):
        loose = sum(dose.loose for dose in doses)
        if loose:  # else it comes later
            parts.append(f"{part.material.told(loose)} of {part.name}")
    return ", ".join(parts)


def mixes_told(doses: Iterable[Application], ways: Iterable[str]) -> str:
    """Return of what shares places are filled and what that is mixed to: by place where it is not one mix.

    Ways stand in the order given.
    """
    order = {way: number for number, way in enumerate(ways)}
    by_place: dict[str, list[Application]] = {}
    for dose in sorted(doses, key=lambda dose: order[dose.way]):
        by_place.setdefault(dose.place.name, []).append(dose)
    alike: dict[str, list[str]] = {}
    for place, own in by_place.items():
        alike.setdefault(_mix_told(own), []).append(place)
    if len(alike) == 1:
        return next(iter(alike))
    return "; ".join(f"{all_of(places)} {told}" for told, places in alike.items())


def _mix_told(doses: Sequence[Application]) -> str:
    """Return the share of each way in one mix, and what is known of that."""
    whole, shares = sum(dose.loose for dose in doses), dict[str, float]()
    for dose in doses:
        shares[dose.way] = shares.get(dose.way, 0.0) + dose.loose / whole
    return ", ".join(f"{share:.0%} {way}" for way, share in shares.items()) + _said_of(_mixed(doses))


def _said_of(mix: Mixture) -> str:
    """Return the words for what a mix is, as far as it is known."""
    known = [
        "" if mix.cn is None else f"C:N {mix.cn:.0f}",
        "" if mix.organic_matter is None else f"{mix.organic_matter:.0%} organic matter",
        "" if mix.conductivity is None else f"{mix.conductivity:.1f} dS/m of salt",
    ]
    told = ", ".join(filter(None, known))
    return f": {told}" if told else ""
