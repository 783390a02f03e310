"""The columns of a sheet fitted to a width: headings broken first, then text, and left out last of all."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import NamedTuple

from barrowful.tables.report import Table
from barrowful.tables.writers.sheet import NOTE, SeenColumn
from barrowful.tables.writers.widths import columns_of, longest_word, wrapped

#: Columns of the screen between two columns of a table.
GAP = 2
#: Lines a heading may take before anything else gives way.
HEADING_LINES = 3
#: A longer word may be broken before a column is left out for it [columns of a screen].
LONG_WORD = 24
#: The narrowest that a text is squeezed to when nothing else is left to give way: a wide letter.
NARROWEST = 2


class Fitting(NamedTuple):
    """The columns that are shown with the width of each, and those left out."""

    columns: list[SeenColumn]
    widths: list[int]
    left_out: list[SeenColumn]


def fitted(columns: list[SeenColumn], table: Table, width: int) -> Fitting:
    """Return the columns of a table fitted to a width: as many as there is room for.

    Columns that are the first to go do so before a cell takes a second line, if that is enough.
    """
    going = list(_going(columns, table))
    for count in range(1 + sum(keys[0] in table.first_to_go for keys in going)):
        kept = _without(columns, going[:count])
        if widths := _whole(kept, width):
            return Fitting(kept, widths, [column for column in columns if column not in kept])
    for count in range(len(going) + 1):
        kept = _without(columns, going[:count])
        widths = _widths(kept, width, width) or _widths(kept, width, LONG_WORD)
        if widths:
            break
    else:
        widths = _widths(kept, width, NARROWEST) or [_least(column, NARROWEST) for column in kept]
    return Fitting(kept, widths, [column for column in columns if column not in kept])


def _without(columns: list[SeenColumn], gone: list[tuple[str, ...]]) -> list[SeenColumn]:
    """Return columns without those of some keys."""
    out = {key for keys in gone for key in keys}
    return [column for column in columns if column.key not in out]


def _going(columns: list[SeenColumn], table: Table) -> Iterator[tuple[str, ...]]:
    """Give the keys that may be left out, the first to go first: as declared, then from the right.

    Those that go together come at once.
    """
    known = {column.key for column in columns}
    fellows = {key: keys for keys in table.together for key in keys}
    last = [column.key for column in reversed(columns)]
    ordinary = [key for key in last if key not in table.always_shown]
    ordered = (key for key in (*table.first_to_go, *ordinary, *last) if key in known)
    for keys in dict.fromkeys(fellows.get(key, (key,)) for key in ordered):
        if not {NOTE, *table.identifies} & {*keys}:
            yield keys


def _widths(columns: list[SeenColumn], width: int, long_word: int) -> list[int]:
    """Return the width of each column so that all have room; nothing when they have not."""
    room, natural = width - GAP * (len(columns) - 1), list[int]()
    for lines in range(1, HEADING_LINES + 1):
        natural = [max(column.width, _narrowest(column.heading, lines)) for column in columns]
        if sum(natural) <= room:
            return natural
    return _squeezed(natural, [_least(column, long_word) for column in columns], room)


def _whole(columns: list[SeenColumn], width: int) -> list[int]:
    """Return the width of each column so that no name is broken; nothing when they have not the room."""
    least = [max(column.widest_name, _narrowest(column.heading, HEADING_LINES)) for column in columns]
    room = width - GAP * (len(columns) - 1)
    if sum(least) > room:
        return []
    natural = [max(column.width, low) for column, low in zip(columns, least, strict=True)]
    return _widths(columns, width, width) if sum(natural) <= room else _squeezed(natural, least, room)


def _squeezed(natural: list[int], least: list[int], room: int) -> list[int]:
    """Return widths from the least to the natural, the widest narrowed first; nothing without room."""
    for widest in range(room, 0, -1):
        widths = [min(wide, max(low, widest)) for wide, low in zip(natural, least, strict=True)]
        if sum(widths) <= room:
            return widths
    return []


def _least(column: SeenColumn, long_word: int) -> int:
    """Return the least width of a column when words up to so many columns of a screen are kept whole."""
    heading = _narrowest(column.heading, HEADING_LINES)
    cells = min(column.longest_word, long_word) if column.breaks else column.width
    return max(cells, heading if long_word > NARROWEST else min(heading, NARROWEST))


@cache
def _narrowest(heading: str, lines: int) -> int:
    """Return the narrowest width at which a heading takes at most so many lines."""
    width = longest_word(heading) if lines > 1 else columns_of(heading)
    while len(wrapped(heading, width)) > lines:
        width += 1
    return width
