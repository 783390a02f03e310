"""The figures that an answer rests on: those of what is followed, and those that hold on any site."""

from __future__ import annotations

from collections.abc import Mapping

from barrowful.answers.choices import WholeSite
from barrowful.answers.figures import FigureLine, lines_of
from barrowful.catalogue.contents import figures_of_kind
from barrowful.catalogue.figures import Figure

#: What the figures of heaps are of.
HEAPS = "heaps"


def figures_followed(whole: WholeSite) -> list[FigureLine]:
    """Return the figures of all that is followed: stuffs, plants and heaps, and the crops that are fed.

    Where two ways bring a stuff with different figures, both are told.
    """
    site = whole.together.answer.site
    supplies = {part.name: part for row in whole.together.parts for part in row.source.parts}
    groups: dict[str, Mapping[str, Figure]] = {}
    for way, supply in supplies.items():
        for of, figures in supply.rests_on.items():
            known = groups.setdefault(of, figures)
            if dict(known) != dict(figures):
                groups[f"{of} of {way}"] = figures
    for place in site.places:
        for need in place.needs:
            groups |= need.rests_on
    return lines_of(groups)


def general_figures() -> list[FigureLine]:
    """Return the figures that hold on any site; those of heaps are of what is followed, or of no heap."""
    named = {f"ceiling {of}": figures for of, figures in figures_of_kind("ceilings").items()}
    groups = {**figures_of_kind("rates"), **named, **figures_of_kind("judgements")}
    return lines_of({of: figures for of, figures in groups.items() if of != HEAPS})
