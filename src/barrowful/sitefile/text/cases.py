"""The cases of a what-if: names, and the changes each makes to the file's values."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from itertools import product
from math import prod
from typing import NamedTuple

from barrowful.measures.problems import UNSEEN, WrongUse, printable
from barrowful.measures.text import Measured
from barrowful.sitefile.text.vary import MOST_CASES, Cell, Varied, varied

Change = tuple[str, str]
#: The case that the others are held against: the file as it stands.
BASE = "base"
#: No measures of the grower's own.
NONE: Mapping[str, Measured] = {}


class Case(NamedTuple):
    """A case: its name, what it changes, and the values it has of what is varied, none where it is not."""

    name: str
    changes: tuple[Change, ...]
    cells: tuple[Cell, ...] = ()


class Cases(NamedTuple):
    """The cases that are asked for, and what is varied among them."""

    cases: list[Case]
    varied: tuple[Varied, ...] = ()


def cases_of(
    sets: Sequence[str], cases: Sequence[str], vary: Sequence[str], own: Mapping[str, Measured] = NONE
) -> Cases:
    """Return the cases that --set, --case and --vary ask for; a --set applies to every case.

    Several --vary give a grid, the last one's values next to each other. ``own`` are the grower's own
    measures by name.

    >>> cases_of(["a.b=1"], [], []).cases
    [Case(name='set', changes=(('a.b', '1'),), cells=())]
    >>> [case.name for case in cases_of([], ["dear:p=9 EUR"], ["q=1..2 m:2", "r=x,y"]).cases]
    ['dear', 'q=1 m, r=x', 'q=1 m, r=y', 'q=2 m, r=x', 'q=2 m, r=y']
    """
    common, named = changes_of(sets), dict[str, list[Change]]()
    for text in cases:
        name, colon, rest = text.partition(":")
        if not colon or not name.strip():
            raise WrongUse(f'"{text}" is not a case; write --case "NAME:PATH=VALUE"')
        named.setdefault(_name(name.strip()), []).append(_change(rest))
    axes = tuple(varied(*_change(text), own) for text in vary)
    _check_axes(axes, len(named))
    _check_common(common, [*(axis.path for axis in axes), *(path for of in named.values() for path, _ in of)])
    every = [Case(name, (*common, *changes)) for name, changes in named.items()]
    every += _grid(common, axes)
    if common and not every:
        every = [Case("set", tuple(common))]
    if twice := next((name for name, count in Counter(case.name for case in every).items() if count > 1), ""):
        raise WrongUse(f'two cases are called "{twice}"; give each a name of its own')
    return Cases(every, axes)


def _name(name: str) -> str:
    """Return the name of a case, which may not be that of the file as it stands."""
    _check_seen(name)
    if name == BASE:
        raise WrongUse(f'"{BASE}" is the file as it stands; give the case another name')
    return name


def _check_common(common: Sequence[Change], others: Sequence[str]) -> None:
    """Refuse to set for every case what some case has a value of its own for."""
    if both := next((path for path, _ in common if path in others), ""):
        raise WrongUse(f'"{both}" is set for every case, and has other values in some; leave out one')


def _check_axes(axes: Sequence[Varied], others: int) -> None:
    """Refuse a path that is varied twice, and more cases than are worked out at once."""
    for path, count in Counter(axis.path for axis in axes).items():
        if count > 1:
            raise WrongUse(f'"{path}" is varied twice; give all its values in one --vary "PATH=a,b,c"')
    count = others + (prod(len(axis.values) for axis in axes) if axes else 0)
    if count > MOST_CASES:
        raise WrongUse(f"{count:,} cases are more than {MOST_CASES:,}; give fewer values, or fewer --vary")


def _grid(common: Sequence[Change], axes: Sequence[Varied]) -> list[Case]:
    """Return a case for each combination of the values of all that is varied."""
    return [
        Case(
            name=", ".join(f"{axis.path}={value.text}" for axis, value in zip(axes, values, strict=True)),
            changes=(*common, *((axis.path, of.text) for axis, of in zip(axes, values, strict=True))),
            cells=tuple(value.cell for value in values),
        )
        for values in (product(*(axis.values for axis in axes)) if axes else ())
    ]


def changes_of(sets: Sequence[str]) -> list[Change]:
    """Return the changes that --set asks for.

    >>> changes_of(["places.beds.count=3", "site = Far = Near"])
    [('places.beds.count', '3'), ('site', 'Far = Near')]
    """
    return [_change(text) for text in sets]


def _check_seen(text: str) -> None:
    """Refuse a letter that a terminal might obey, and nobody sees."""
    if hidden := UNSEEN.search(text):
        letter = f"U+{ord(hidden.group()):04X}"
        raise WrongUse(f'"{printable(text)}" has an invisible control character ({letter}); leave it out')


def _change(text: str) -> Change:
    _check_seen(text)
    path, equals, value = text.partition("=")
    if not equals or not path.strip() or not value.strip():
        raise WrongUse(f'"{text}" is not a change; write "PATH=VALUE"')
    return path.strip(), value.strip()
