"""What can hardly be so, or cannot, once amounts meet the ground they are put on."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from barrowful.catalogue.judgements import judgement
from barrowful.measures.problems import Mark
from barrowful.site.builder import Builder
from barrowful.site.records import Place

#: Nothing typed lies deeper than this [m]; a fill may be as deep as the key ``fill.depth`` takes.
DEEPEST, DEEPEST_FILL = 5.0, 10.0


@dataclass(frozen=True, kw_only=True)
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
        return self.loose / self.place.total_area if self.place.total_area else 0.0

    def __str__(self) -> str:
        place, area = self.place, self.place.total_area
        lies = f"{_short(100 * self.depth)} cm deep as spread"
        return f"{self.where}: {_short(self.loose)} m3 on {place.name} ({_short(area)} m2) lies {lies}"


def check_depths(amounts: Iterable[TypedAmount], builder: Builder) -> None:
    """Refuse amounts that cannot lie on their ground, and ask about the deepest that hardly can."""
    usual, deep = judgement("deepest_application"), []
    for amount in amounts:
        most = DEEPEST_FILL if amount.fills else DEEPEST
        if amount.depth > most * (1 + 1e-9):
            builder.problem(
                amount.mark, "too-deep",
                f"{amount}; {most:g} m is the most there can be, {_short(most * amount.place.total_area)} m3."
                " Look at the amount, its unit and the area",
            )  # fmt: skip
        elif amount.depth > usual * (1 + 1e-9) and not amount.fills:
            deep.append(amount)
    if deep:
        worst = max(deep, key=lambda amount: amount.depth)
        more = f" ({len(deep) - 1} more lie too deep)" if len(deep) > 1 else ""
        builder.warning(
            worst.mark, "unusual",
            f"{worst}; more than {100 * usual:g} cm at one time is unusual, that would be"
            f" {_short(usual * worst.place.total_area)} m3. Look at the amount and its unit{more}",
        )  # fmt: skip


def _short(value: float) -> str:
    """Return a number in three digits.

    >>> _short(1234.5), _short(0.01234)
    ('1,230', '0.0123')
    """
    return f"{float(f'{value:.3g}'):,g}"
