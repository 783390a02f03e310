"""Records that are made by the ten thousand."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeVar, dataclass_transform

Record = TypeVar("Record")


@dataclass_transform(kw_only_default=True, eq_default=False, frozen_default=True)
def fixed(record: type[Record]) -> type[Record]:
    """Make a class a dataclass that is built by keyword, told apart by what it is, and never changed.

    The type checker holds that nobody changes one. Nothing does when the program runs: making a dataclass
    that is frozen then too takes more than twice as long.

    >>> @fixed
    ... class Barrow:
    ...     loose: float
    >>> Barrow(loose=0.08).loose
    0.08
    """
    return dataclass(kw_only=True, eq=False)(record)
