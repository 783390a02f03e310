"""Amounts as they would lie on their ground: what cannot be, and what can hardly be meant."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from barrowful.catalogue.judgements import judgement
from barrowful.ground import amount
from barrowful.measures.problems import Mark
from barrowful.site.records import Place
from barrowful.sitefile.keys.need import FILL
from barrowful.sitefile.keys.site import HISTORY
from barrowful.sitefile.language.context import ReadContext
from barrowful.sitefile.language.quantity import limits

#: What rounding may add to a depth at its limit.
SLACK = 1 + 1e-9


@dataclass(frozen=True, kw_only=True, eq=False)
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
        lies = f"{_short(100 * self.depth)} cm deep as spread"
        return f"{self.where}: {_short(self.loose)} m3 on {place.name} ({_short(area)} m2) lies {lies}"


def check_depths(amounts: Iterable[TypedAmount], context: ReadContext) -> None:
    """Refuse amounts that cannot lie on their ground, and ask about the deepest that hardly can.

    What can lie there is what the keys take that say it by its depth.
    """
    usual, deep = judgement("deepest_application"), []
    for typed in amounts:
        _, most = limits(FILL, "depth") if typed.fills else limits(HISTORY, "depth")
        if typed.depth > most * SLACK:
            there = f"{most:g} m is the most there can be, {_short(most * typed.place.total_area)} m3"
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
    context.warning(
        worst.mark,
        "unusual",
        f"{worst}; more than {100 * usual:g} cm at one time is unusual, that would be"
        f" {_short(usual * worst.place.total_area)} m3. Look at the amount and its unit{more}",
    )


def _short(value: float) -> str:
    """Return a number in three digits.

    >>> _short(1234.5), _short(0.01234)
    ('1,230', '0.0123')
    """
    return f"{float(f'{value:.3g}'):,g}"
