"""What a seller's terms must be: the tax a price holds, where a load is tipped, and what is left of one."""

from __future__ import annotations

import re
from collections.abc import Iterable

from barrowful.catalogue.materials import Material
from barrowful.catalogue.vocabulary import PUBLIC_GROUND
from barrowful.site.ways import Buy, Way
from barrowful.sitefile.language.context import ReadContext, Section

#: What is told of a load on public ground: what to write where it is meant.
IF_SO = 'give "drop: road" or "drop: pavement" where it is tipped there, and what a licence asks is told'


def check_terms(terms: Section, context: ReadContext) -> None:
    """Ask for the rate of a tax that the price holds, and about a place that sounds like public ground.

    Greens and kitchen stuff do not keep: nothing is left of them.
    """
    material: Material = terms["material"]
    if terms.get("left") is not None and material.sort.spoils:
        sentence = f'{terms.path}.left: {material.name} does not keep, so none is left; leave "left" out'
        context.problem(terms.place("left"), "spoils", sentence)
    if terms["tax_included"] and not terms.get("tax"):
        context.warning(
            terms.place("tax_included"),
            "unusual",
            f"{terms.path}.tax_included: without its rate no tax is shown; add it as it stands on the bill,"
            " e.g. tax: 20 %",
        )
    if terms["drop"] == "yard" and (word := public_ground(terms.get("drop_at") or "")):
        _ask(terms, word, context)


def check_drop(values: Section, ways: Iterable[Way], context: ReadContext) -> None:
    """Ask about a place for all that is brought that sounds like public ground where no way says so."""
    said = any(isinstance(way, Buy) and way.on_public_ground for way in ways)
    if not said and (word := public_ground(values.get("drop_at") or "")):
        _ask(values, word, context)


def _ask(section: Section, word: str, context: ReadContext) -> None:
    path = f"{section.path}.drop_at" if section.path else "drop_at"
    context.warning(section.place("drop_at"), "unusual", f'{path}: it speaks of a "{word}"; {IF_SO}')


def public_ground(words: str) -> str:
    """Return the first word for public ground in a grower's words for a place, or nothing.

    >>> public_ground("on the kerb by the gate"), public_ground("by the lower gate")
    ('kerb', '')
    """
    return next((word for word in re.findall(r"[a-z]+", words.lower()) if word in PUBLIC_GROUND), "")
