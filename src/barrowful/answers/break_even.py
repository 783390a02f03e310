"""Where the best ways of the whole site change: at which price, distance, depth or day, by halving."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from itertools import pairwise
from math import floor, log10
from typing import NamedTuple

from barrowful.answers.cases import CaseAnswer, Standing
from barrowful.answers.outlook import Outlook, best_outlook, best_picks, differing, outlook_by
from barrowful.answers.together import Picks
from barrowful.measures.fixed import fixed
from barrowful.measures.money import currencies
from barrowful.measures.problems import WrongUse
from barrowful.sitefile.text.cases import Change
from barrowful.sitefile.text.vary import Cell

#: Values that are looked at first, and how many steps a range has at least: how fine a search looks.
LOOKED_AT, LEAST_STEPS = 33, 2_000


@fixed
class Scale:
    """The values of a path from low to high that are told apart: even steps of a number, or days."""

    path: str
    unit: str
    low: Decimal | date
    high: Decimal | date
    step: Decimal = Decimal(1)

    @property
    def is_days(self) -> bool:
        """Say whether the values are days."""
        return isinstance(self.low, date)

    @property
    def last(self) -> int:
        """Return the number of the last value; the first is 0."""
        if isinstance(self.low, date) or isinstance(self.high, date):
            return date_of(self.high).toordinal() - date_of(self.low).toordinal()
        steps, rest = divmod(self.high - self.low, self.step)
        return int(steps) + (1 if rest else 0)

    def value(self, index: int) -> Decimal | date:
        """Return a value by its number."""
        if index == self.last:
            return self.high
        if isinstance(self.low, date):
            return date.fromordinal(self.low.toordinal() + index)
        return self.low + index * self.step

    def cell(self, index: int) -> Cell:
        """Return a value as a machine gets it."""
        value = self.value(index)
        return float(value) if isinstance(value, Decimal) else value

    def text(self, index: int) -> str:
        """Return a value as it would be typed."""
        value = self.value(index)
        return value.isoformat() if isinstance(value, date) else f"{value.normalize():f} {self.unit}".strip()


def date_of(end: Decimal | date) -> date:
    """Return the end of a range of days."""
    assert isinstance(end, date)
    return end


class BreakEven(NamedTuple):
    """A value from which on a kind of need is best met otherwise; the whole site just before and then."""

    path: str
    unit: str
    at: Cell
    text: str
    need: str
    before: str
    after: str
    was: Outlook
    now: Outlook
    #: What the whole site would cost there by the ways from before, where these meet as much.
    unchanged: Decimal | None


class Search(NamedTuple):
    """What was looked at, how, and what was found: the whole site at either end, and each change."""

    scale: Scale
    looked_at: int
    why: str
    first: Outlook
    last: Outlook
    changes: tuple[BreakEven, ...]


@dataclass(eq=False)
class _Points:
    """The whole site at each value that is looked at, worked out once."""

    standing: Standing
    scale: Scale
    known: dict[int, tuple[Outlook, Picks]] = field(default_factory=dict)

    def __getitem__(self, index: int) -> Outlook:
        if index not in self.known:
            case = self._case(index)
            self.known[index] = best_outlook(case), best_picks(case)
        return self.known[index][0]

    def _case(self, index: int) -> CaseAnswer:
        text = self.scale.text(index)
        changes: Sequence[Change] = [(self.scale.path, text)]
        return self.standing.beside(text, self.standing.changed(f"{self.scale.path}={text}", changes))

    def unchanged(self, index: int) -> Decimal | None:
        """Return what the whole site would cost at a value by the ways that are best just before it."""
        by_before = outlook_by(self._case(index), self.known[index - 1][1])
        return None if by_before is None or by_before.met < self[index].met else by_before.cash


def break_evens(standing: Standing, scale: Scale, count: int, why: str) -> Search:
    """Return where the best ways change between the ends of a scale.

    So many values are looked at first; where two next to each other differ, the values between are halved
    until two next to each other are left, and halved again on both sides where a third answer comes up.
    """
    points, last = _Points(standing, scale), scale.last
    looked_at = sorted({round(last * index / (count - 1)) for index in range(count)})
    for end in (0, last):  # an end that its field refuses is told first
        points[end]
    steps = [step for low, high in pairwise(looked_at) for step in _changes(points, low, high)]
    return Search(
        scale=scale,
        looked_at=len(looked_at),
        why=why,
        first=points[0],
        last=points[last],
        changes=tuple(change for step in steps for change in _told(points, step)),
    )


def _changes(points: _Points, low: int, high: int) -> Iterator[int]:
    """Give each value at which another answer begins than just before it, between two."""
    if points[low].served == points[high].served:
        return
    if high - low == 1:
        yield high
        return
    middle = (low + high) // 2
    yield from _changes(points, low, middle)
    yield from _changes(points, middle, high)


def _told(points: _Points, index: int) -> Iterator[BreakEven]:
    """Give what changes at a value, a kind of need after the other."""
    scale, was, now = points.scale, points[index - 1], points[index]
    unchanged = points.unchanged(index)
    for need, before, after in differing(was, now):
        yield BreakEven(
            path=scale.path,
            unit=scale.unit,
            at=scale.cell(index),
            text=scale.text(index),
            need=need,
            before=before,
            after=after,
            was=was,
            now=now,
            unchanged=unchanged,
        )


def scale_of(path: str, unit: str, low: Decimal | date, high: Decimal | date, whole: bool) -> Scale:
    """Return the scale from one end to another: days, whole numbers, or fine even steps, a coin at most."""
    if isinstance(low, date) or isinstance(high, date):
        days = sorted((date_of(low), date_of(high)))
        return Scale(path=path, unit="", low=days[0], high=days[1])
    low, high = min(low, high), max(low, high)
    if low == high:
        raise WrongUse(f'"{path}": both ends are {low:f} {unit}'.rstrip() + "; give two that differ")
    step = Decimal(1) if whole else Decimal(1).scaleb(floor(log10((high - low) / LEAST_STEPS)))
    code = unit.partition("/")[0].strip()
    coin = Decimal(1).scaleb(-currencies()[code]) if code in currencies() else step
    return Scale(path=path, unit=unit, low=low, high=high, step=min(step, coin))
