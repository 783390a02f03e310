"""Rules of good practice: what each rests on, and the sentence where a plan breaks it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from barrowful.catalogue.figures import folder, load
from barrowful.catalogue.rates import rates
from barrowful.measures.units import in_unit


@dataclass(frozen=True, kw_only=True)
class PracticeRule:
    """A rule: its sentence, the figures it rests on with the units they are shown in, and its source."""

    name: str
    text: str
    figures: Mapping[str, str]
    tests: frozenset[str]
    sources: tuple[str, ...]
    place: str
    grade: str

    def sentence(self, **fields: Any) -> str:
        """Return the sentence with its figures and what the program fills in."""
        known = rates()
        shown = {
            name: in_unit(known[name].likely, known[name].dimension, unit)
            for name, unit in self.figures.items()
        }
        return self.text.format(**shown, **fields)


@cache
def practice_rules() -> Mapping[str, PracticeRule]:
    """Return every rule by its name."""
    return {name: _rule(name, entry) for name, entry in load(folder("rules.toml")).items()}


def _rule(name: str, entry: Mapping[str, Any]) -> PracticeRule:
    source = entry["source"]
    return PracticeRule(
        name=name,
        text=entry["text"],
        figures=entry.get("figures", {}),
        tests=frozenset(entry.get("tests", ())),
        sources=(source,) if isinstance(source, str) else tuple(source),
        place=entry["place"],
        grade=entry["grade"],
    )
