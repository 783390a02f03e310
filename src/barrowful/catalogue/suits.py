"""What does not suit a need: which materials, for which needs, on which kinds of place, and why."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from typing import Any, NamedTuple

from barrowful.catalogue.figures import load
from barrowful.catalogue.materials import Material


class Bar(NamedTuple):
    """Classes, flags it has and has not, needs and kinds of place that go ill together, and the words.

    Where it names what stands ``beside``, it holds only where one of these does.
    """

    key: str
    classes: frozenset[str]
    flags: frozenset[str]
    without: frozenset[str]
    needs: frozenset[str]
    places: frozenset[str]
    dug: bool | None
    beside: frozenset[str]
    because: str
    source: str
    place: str
    grade: str

    def holds(self, material: Material, need: str, kind: str, dug: bool, beside: frozenset[str]) -> bool:
        """Say whether it bars a material from a need of a kind of place, dug in or left on top."""
        return (
            material.class_ in self.classes
            and need in self.needs
            and (not self.places or kind in self.places)
            and (self.dug is None or self.dug == dug)
            and (not self.beside or not self.beside.isdisjoint(beside))
            and all(material.has(flag) for flag in self.flags)
            and not any(material.has(flag) for flag in self.without)
        )


@cache
def bars() -> tuple[Bar, ...]:
    """Return every bar, in the order of the file."""
    return tuple(_bar(entry) for entry in load("suits.toml")["bar"])


def _bar(entry: Mapping[str, Any]) -> Bar:
    known: dict[str, Any] = dict(entry)
    for key in ("classes", "flags", "without", "needs", "places", "beside"):
        known[key] = frozenset(entry.get(key, ()))
    return Bar(**{"dug": None, **known})


@lru_cache(maxsize=4096)
def why_unsuited(
    material: Material, need: str, kind: str, dug: bool, beside: frozenset[str] = frozenset()
) -> str:
    """Return why a material does not suit a need of a kind of place, or nothing.

    ``beside`` is what else bears on it: the needs of the place, and what better stuff is among its ways.

    >>> from barrowful.catalogue.materials import material
    >>> chip = material("arborist chip")
    >>> why_unsuited(chip, "cover", "tree", False), why_unsuited(chip, "raise", "bed", True)[:26]
    ('', 'wood is neither dressed no')
    """
    barring = (bar.because for bar in bars() if bar.holds(material, need, kind, dug, beside))
    return next(barring, "")
