"""Figures that belong to no material: work, the humus model, heaps, and other models' coefficients."""

from __future__ import annotations

from functools import cache

from barrowful.catalogue.figures import Figure, folder, load, read_figure


def _figures(file: str) -> dict[str, Figure]:
    return {
        name: read_figure(entry, entry["dimension"], name)
        for name, entry in load(folder("").joinpath(file)).items()
    }


@cache
def rates() -> dict[str, Figure]:
    """Return every rate by its name."""
    return _figures("rates.toml")


def rate(name: str) -> float:
    """Return the likely value of a rate in SI units."""
    return rates()[name].likely


@cache
def heap_figures() -> dict[str, Figure]:
    """Return the figures for heaps by name."""
    return _figures("heaps.toml")


@cache
def coefficients() -> dict[str, Figure]:
    """Return the other soil models' humus coefficients by name."""
    return _figures("other_models.toml")
