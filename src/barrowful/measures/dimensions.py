"""What a relation takes and gives: declared beside it, checked at the one door for pint quantities.

A relation is a plain function of floats in the SI unit of each dimension. The declaration changes
nothing of the function; :func:`checked` makes of it one that takes and gives quantities. A dimension
is declared by its word; a list of one is any number of such values, a tuple one value of each, and a
class declared with :func:`record` stands for itself.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
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
    "conductance": "S",
    "conductivity": "dS/m",
}

#: A word of :data:`SI`, ``[dimension]``, ``(dimension, ...)``, or a class declared by :func:`record`.
Dimension = Any
Declared = TypeVar("Declared", bound=Callable[..., Any])


def named(dimension: str) -> str:
    """Return a dimension with its article, for a message.

    >>> named("area"), named("length"), named("hours")
    ('an area', 'a length', 'hours')
    """
    if dimension == "hours":
        return dimension
    return f"an {dimension}" if dimension[0] in "aeiou" else f"a {dimension}"


def relation(gives: Dimension, /, **takes: Dimension) -> Callable[[Declared], Declared]:
    """Declare the dimension of a function's result and of its arguments; it stays as it is.

    A dimension or an argument that does not exist fails when the module is loaded. What is not
    declared, such as a number of trees, is a plain number.

    >>> @relation("area", side="length")
    ... def square(side: float) -> float:
    ...     return side * side
    >>> square(0.5)
    0.25
    """
    _refuse_unknown(gives)
    return _declaration(gives, takes)


def record(**takes: Dimension) -> Callable[[Declared], Declared]:
    """Declare the dimensions of a record's fields; its class may then be declared as a dimension.

    >>> from dataclasses import dataclass
    >>> @record(length="length", width="length")
    ... @dataclass
    ... class Board:
    ...     length: float
    ...     width: float
    >>> @relation("length", boards=[Board])
    ... def laid_end_to_end(boards: list[Board]) -> float:
    ...     return sum(board.length for board in boards)
    """
    return _declaration(None, takes)


def _declaration(gives: Dimension, takes: dict[str, Dimension]) -> Callable[[Declared], Declared]:
    """Return what notes dimensions on a function, or on a class, which gives itself."""
    _refuse_unknown(*takes.values())

    def declare(function: Declared) -> Declared:
        missing = set(takes) - set(inspect.signature(function).parameters)
        if missing:
            raise TypeError(f"{function.__name__} has no parameters {sorted(missing)}")
        function.gives, function.takes = gives or function, takes  # type: ignore[attr-defined]
        return function

    return declare


def _refuse_unknown(*dimensions: Dimension) -> None:
    unknown = [word for dimension in dimensions for word in _words(dimension) if word not in SI]
    if unknown:
        raise TypeError(f"unknown dimensions {unknown}")


def _words(dimension: Dimension) -> Iterator[str]:
    """Yield the words that a dimension is declared by; of a class that is no record, its name."""
    if isinstance(dimension, str):
        yield dimension
    elif isinstance(dimension, list | tuple):
        for part in dimension:
            yield from _words(part)
    elif not hasattr(dimension, "takes"):
        yield dimension.__name__


def checked(function: Callable[..., Any]) -> Callable[..., Any]:
    """Return a declared relation as one that takes pint quantities and gives one, dimensions checked.

    A bare number where a quantity is due raises TypeError, another dimension ValueError; each names
    every argument that is wrong, inside lists too.

    >>> from barrowful.measures.quantities import quantity
    >>> @relation("area", side="length")
    ... def square(side: float) -> float:
    ...     return side * side
    >>> checked(square)(quantity(50, "cm")).to("m2").magnitude
    0.25
    >>> checked(square)(quantity(5, "kg"))
    Traceback (most recent call last):
    ...
    ValueError: square: side: kilogram is not a length
    """
    takes: dict[str, Dimension] = function.takes  # type: ignore[attr-defined]
    gives: Dimension = function.gives  # type: ignore[attr-defined]
    signature = inspect.signature(function)

    @wraps(function, updated=())
    def door(*args: Any, **kwargs: Any) -> Any:
        bound = signature.bind(*args, **kwargs)
        check = _Check()
        for name in [name for name in takes if name in bound.arguments]:
            bound.arguments[name] = check.plain(bound.arguments[name], takes[name], name)
        check.refuse(door.__name__)
        return _as_quantity(function(*bound.args, **bound.kwargs), gives)

    door.__name__ = function.__name__.lower()
    told = ", ".join(f"{name} ({_in_words(dimension)})" for name, dimension in takes.items())
    door.__doc__ = f"{inspect.getdoc(function)}\n\nTakes quantities: {told}; gives {_in_words(gives)}."
    return door


def _in_words(dimension: Dimension) -> str:
    """Return a dimension as a docstring tells it."""
    if isinstance(dimension, str):
        return dimension
    if isinstance(dimension, list):
        return f"list of {_in_words(dimension[0])}"
    if isinstance(dimension, tuple):
        return " and ".join(_in_words(part) for part in dimension)
    return str(dimension.__name__).lower()


def _as_quantity(value: Any, dimension: Dimension) -> Any:
    """Return a plain answer as quantities of what was declared."""
    from barrowful.measures.quantities import quantity

    if isinstance(dimension, str):
        return quantity(value, SI[dimension])
    if isinstance(dimension, list):
        return [_as_quantity(part, dimension[0]) for part in value]
    if isinstance(dimension, tuple):
        return tuple(_as_quantity(part, inner) for part, inner in zip(value, dimension, strict=True))
    return value


def _listed(value: Any) -> list[Any] | None:
    """Return the values of a list, a tuple or a quantity of an array; None of what is a single one."""
    try:
        return None if isinstance(value, str) else list(value)
    except TypeError:
        return None


@dataclass
class _Check:
    """Arguments on their way in: what is no quantity, and what is one of another dimension."""

    bare: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)

    def plain(self, value: Any, dimension: Dimension, where: str) -> Any:
        """Return an argument in SI floats, noting what is wrong with it."""
        if isinstance(dimension, str):
            return self._magnitude(value, dimension, where)
        if not isinstance(dimension, list | tuple):
            return self._record(value, dimension, where)
        parts = _listed(value)
        if parts is None or (isinstance(dimension, tuple) and len(parts) != len(dimension)):
            several = "a list is" if isinstance(dimension, list) else f"{len(dimension)} values are"
            self.bare.append(f"{where}: {several} expected, not {str(value)[:40]}")
            return None
        inner = dimension * len(parts) if isinstance(dimension, list) else dimension
        made = [self.plain(part, inner[i], f"{where}[{i}]") for i, part in enumerate(parts)]
        return tuple(made) if isinstance(dimension, tuple) else made

    def _magnitude(self, value: Any, dimension: str, where: str) -> Any:
        from barrowful.measures.quantities import likely, measures, si

        if not hasattr(likely(value), "units"):
            expected = f"{named(dimension)} as a quantity is expected"
            self.bare.append(f"{where}: {expected}, not {str(value)[:40]}")
        elif not measures(likely(value), dimension):
            self.wrong.append(f"{where}: {likely(value).units} is not {named(dimension)}")
        else:
            return si(value, dimension)
        return None

    def _record(self, value: Any, class_: type, where: str) -> Any:
        if not isinstance(value, class_):
            expected = named(class_.__name__.lower())
            self.bare.append(f"{where}: {expected} is expected, not {str(value)[:40]}")
        return value

    def refuse(self, function: str) -> None:
        """Refuse what is no quantity by TypeError, and a quantity of another dimension by ValueError."""
        if self.bare:
            raise TypeError(f"{function}: " + "; ".join(self.bare))
        if self.wrong:
            raise ValueError(f"{function}: " + "; ".join(self.wrong))
