"""Ceilings: limits of good practice that bind what is put on, by name, and the sentence where one does."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import Any, NamedTuple

from barrowful.catalogue.figures import Figure, load, read_figure


class Ceiling(NamedTuple):
    """A ceiling by name: what it is about, whether a grower may lift it, and the figures it rests on.

    One with a ``flag`` binds all stuff that has it together, in any twelve months, by what it holds of the
    figure it ``counts``: no more than its figure ``most``.
    """

    name: str
    words: str
    about: str
    liftable: bool
    flag: str
    counts: str
    figures: Mapping[str, Figure]


@cache
def ceilings() -> Mapping[str, Ceiling]:
    """Return every ceiling by its name."""
    return {name: _ceiling(name, entry) for name, entry in load("ceilings.toml").items()}


def _ceiling(name: str, entry: Mapping[str, Any]) -> Ceiling:
    figures = {
        key: read_figure(value, value["dimension"], f"ceilings.{name}.{key}")
        for key, value in entry.items()
        if isinstance(value, dict)
    }
    return Ceiling(
        name=name,
        words=entry["words"],
        about=entry["about"],
        liftable=entry.get("liftable", True),
        flag=entry.get("flag", ""),
        counts=entry.get("counts", ""),
        figures=figures,
    )


def stops_at(name: str) -> str:
    """Return what is said where a dose stops at a ceiling.

    >>> stops_at("cover_depth")
    'stops at the deepest cover of such stuff (cover_depth)'
    """
    return f"stops at {ceilings()[name].words} ({name})"


def room_again(day: int | None, until: date) -> str:
    """Return from when on a ceiling leaves more room, to add to what stops at it; nothing where not by a day.

    >>> room_again(date(2027, 11, 20).toordinal(), date(2028, 3, 1))
    '; there is room again from 2027-11-20'
    """
    return (
        ""
        if day is None or day > until.toordinal()
        else f"; there is room again from {date.fromordinal(day)}"
    )


@cache
def liftable() -> tuple[str, ...]:
    """Return the names of the ceilings that a grower may lift."""
    return tuple(name for name, ceiling in ceilings().items() if ceiling.liftable)


@cache
def counting() -> tuple[Ceiling, ...]:
    """Return the ceilings on what stuff of a flag holds."""
    return tuple(ceiling for ceiling in ceilings().values() if ceiling.counts)


@cache
def most(ceiling: str, figure: str) -> float | None:
    """Return the likely value of a figure of a ceiling in SI units, None where it has no such figure.

    >>> most("yearly_depth", "garden"), most("cover_depth", "soil")
    (0.025, None)
    """
    known = ceilings()[ceiling].figures.get(figure)
    return None if known is None else known.likely
