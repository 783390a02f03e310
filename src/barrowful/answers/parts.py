"""Who gets which part of what a way brings, in loose volume and in whole barrows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from barrowful.answers.orders import Sheet
from barrowful.costs.order import round_up


@dataclass(frozen=True, kw_only=True)
class Part:
    """What one place gets for one need, of one way on a day: loose volume [m3] and whole barrows."""

    way: str
    place: str
    need: str
    day: date
    loose: float
    barrows: int


def parts(sheet: Sheet) -> list[Part]:
    """Return the parts that an order sheet shares out, in its order."""
    barrow = sheet.selection.answer.site.labour.barrow
    return [
        Part(
            way=line.way,
            place=line.place.name,
            need=line.kind,
            day=line.day,
            loose=line.loose,
            barrows=round_up(line.loose / barrow),
        )
        for line in sheet.shares
    ]
