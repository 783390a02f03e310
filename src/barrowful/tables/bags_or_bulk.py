"""The table of bags against bulk: the volume from which bulk is cheaper."""

from __future__ import annotations

from barrowful.supplies.bags import BreakEven
from barrowful.tables import shared
from barrowful.tables.columns import VOLUME, number, text
from barrowful.tables.layout import Layout

FROM = "Volume from which bulk is cheaper, before steps and minimum."


def _advice(volume: float | None) -> str:
    """Return the break-even [m3] in words."""
    if volume is None:
        return "bags are never dearer by volume"
    return "bulk is cheaper from the first barrow" if volume == 0 else "bags are cheaper below it"


BAGS_OR_BULK: Layout[BreakEven] = Layout(
    name="bags_or_bulk",
    title="Bags or bulk, before steps and minimum orders",
    appears="where a material is sold both by the bag and in bulk",
    identifies=("bags", "bulk"),
    noted=("remark",),
    columns=(
        text("bags", "bags", "Way sold by the bag.", lambda pair: pair.bags.name),
        text("bulk", "bulk", "Way sold in bulk.", lambda pair: pair.bulk.name),
        shared.material(lambda pair: pair.bulk.material.name),
        number("break_even_m3", "bulk cheaper from", VOLUME, FROM, lambda pair: pair.volume),
        shared.remark(lambda pair: _advice(pair.volume), "The same in words."),
    ),
)
