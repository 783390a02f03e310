"""Reading the words of a quick blend: ``12 bucket coffee grounds`` without a site file."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import field

from barrowful.catalogue.judgements import judged_text
from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.rates import rate
from barrowful.catalogue.vocabulary import also_said
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import ParseError, WrongUse
from barrowful.measures.telling import DENSITY, measured
from barrowful.measures.text import NUMBER, Measured, read_measure, read_own_name
from barrowful.supplies.heap.blend import BlendPart
from barrowful.supplies.heap.recipe import Offer

#: The least and greatest moisture that may be aimed for; the program's limit, as of other inputs.
DRIEST, WETTEST = 0.2, 0.9


@fixed(kw_only=False, eq=True)
class Known:
    """What a site file knows: materials described in it, and the grower's own measures."""

    materials: Mapping[str, Material] = field(default_factory=dict)
    measures: Mapping[str, Measured] = field(default_factory=dict)

    def material(self, name: str) -> Material | None:
        """Return a material of the file, or else of the catalogue."""
        return self.materials.get(name) or material(name)


def read_wanted(
    parts: Sequence[str], measures: Sequence[str], known: Known | None = None
) -> tuple[list[BlendPart], list[str]]:
    """Return materials with masses [kg] or None, and warnings about assumed densities.

    Measures are those that are typed, else those of the site file, else the usual bucket and barrow.
    """
    known = known or Known()
    barrow = f"{rate('barrow'):g} m3"
    own = {
        name: read_measure(size, ("volume",), {})
        for name, size in (("bucket", judged_text("bucket")), ("barrow", barrow))
    } | dict(known.measures)
    try:
        for text in measures:
            name, _, size = text.partition("=")
            own[read_own_name(name.strip())] = read_measure(size.strip(), ("volume", "mass"), {})
        found = [_one(part.strip(), own, known) for part in parts]
    except ParseError as misread:
        raise WrongUse(str(misread)) from None
    assumed = measured(rate("unknown_density"), DENSITY, ".0f")
    warnings = [
        f"the density of {stuff.name} is not known; {assumed} is assumed"
        for stuff in {one.material.name: one.material for one in found}.values()
        if stuff.get("density") is None
    ]
    return found, warnings


def _one(text: str, own: dict[str, Measured], known: Known) -> BlendPart:
    if not NUMBER.match(text):
        return BlendPart(_material(text, known), None)
    match = re.fullmatch(rf"({NUMBER.pattern}\s*\S+)\s+(?:of\s+)?(.+)", text)
    if not match:
        raise WrongUse(f'"{text}" is not an amount and a material, such as "12 bucket coffee grounds"')
    stuff = _material(match[2].strip(), known)
    amount = read_measure(match[1], ("volume", "mass"), own)
    if amount.magnitude <= 0:
        raise WrongUse(f'"{text}": the amount must be more than nothing')
    if amount.dimension == "mass":
        return BlendPart(stuff, amount.size)
    return BlendPart(stuff, Offer(stuff, 0).wet_mass(amount.size))


def _material(name: str, known: Known) -> Material:
    found = known.material(name)
    if found is None:
        where = "the site file or the catalogue" if known.materials else "the catalogue"
        hint = also_said(name, [*known.materials, *names()])
        raise WrongUse(f'"{name}" is not a material of {where}{hint}')
    if found.lacks("moisture", "carbon", "nitrogen"):
        raise WrongUse(f"{name} has no moisture, carbon or nitrogen figure to blend with")
    return found


def read_share(text: str) -> float:
    """Return a moisture target as a share, or raise :class:`WrongUse`."""
    try:
        share = read_measure(text, ("share",), {}).size
    except ParseError as misread:
        raise WrongUse(f"--to-moisture: {misread}") from None
    if not DRIEST <= share <= WETTEST:
        between = f"{100 * DRIEST:.0f} % and {100 * WETTEST:.0f} %"
        raise WrongUse(f'--to-moisture: "{text}" is not between {between}')
    return share
