"""Wood that is told to be of pallets, fences and the like: it may be treated, and goes nowhere."""

from __future__ import annotations

from dataclasses import replace

from barrowful.catalogue.materials import Material
from barrowful.catalogue.origins import timber_in
from barrowful.site.ways import Way
from barrowful.sitefile.language.context import ReadContext, Section

#: The flag of wood that may be treated.
TIMBER = "treated_timber"


def without_timber(way: Way, terms: Section, context: ReadContext) -> Way:
    """Return a way whose wood is flagged where its name, its origin or its notes tell of timber, said so."""
    material = way.material
    word = timber_in("; ".join((way.provenance, way.name, material.name)))
    if not word or not material.sort.asks_origin or material.has(TIMBER):
        return way
    context.warning(
        terms.mark,
        "treated-timber",
        f'{terms.path}: "{word}" tells of wood that may be painted or treated: nothing is covered with it;'
        " if it is clean, say what trees it is of, and leave the word out",
    )
    return replace(way, material=replace(material, flags=material.flags | {TIMBER}))


def may_go_in(material: Material, terms: Section, context: ReadContext) -> bool:
    """Say whether a stuff may go into a heap or a pile: wood that may be treated may not."""
    word = timber_in(material.name) if material.sort.asks_origin else ""
    if not word and not material.has(TIMBER):
        return True
    key = "way" if "way" in terms else "material"
    sentence = f"{material.name} may be painted or treated wood, which goes into no heap; leave it out"
    context.problem(terms.place(key), "treated-timber", f"{terms.path}.{key}: {sentence}")
    return False
