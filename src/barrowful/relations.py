"""Every relation of :mod:`barrowful.ground` for pint quantities, dimensions checked at the door.

``dir(relations)`` lists them by their names; each takes and gives quantities in any units, where the
plain function takes and gives floats in SI units. :func:`quantity` makes one, of a number or an array.
A quantity of another dimension is a ValueError and a bare number a TypeError; both name every argument
that is wrong. What has no unit because it is a count, such as how many trees, stays a plain number.

>>> from barrowful import relations
>>> from barrowful.relations import quantity
>>> relations.ring(quantity(1, "m"), quantity(10, "cm")).to("m2").magnitude
3.11018
>>> relations.ring(quantity(1, "kg"), quantity(10, "cm"))
Traceback (most recent call last):
...
ValueError: ring: radius: kilogram is not a length

Lists of quantities are checked one by one. The blending of heaps takes materials, and :func:`part` makes
one of quantities:

>>> relations.mean_temperature_factor([quantity(41, "degF"), quantity(25, "degC")]).magnitude
1.132
>>> grass = relations.part(
...     mass=quantity(20, "lb"),
...     moisture=quantity(40, "percent"),
...     carbon=quantity(0.45, "1"),
...     nitrogen=quantity(9, "g/kg"),
... )
>>> relations.water_to_add([grass], quantity(60, "percent")).to("lb").magnitude
10.0
>>> relations.blend_cn([grass]).magnitude
50.0

The relations are found when they are asked for, so an editor shows them without their types; the plain
functions in :mod:`barrowful.ground` have them.
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
from barrowful.measures.problems import did_you_mean
from barrowful.measures.quantities import quantity

__all__ = ["quantity"]


def declared() -> Iterator[tuple[str, Callable[..., Any]]]:
    """Yield each declared relation of ground, ``module.name`` and the plain function.

    A record that relations take, such as the part of a heap, is declared likewise.
    """
    for module in pkgutil.iter_modules(barrowful.ground.__path__):
        loaded = import_module(f"barrowful.ground.{module.name}")
        for name, thing in inspect.getmembers(loaded, lambda member: hasattr(member, "takes")):
            if thing.__module__ == loaded.__name__:
                yield f"{module.name}.{name}", thing


@cache
def _doors() -> dict[str, Callable[..., Any]]:
    """Return the relations by name, each as a function of quantities."""
    return {name.partition(".")[2].lower(): checked(function) for name, function in declared()}


def __getattr__(name: str) -> Callable[..., Any]:
    if name.startswith("__"):
        raise AttributeError(name)
    if name not in _doors():
        raise AttributeError(f'there is no relation "{name}"{did_you_mean(name, _doors())}')
    return _doors()[name]


def __dir__() -> list[str]:
    return [*__all__, *_doors()]
