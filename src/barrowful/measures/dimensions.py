"""What a relation takes and gives: declared beside it, checked at the one door for pint quantities.

A relation is a plain function of floats in the SI unit of each dimension. The declaration changes
nothing of the function; :func:`checked` makes of it one that takes and gives quantities.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar

#: Dimension word -> the unit its magnitude is held in inside the calculations.
SI: dict[str, str] = {
    "length": "m",
    "area": "m2",
    "volume": "m3",
    "mass": "kg",
    "density": "kg/m3",
    "dose": "kg/m2",
    "share": "1",
    "ratio": "1",
    "count": "1",
    "time": "year",
    "hours": "h",
    "rate": "1/year",
    "temperature": "degC",
    "temperature step": "kelvin",
    "speed": "m/min",
    "water depth": "mm",
    "flow": "m3/week",
    "mass flow": "kg/week",
    "mass rate": "kg/year",
    "row yield": "kg/m/year",
    "area yield": "kg/m2/year",
    "work on volume": "h/m3",
    "work on mass": "h/kg",
    "work on area": "h/m2",
    "per trunk": "kg/m",
    "feed": "g/m2",
}

Relation = TypeVar("Relation", bound=Callable[..., Any])


def named(dimension: str) -> str:
    """Return a dimension with its article, for a message.

    >>> named("area"), named("length"), named("hours")
    ('an area', 'a length', 'hours')
    """
    if dimension == "hours":
        return dimension
    return f"an {dimension}" if dimension[0] in "aeiou" else f"a {dimension}"


def relation(gives: str, **takes: str) -> Callable[[Relation], Relation]:
    """Declare the dimension of a function's result and of its arguments; it stays as it is.

    A dimension or an argument that does not exist fails when the module is loaded.

    >>> @relation(gives="area", side="length")
    ... def square(side: float) -> float:
    ...     return side * side
    >>> square(0.5)
    0.25
    """
    unknown = [word for word in (gives, *takes.values()) if word not in SI]
    if unknown:
        raise TypeError(f"unknown dimensions {unknown}")

    def declare(function: Relation) -> Relation:
        missing = set(takes) - set(inspect.signature(function).parameters)
        if missing:
            raise TypeError(f"{function.__name__} has no parameters {sorted(missing)}")
        function.gives, function.takes = gives, takes  # type: ignore[attr-defined]
        return function

    return declare


def checked(function: Callable[..., Any]) -> Callable[..., Any]:
    """Return a declared relation as one that takes pint quantities and gives one, dimensions checked.

    A bare number where a quantity is due raises TypeError, another dimension ValueError; each names
    every argument that is wrong.

    >>> from barrowful.measures.units import quantity
    >>> @relation(gives="area", side="length")
    ... def square(side: float) -> float:
    ...     return side * side
    >>> checked(square)(quantity(50, "cm")).to("m2").magnitude
    0.25
    >>> checked(square)(quantity(5, "kg"))
    Traceback (most recent call last):
    ...
    ValueError: square: side: kilogram is not a length
    """
    from barrowful.measures.units import quantity, si

    takes: dict[str, str] = function.takes  # type: ignore[attr-defined]
    gives: str = function.gives  # type: ignore[attr-defined]
    signature = inspect.signature(function)

    @wraps(function)
    def door(*args: Any, **kwargs: Any) -> Any:
        bound = signature.bind(*args, **kwargs)
        given = {name: bound.arguments[name] for name in takes if name in bound.arguments}
        _refuse(function.__name__, given, takes)
        bound.arguments.update({name: si(value, takes[name]) for name, value in given.items()})
        return quantity(function(*bound.args, **bound.kwargs), SI[gives])

    return door


def _refuse(function: str, given: dict[str, Any], takes: dict[str, str]) -> None:
    """Refuse what is no quantity by TypeError, and a quantity of another dimension by ValueError."""
    from barrowful.measures.units import fits, likely

    bare = [
        f"{name}: {named(takes[name])} as a quantity is expected, not {str(value)[:40]}"
        for name, value in given.items()
        if not hasattr(likely(value), "units")
    ]
    if bare:
        raise TypeError(f"{function}: " + "; ".join(bare))
    wrong = [
        f"{name}: {likely(value).units} is not {named(takes[name])}"
        for name, value in given.items()
        if not fits(likely(value).units, takes[name])
    ]
    if wrong:
        raise ValueError(f"{function}: " + "; ".join(wrong))
