"""Ceilings and what does not suit: words, figures, sources, and that each can be judged."""

from __future__ import annotations

from dataclasses import replace

import pytest

from barrowful.catalogue.ceilings import Ceiling, ceilings, liftable, stops_at
from barrowful.catalogue.classes import classes, flag_meanings
from barrowful.catalogue.figures import sources
from barrowful.catalogue.materials import Material, material, names
from barrowful.catalogue.suits import Bar, bars, why_unsuited
from barrowful.sitefile.keys.need import NEED_KINDS
from barrowful.sitefile.keys.place import PLACE_KINDS


@pytest.mark.parametrize("ceiling", ceilings().values(), ids=lambda ceiling: ceiling.name)
def test_a_ceiling_has_words_and_sourced_figures(ceiling: Ceiling) -> None:
    """What is said where it binds names it; every figure cites a source that is known."""
    assert stops_at(ceiling.name) == f"stops at {ceiling.words} ({ceiling.name})"
    assert all(set(figure.sources) <= set(sources()) for figure in ceiling.figures.values())


def test_the_wait_of_raw_manure_cannot_be_lifted() -> None:
    """All ceilings may be lifted but that one."""
    assert set(ceilings()) - set(liftable()) == {"raw_manure"}


def flagged(name: str, flags: frozenset[str]) -> Material:
    """Return a material of the catalogue as a grower may describe it, with flags."""
    stuff = material(name)
    assert stuff is not None
    return replace(stuff, flags=stuff.flags | flags)


@pytest.mark.parametrize("bar", bars(), ids=lambda bar: bar.key)
def test_a_bar_is_about_things_there_are(bar: Bar) -> None:
    """Its classes, flags, needs and kinds of place are words of the catalogue and the site file."""
    assert bar.classes <= set(classes())
    assert bar.flags | bar.without <= set(flag_meanings())
    assert bar.needs <= set(NEED_KINDS)
    assert bar.places <= set(PLACE_KINDS)
    crops = {"acid crop", "eaten at the soil", "forking crop"}
    assert bar.beside <= {*NEED_KINDS, "milder lime", "plain lime", "compost for a crop that is fed", *crops}
    assert bar.source in sources()
    held = [
        name
        for name in names()
        for need in bar.needs
        for kind in PLACE_KINDS
        for dug in (True, False)
        if bar.holds(flagged(name, bar.flags), need, kind, dug, bar.beside)
    ]
    assert held, "it bars nothing there is"


@pytest.mark.parametrize(
    ("name", "need", "kind", "dug", "suits"),
    [
        ("arborist chip", "cover", "bed", False, True),
        ("arborist chip", "raise", "bed", True, False),
        ("arborist chip", "raise", "row", True, False),
        ("ground limestone", "dress", "bed", True, False),
        ("hydrated lime", "lime", "bed", True, True),
        ("hydrated lime", "lime", "tree", False, False),
        ("sawdust", "raise", "row", True, False),
        ("horse manure", "cover", "tree", False, False),
        ("horse manure", "raise", "bed", True, True),
        ("poultry litter", "raise", "bed", True, False),
        ("poultry litter", "feed", "bed", True, True),
        ("poultry litter", "fill", "bed", False, False),
        ("green compost", "fill", "pot", False, True),
        ("coffee grounds", "cover", "bed", False, True),
        ("coffee grounds", "dress", "bed", True, False),
        ("straw", "feed", "bed", False, False),
        ("feather meal", "cover", "tree", False, False),
        ("feather meal", "feed", "tree", False, True),
        ("cardboard", "raise", "bed", True, False),
    ],
)
def test_what_suits(name: str, need: str, kind: str, dug: bool, suits: bool) -> None:
    """Each class has the uses good practice gives it, and no others."""
    stuff = material(name)
    assert stuff is not None
    assert (why_unsuited(stuff, need, kind, dug) == "") is suits
