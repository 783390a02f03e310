"""Cautions of the catalogue: what triggers each, how serious it is, and its source."""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

from barrowful.catalogue.figures import files_in, load
from barrowful.catalogue.materials import Material
from barrowful.measures.telling import either


class Caution(NamedTuple):
    """A caution; each trigger that is not empty must match, any of its words will do.

    ``jobs`` are the words of the jobs it belongs to. ``days_before`` is how long before spreading it must
    be acted on, ``days_after`` the waits after.
    """

    key: str
    severity: int
    words: str
    source: str
    place: str
    grade: str
    classes: frozenset[str]
    flags: frozenset[str]
    without: frozenset[str]
    ways: frozenset[str]
    needs: frozenset[str]
    places: frozenset[str]
    condition: str
    jobs: frozenset[str]
    days_before: int
    days_after: tuple[int, ...]

    @property
    def text(self) -> str:
        """Return what it says, in the units sentences are told in."""
        return either(self.words)

    def is_about(self, material: Material) -> bool:
        """Say whether it is about a material, by its class and its flags."""
        return material.is_of(self.classes, self.flags, self.without)


@cache
def cautions() -> tuple[Caution, ...]:
    """Return every caution, the most serious first."""
    listed = []
    for file in files_in("cautions"):
        for entry in load(file)["caution"]:
            when = entry["when"]
            words: dict[str, Any] = {
                key: frozenset(when.get(key, ()))
                for key in ("classes", "flags", "without", "ways", "needs", "places")
            }
            plain: dict[str, Any] = {
                key: entry[key] for key in ("key", "severity", "source", "place", "grade")
            }
            dated = {
                "words": entry["text"],
                "days_before": entry.get("days_before", 0),
                "days_after": tuple(entry.get("days_after", ())),
            }
            told = {"condition": when.get("condition", ""), "jobs": frozenset(entry["jobs"])}
            listed.append(Caution(**plain, **words, **dated, **told))
    return tuple(sorted(listed, key=_gravity))


def _gravity(caution: Caution) -> tuple[int, bool, str]:
    return -caution.severity, not caution.condition, caution.key
