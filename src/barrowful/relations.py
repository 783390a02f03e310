"""Every relation of :mod:`barrowful.ground` for pint quantities, dimensions checked at the door.

>>> from barrowful import relations
>>> relations.ring(relations.quantity(1, "m"), relations.quantity(10, "cm")).to("m2").magnitude
3.11018
"""

from __future__ import annotations

import inspect
import pkgutil
from collections.abc import Callable, Iterator
from functools import cache
from importlib import import_module
from typing import Any

import barrowful.ground
from barrowful.measures.dimensions import checked
from barrowful.measures.units import quantity

__all__ = ["quantity"]


def declared() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Yield each declared relation of ground, ``module.name`` and the plain function."""
    for module in pkgutil.iter_modules(barrowful.ground.__path__):
        loaded = import_module(f"barrowful.ground.{module.name}")
        for name, thing in inspect.getmembers(loaded, inspect.isfunction):
            if hasattr(thing, "takes") and thing.__module__ == loaded.__name__:
                yield f"{module.name}.{name}", thing


@cache
def _doors() -> dict[str, Callable[..., Any]]:
    return {name.partition(".")[2]: checked(function) for name, function in declared()}


def __getattr__(name: str) -> Callable[..., Any]:
    if name.startswith("_") or name not in _doors():
        raise AttributeError(f"there is no relation {name!r}")
    return _doors()[name]


def __dir__() -> list[str]:
    return [*__all__, *_doors()]
