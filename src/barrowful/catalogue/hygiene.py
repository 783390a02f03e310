"""Published time-temperature rules for heaps, as the catalogue holds them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Any

from barrowful.catalogue.figures import folder, load
from barrowful.measures.text import read_quantity
from barrowful.measures.units import si


@dataclass(frozen=True)
class Rule:
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
    return tuple(_rule(entry) for entry in load(folder("hygiene.toml"))["rule"])


def _rule(entry: dict[str, Any]) -> Rule:
    peak = _degrees(entry["peak"]) if "peak" in entry else None
    return Rule(
        entry["name"], _degrees(entry["temperature"]), entry["days"], entry["in_a_row"], entry["turns"], peak,
        entry.get("least_cn", 0.0), entry.get("most_cn", float("inf")), entry["source"], entry["place"],
        entry["grade"],
    )  # fmt: skip


def _degrees(text: str) -> float:
    return float(si(read_quantity(text, "temperature"), "temperature"))
