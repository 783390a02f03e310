"""Published time-temperature rules for heaps, as the catalogue holds them."""

from __future__ import annotations

from functools import cache
from typing import Any, NamedTuple

from barrowful.catalogue.figures import load
from barrowful.measures.text import read_measure


class Rule(NamedTuple):
    """A rule: temperatures [degC], days, turnings and the starting C:N it asks for."""

    name: str
    temperature: float
    days: int
    in_a_row: bool
    turns: int
    peak: float | None
    least_cn: float
    most_cn: float
    source: str
    place: str
    grade: str


@cache
def rules() -> tuple[Rule, ...]:
    """Return the rules of the catalogue."""
    return tuple(_rule(entry) for entry in load("hygiene.toml")["rule"])


def _rule(entry: dict[str, Any]) -> Rule:
    peak = _degrees(entry["peak"]) if "peak" in entry else None
    return Rule(
        name=entry["name"],
        temperature=_degrees(entry["temperature"]),
        days=entry["days"],
        in_a_row=entry["in_a_row"],
        turns=entry["turns"],
        peak=peak,
        least_cn=entry.get("least_cn", 0.0),
        most_cn=entry.get("most_cn", float("inf")),
        source=entry["source"],
        place=entry["place"],
        grade=entry["grade"],
    )


def _degrees(text: str) -> float:
    return read_measure(text, ("temperature",), {}).size
