"""The door of a calculation: pint quantities are checked and turned to SI floats once.

A function written on SI floats is decorated with the dimension of each argument and of its
result. Calling it takes and gives quantities; ``.si`` is the plain function for inner loops.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from functools import wraps
from typing import Any, Generic, ParamSpec, TypeVar, cast

from barrowful.measures.units import SI, fits, likely, named, quantity, si

Arguments = ParamSpec("Arguments")
Result = TypeVar("Result")


class Formula(Generic[Arguments, Result]):
    """The type of a decorated function: quantities through the call, floats through ``si``."""

    si: Callable[Arguments, Result]
    gives: str
    dimensions: dict[str, str]

    def __call__(self, *args: Any, **kwargs: Any) -> Any:  # pragma: no cover - typing only
        raise NotImplementedError


def quantities(
    gives: str, **dimensions: str
) -> Callable[[Callable[Arguments, Result]], Formula[Arguments, Result]]:
    """Check dimensions at the door; mistakes in the decoration itself fail at import.

    >>> @quantities(gives="area", side="length")
    ... def square(side: float) -> float:
    ...     return side * side
    >>> square(quantity(50, "cm")).to("m2").magnitude
    0.25
    >>> square.si(0.5)
    0.25
    >>> square(quantity(5, "kg"))
    Traceback (most recent call last):
    ...
    ValueError: square: side: kilogram is not a length
    """
    unknown = [word for word in (gives, *dimensions.values()) if word not in SI]
    if unknown:
        raise TypeError(f"unknown dimensions {unknown}")

    def decorate(function: Callable[Arguments, Result]) -> Formula[Arguments, Result]:
        return cast(Formula[Arguments, Result], _door(function, gives, dimensions))

    return decorate


def _door(function: Callable[..., Any], gives: str, dimensions: dict[str, str]) -> Any:
    """Return the function behind its door, with the plain one as ``si``."""
    signature = inspect.signature(function)
    missing = set(dimensions) - set(signature.parameters)
    if missing:
        raise TypeError(f"{function.__name__} has no parameters {sorted(missing)}")

    @wraps(function)
    def door(*args: Any, **kwargs: Any) -> Any:
        bound = signature.bind(*args, **kwargs)
        given = {name: bound.arguments[name] for name in dimensions if name in bound.arguments}
        try:
            plain = {name: si(value, dimensions[name]) for name, value in given.items()}
        except (AttributeError, ValueError):
            _refuse(function.__name__, given, dimensions)
            raise
        bound.arguments.update(plain)
        return quantity(function(*bound.args, **bound.kwargs), SI[gives])

    formula = cast(Any, door)
    formula.si, formula.gives, formula.dimensions = function, gives, dimensions
    return formula


def _refuse(function: str, given: dict[str, Any], dimensions: dict[str, str]) -> None:
    """Refuse what is no quantity by TypeError, and a quantity of another dimension by ValueError."""
    bare = [
        f"{name}: {named(dimensions[name])} as a quantity is expected, not {str(value)[:40]}"
        for name, value in given.items()
        if not hasattr(likely(value), "units")
    ]
    if bare:
        raise TypeError(f"{function}: " + "; ".join(bare))
    wrong = [
        f"{name}: {likely(value).units} is not {named(dimensions[name])}"
        for name, value in given.items()
        if not fits(likely(value).units, dimensions[name])
    ]
    if wrong:
        raise ValueError(f"{function}: " + "; ".join(wrong))
