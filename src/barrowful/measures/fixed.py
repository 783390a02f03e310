"""Records that are made quickly: their classes when a command starts, and themselves by the ten thousand."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, fields
from operator import attrgetter
from typing import Any, TypeVar, dataclass_transform, overload

Record = TypeVar("Record")


@overload
def fixed(record: type[Record], /) -> type[Record]: ...
@overload
def fixed(
    *, kw_only: bool = True, eq: bool = False, frozen: bool = False
) -> Callable[[type[Record]], type[Record]]: ...
@dataclass_transform(kw_only_default=True, eq_default=False, frozen_default=True)
def fixed(
    record: type[Record] | None = None, /, *, kw_only: bool = True, eq: bool = False, frozen: bool = False
) -> Any:
    """Make a class a dataclass that never changes, built by keyword and told apart by what it is.

    With ``eq`` its records are told apart, and looked up, by what they hold. The type checker holds that
    nobody changes one; when the program runs only what is ``frozen`` does. All classes share one way to show
    and to compare a record: a dataclass that is frozen, with functions of its own, takes three times as long
    to make, and commands make a hundred.

    >>> @fixed
    ... class Barrow:
    ...     loose: float
    >>> Barrow(loose=0.08)
    Barrow(loose=0.08)
    >>> @fixed(kw_only=False, eq=True)
    ... class Trip:
    ...     barrow: float
    ...     push: float
    >>> Trip(0.08, 40.0) == Trip(0.08, 40.0), len({Trip(0.08, 40.0), Trip(0.08, 40.0)})
    (True, 1)
    """

    def made(record: type[Any]) -> type[Any]:
        known: Any = dataclass(kw_only=kw_only, eq=False, repr=False, frozen=frozen)(record)
        shared: dict[str, Any] = {"__repr__": _shown}
        if eq:
            names = [field.name for field in fields(known)]
            known._holds = property(attrgetter(*names)) if names else ()
            shared |= {"__eq__": _alike, "__hash__": _hashed}
        for name, function in shared.items():
            if name not in record.__dict__:
                setattr(known, name, function)
        return known  # type: ignore[no-any-return]

    return made if record is None else made(record)


def _shown(self: Any) -> str:
    told = ", ".join(f"{field.name}={getattr(self, field.name)!r}" for field in fields(self) if field.repr)
    return f"{type(self).__qualname__}({told})"


def _alike(self: Any, other: Any) -> Any:
    return self._holds == other._holds if type(other) is type(self) else NotImplemented


def _hashed(self: Any) -> int:
    return hash(self._holds)
