"""Amounts as they would lie on their ground: what cannot be, and what can hardly be meant."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.catalogue.judgements import judgement
from barrowful.ground import amount
from barrowful.measures.fixed import fixed
from barrowful.measures.problems import Mark
from barrowful.measures.telling import AREA, DEPTH, LENGTH, VOLUME, Told, in_told
from barrowful.site.records import Place
from barrowful.sitefile.keys.need import FILL
from barrowful.sitefile.keys.site import HISTORY
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.quantity import limits

#: What rounding may add to a depth at its limit.
SLACK = 1 + 1e-9


@fixed
class TypedAmount:
    """Loose material [m3] that a line of the file puts on a place, and where the line stands."""

    where: str
    mark: Mark
    place: Place
    loose: float
    fills: bool

    @property
    def depth(self) -> float:
        """Return how deep it lies as spread [m]."""
        area = self.place.total_area
        return amount.depth(self.loose, area) if area else 0.0

    def __str__(self) -> str:
        place, area = self.place, self.place.total_area
        lies = f"{_told(self.depth, DEPTH)} deep as spread"
        return f"{self.where}: {_told(self.loose, VOLUME)} on {place.name} ({_told(area, AREA)}) lies {lies}"


def check_depths(amounts: Iterable[TypedAmount], context: ReadContext) -> None:
    """Refuse amounts that cannot lie on their ground, and ask about the deepest that hardly can.

    What can lie there is what the keys take that say it by its depth.
    """
    usual, deep = judgement("deepest_application"), []
    for typed in amounts:
        _, most = limits(FILL, "depth") if typed.fills else limits(HISTORY, "depth")
        if typed.depth > most * SLACK:
            whole = _told(most * typed.place.total_area, VOLUME)
            there = f"{_told(most, LENGTH)} is the most there can be, {whole}"
            sentence = f"{typed}; {there}. Look at the amount, its unit and the area"
            context.problem(typed.mark, "too-deep", sentence)
        elif typed.depth > usual * SLACK and not typed.fills:
            deep.append(typed)
    if deep:
        _ask(deep, usual, context)


def _ask(deep: list[TypedAmount], usual: float, context: ReadContext) -> None:
    """Ask about the deepest of some amounts, once, saying how many more there are."""
    worst = max(deep, key=lambda typed: typed.depth)
    more = f" ({len(deep) - 1} more lie too deep)" if len(deep) > 1 else ""
    filled = worst.where.startswith("history") and worst.place.kind in {"bed", "pot"}
    fill = ', or write "job: fill" where it filled the place' if filled else ""
    context.warning(
        worst.mark,
        "unusual",
        f"{worst}; more than {_told(usual, DEPTH)} at one time is unusual, that would be"
        f" {_told(usual * worst.place.total_area, VOLUME)}. Look at the amount and its unit{fill}{more}",
    )


def _told(value: float, sort: Told) -> str:
    seen, unit = in_told(value, sort)
    return f"{_short(seen)} {unit}"


def _short(value: float) -> str:
    """Return a number in three digits.

    >>> _short(1234.5), _short(0.01234)
    ('1,230', '0.0123')
    """
    return f"{float(f'{value:.3g}'):,g}"
