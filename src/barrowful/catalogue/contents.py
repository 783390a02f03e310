"""What the catalogue holds beside materials, plants and crops: kinds of figure, and words with a meaning."""

from __future__ import annotations

from collections.abc import Mapping

from barrowful.catalogue.ceilings import ceilings
from barrowful.catalogue.classes import classes, flag_meanings
from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judgement_figure, judgement_names
from barrowful.catalogue.rates import coefficients, heap_figures, rates

#: Kinds of figure that belong to no one thing, by the name they are asked for by.
FIGURE_KINDS: Mapping[str, str] = {
    "rates": "Work, humus, nitrogen, ceilings and heaps.",
    "judgements": "What is judged, assumed or a rule of thumb, with the reason.",
    "ceilings": "Limits of good practice that bind what is put on, by name.",
    "other models": "Coefficients of the other soil models.",
}


def figures_of_kind(name: str) -> dict[str, Mapping[str, Figure]]:
    """Return the figures of a kind by what they are of; nothing for any other name."""
    if name == "rates":
        return {"rates": rates(), "heaps": heap_figures()}
    if name == "ceilings":
        return {ceiling: known.figures for ceiling, known in ceilings().items()}
    if name == "judgements":
        return {"judgements": {key: judgement_figure(key) for key in judgement_names()}}
    return {"other models": coefficients()} if name == "other models" else {}


def words() -> dict[str, tuple[str, str]]:
    """Return what a word is, a class, a flag or a ceiling, and what it means."""
    named = {name: ("class", one.about) for name, one in classes().items()}
    named |= {name: ("ceiling", one.about) for name, one in ceilings().items()}
    return named | {name: ("flag", about) for name, about in flag_meanings().items()}
