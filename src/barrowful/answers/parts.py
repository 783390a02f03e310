"""Who gets which part of what a way brings, in loose volume and in whole barrows."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from barrowful.answers.orders import Sheet
from barrowful.measures.elementwise import round_up


class Part(NamedTuple):
    """What one place gets for one need, of one way on a day: loose volume [m3] and whole barrows."""

    way: str
    place: str
    need: str
    day: date
    loose: float
    barrows: int
    origin: str = ""  #: of stock on hand; what is bought says so with its order


def parts(sheet: Sheet) -> list[Part]:
    """Return the parts that an order sheet shares out, in its order."""
    answer, ordered = sheet.selection.answer, {line.way.name for line in sheet.orders}
    origins = {name: of.provenance for name, of in answer.supplies.items() if name not in ordered}
    return [
        Part(
            way=line.way,
            place=line.place.name,
            need=line.kind,
            day=line.day,
            loose=line.loose,
            barrows=round_up(line.loose / answer.site.labour.barrow),
            origin=origins.get(line.way, ""),
        )
        for line in sheet.shares
    ]
