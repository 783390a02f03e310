"""A quick blend: amounts as given, or the one or two amounts that meet a C:N and a moisture."""

from __future__ import annotations

from dataclasses import replace

from barrowful.catalogue.materials import Material
from barrowful.ground.heap import (
    Part,
    Unreachable,
    blend_cn,
    blend_moisture,
    second_for_cn,
    second_for_moisture,
    three_for_both,
    water_to_add,
)
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import CannotMeet, WrongUse
from barrowful.measures.telling import MASS, is_customary, measured
from barrowful.supplies.heap.reasons import common_stuffs
from barrowful.supplies.heap.recipe import Offer, Recipe
from barrowful.supplies.heap.shares import Share
from barrowful.supplies.heap.timing import SLACK_SHARE


@fixed(kw_only=False, eq=True)
class BlendPart:
    """A material and its wet mass [kg]; None is to be worked out."""

    material: Material
    mass: float | None


@fixed(kw_only=False, eq=True)
class Blend:
    """A finished recipe, and what to say about it."""

    recipe: Recipe
    sentences: tuple[str, ...]


def blend(wanted: list[BlendPart], cn: float | None, moisture: float | None) -> Blend:
    """Return the blend of some materials; amounts left out are worked out to meet the targets.

    With every amount given and a target, the last is worked out afresh. Water is added up to the
    moisture aimed for when no material is left to set it. Raises :class:`WrongUse` when there are
    more unknown amounts than targets, :class:`CannotMeet` when a target cannot be reached.
    """
    if cn is not None and len(wanted) < 2:
        raise WrongUse("a C:N to aim for needs at least two materials")
    given, wanted = wanted, _free(wanted, cn)
    unknown = [one for one in wanted if one.mass is None]
    targets = (cn is not None) + (moisture is not None)
    if len(unknown) > targets:
        raise WrongUse(f"{len(unknown)} amounts are left out for {targets} targets; give more amounts")
    if len(unknown) == len(wanted):
        raise WrongUse("give the amount of at least one material")
    try:
        masses = _solve(wanted, unknown, cn, moisture)
    except Unreachable as error:
        names = " and ".join(one.material.name for one in unknown)
        raise CannotMeet(f"{names}: {error}{_span(wanted) if len(unknown) > 1 else ''}") from None
    made = _finish(wanted, masses, moisture)
    if wanted is given:
        return made
    last = given[-1]
    needed = f"{measured(made.recipe.masses[-1], MASS, '.4g')} is what reaches a C:N of {cn:g}"
    told = f"You gave {measured(last.mass or 0.0, MASS, '.4g')} of {last.material.name}; {needed}."
    return replace(made, sentences=(told, *made.sentences))


def _free(wanted: list[BlendPart], cn: float | None) -> list[BlendPart]:
    """Free the last amount when all are given and a C:N is aimed for."""
    if cn is None or any(one.mass is None for one in wanted) or len(wanted) < 2:
        return wanted
    return [*wanted[:-1], replace(wanted[-1], mass=None)]


def _part(stuff: Material, mass: float) -> Part:
    return Offer(stuff, mass).part(mass)


def _together(parts: list[Part]) -> Part:
    """Return several parts as one of the same mass, moisture, carbon and nitrogen."""
    mass, dry = sum(part.mass for part in parts), sum(part.dry for part in parts)
    carbon = sum(part.dry * part.carbon for part in parts)
    nitrogen = sum(part.dry * part.nitrogen for part in parts)
    return Part(mass, 1 - dry / mass, carbon / dry, nitrogen / dry)


def _solve(
    wanted: list[BlendPart], unknown: list[BlendPart], cn: float | None, moisture: float | None
) -> dict[int, float]:
    given = _together([_part(one.material, one.mass) for one in wanted if one.mass is not None])
    free = [_part(one.material, 0.0) for one in unknown]
    if len(free) == 2:
        assert cn is not None
        assert moisture is not None
        found: tuple[float, ...] = three_for_both(given, free[0], free[1], cn, moisture)
    elif len(free) == 1 and cn is not None:
        found = (second_for_cn(given, free[0], cn),)
    elif len(free) == 1 and moisture is not None:
        found = (second_for_moisture(given, free[0], moisture),)
    else:
        found = ()
    return {id(one): mass for one, mass in zip(unknown, found, strict=True)}


def _span(wanted: list[BlendPart]) -> str:
    """Return what the materials reach among them."""
    stuffs = [one.material for one in wanted]
    ratios = [stuff["carbon"] / stuff["nitrogen"] for stuff in stuffs if stuff["nitrogen"]]
    wet = [stuff["moisture"] for stuff in stuffs]
    moist = f"{min(wet):.0%} to {max(wet):.0%} moisture"
    return f"; they reach C:N {min(ratios):.0f} to {max(ratios):.0f} and {moist}"


def _finish(wanted: list[BlendPart], masses: dict[int, float], moisture: float | None) -> Blend:
    offers = tuple(Offer(one.material, float("inf")) for one in wanted)
    amounts = tuple(masses[id(one)] if one.mass is None else one.mass for one in wanted)
    parts = [_part(one.material, mass) for one, mass in zip(wanted, amounts, strict=True) if mass > 0]
    sentences = [f"C:N {blend_cn(parts):.1f} at {blend_moisture(parts):.0%} moisture before watering."]
    water = 0.0
    if moisture is not None:
        water = water_to_add(parts, moisture)
        if water < -1e-6 * sum(amounts):
            sentences.append(_too_wet(parts, moisture))
        elif water > 1e-6 * sum(amounts):
            litres = "" if is_customary() else " (litres)"
            sentences.append(
                f"Add {measured(water, MASS, '.0f')}{litres} of water to come to {moisture:.0%} moisture."
            )
    water = water if water > 1e-6 * sum(amounts) else 0.0
    made = Recipe(offers, amounts, water)
    return Blend(made, (*sentences, *_too_much(made)))


def _too_wet(parts: list[Part], moisture: float) -> str:
    """Return what is said of a mix wetter than the aim, with the least of something dry that mends it."""
    mix, there = _together(parts), []
    for stuff in common_stuffs():
        if stuff["moisture"] < moisture:
            mass = second_for_moisture(mix, _part(stuff, 0.0), moisture)
            there.append((stuff.loose_of(mass), mass, stuff))
    told = f"Too wet already for {moisture:.0%}: add something dry, or let it drain"
    if not there:
        return f"{told}."
    _, mass, stuff = min(there, key=lambda entry: entry[0])
    cn = blend_cn([*parts, _part(stuff, mass)])
    return f"{told}; {measured(mass, MASS)} of {stuff.name} brings it there, at a C:N of {cn:.0f}."


def _too_much(made: Recipe) -> list[str]:
    """Return a sentence for each ceiling of heaps that a blend is over."""
    return [
        f"{' and '.join(_held(made, share))}: {made.share_of(share):.0%} of the blend, and a heap should have"
        f" no more than {share.told} ({share.ceiling})."
        for share in made.shares()
        if made.share_of(share) > share.most + SLACK_SHARE
    ]


def _held(made: Recipe, share: Share) -> dict[str, None]:
    """Return the names of what a ceiling is about, each once."""
    stuffs = (offer.material for offer in made.offers)
    return dict.fromkeys(stuff.name for stuff in stuffs if share.holds(stuff))
