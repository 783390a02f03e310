"""Rates that belong to no material: work, the humus model's settings, heap shrinkage."""

from __future__ import annotations

from functools import cache

from barrowful.catalogue.figures import Figure, folder, load, read_figure


@cache
def rates() -> dict[str, Figure]:
    """Return every rate by its name."""
    return {
        name: read_figure(entry, entry["dimension"], name)
        for name, entry in load(folder("").joinpath("rates.toml")).items()
    }


def rate(name: str) -> float:
    """Return the likely value of a rate in SI units."""
    return rates()[name].likely
