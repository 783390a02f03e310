"""Draws of what values may be, as arrays: the last of each is what the value likely is.

numpy works on them. Its streams of luck are used as they come, and put in order here: so they stay the same
from one version of it to the next.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import reduce
from math import inf
from typing import Any, NamedTuple

from barrowful.measures.elementwise import at_least, at_most, likely, per
from barrowful.measures.problems import WrongUse

#: Bits of a number of luck that a float holds.
BITS = 53
#: What rounding may leave an answer short of what it has to reach, as a share.
NEAR = 1e-6
#: Amounts that are sized each by what binds it; more grow and shrink alike: a setting of the search.
MOST_SOLVED = 6
#: Levels at which is reckoned what is not reckoned for each draw: a setting of the search.
MOST_LEVELS = 24
#: The shares of the draws that a range is told at.
TOLD = (0.1, 0.5, 0.9)


class Spread(NamedTuple):
    """What a value is no more than in one, five and nine of ten draws."""

    ten: float
    fifty: float
    ninety: float


def need_numpy() -> None:
    """Refuse to draw where numpy is missing."""
    try:
        import numpy  # noqa: F401
    except ImportError:
        raise WrongUse("ranges need numpy: pip install 'barrowful[full]'") from None


def strata(name: str, seed: int, count: int) -> Any:
    """Return so many shares, one out of each equal part of 0 to 1, in an order that name and seed settle.

    A Latin hypercube has one such list for each of its sides: McKay, Beckman and Conover (1979),
    Technometrics 21, 239-245, second-hand. The second half mirrors the first, so that what is too much in one
    draw is too little in another, and the middle of what goes nearly straight is met with few draws.
    """
    import numpy

    luck, half = numpy.random.PCG64(numpy.random.SeedSequence([seed, *name.encode()])), count // 2
    order = numpy.argsort(luck.random_raw(half), kind="stable")
    above = luck.random_raw(half) >> numpy.uint64(63) > 0
    inside = ((luck.random_raw(half + 1) >> numpy.uint64(64 - BITS)) + 0.5) / 2.0**BITS
    shares = (numpy.where(above, count - 1 - order, order) + inside[:-1]) / count
    middle = [(half + inside[-1]) / count] if count % 2 else []
    return numpy.concatenate([shares, 1 - shares, middle])


def triangle(shares: Any, low: float, likely: float, high: float) -> Any:
    """Return the values of a triangle from low to high with its top at likely, below which shares of it lie.

    The likely value stands after them. By definition of the triangular distribution, turned round.
    """
    import numpy

    width, left, right = high - low, likely - low, high - likely
    rising = low + numpy.sqrt(shares * width * left)
    falling = high - numpy.sqrt((1 - shares) * width * right)
    return numpy.append(numpy.where(shares * width < left, rising, falling), likely)


def spread(draws: Any) -> Spread:
    """Return what draws are no more than in one, five and nine of ten: each is one of the draws."""
    import numpy

    if isinstance(draws, (float, int)):
        return Spread(*(float(draws) for _ in TOLD))
    told = numpy.quantile(draws[:-1], TOLD, method="inverted_cdf")
    return Spread(*map(float, told))


def width(draws: Any) -> float:
    """Return how far apart draws lie in eight of ten."""
    told = spread(draws)
    return told.ninety - told.ten


def varies(draws: Any) -> bool:
    """Say whether draws differ by more than rounding."""
    if isinstance(draws, (float, int)):
        return False
    low, high = float(draws.min()), float(draws.max())
    return high - low > NEAR * max(abs(low), abs(high))


def share_within(draws: Any, most: float) -> float:
    """Return in which share of the draws a value is no more than so much."""
    if isinstance(draws, (float, int)):
        return float(draws <= most)
    return float((draws[:-1] <= most).mean())


def levels_of(draws: Any) -> list[float]:
    """Return the values that draws have, each once, in order."""
    import numpy

    return [float(level) for level in numpy.unique(draws[:-1])]


def ranks(draws: Any) -> Any:
    """Return the ranks of draws, from 0; equal ones have the mean of theirs."""
    import numpy

    values = draws[:-1]
    _, which, counts = numpy.unique(values, return_inverse=True, return_counts=True)
    ends = numpy.cumsum(counts)
    return ((ends - counts + ends - 1) / 2)[which.reshape(-1)]


def explained(ranked: Any, by: Any) -> float:
    """Return the share of what ranks vary that ranks of something else explain: Spearman's rho, squared."""
    import numpy

    one, other = ranked - ranked.mean(), by - by.mean()
    both = float(numpy.sqrt((one @ one) * (other @ other)))
    return (float(one @ other) / both) ** 2 if both > 0 else 0.0


def nearest_levels(draws: Any) -> tuple[list[float], Callable[[Sequence[Any]], Any]]:
    """Return a few values that draws are near to, and what gives each draw that of its level.

    They are told to a hundredth; where that is many, they are quantiles. The likely value is one of them.
    """
    import numpy

    if isinstance(draws, (float, int)):
        return [float(draws)], lambda values: values[0]
    levels = numpy.unique(numpy.append(numpy.round(draws[:-1], 2), draws[-1]))
    if len(levels) > MOST_LEVELS:
        levels = numpy.unique(
            numpy.append(numpy.quantile(draws[:-1], numpy.linspace(0, 1, MOST_LEVELS)), draws[-1])
        )
    which = abs(draws[:, None] - levels[None, :]).argmin(axis=1)

    def of_levels(values: Sequence[Any]) -> Any:
        rows = numpy.array([numpy.broadcast_to(value, draws.shape) for value in values])
        return rows[which, numpy.arange(len(draws))]

    return [float(level) for level in levels], of_levels


class AtLeast(NamedTuple):
    """What each unit of some amounts makes, draw by draw, and the least that they have to make together."""

    each: Sequence[Any]
    least: Any


class AtMost(NamedTuple):
    """What each unit of some amounts uses of something, draw by draw, and the most there is of it."""

    uses: Sequence[Any]
    most: Any

    def left(self, before: Sequence[Any]) -> Any:
        """Return how much of the next amount may be, after those before it."""
        return at_least(per(self._unused(before), self.uses[len(before)], inf), 0.0)

    def after(self, before: Sequence[Any], count: int) -> AtMost:
        """Return what is left of it for the next few amounts, after those before them."""
        left = at_least(self._unused(before), 0.0)
        return AtMost(self.uses[len(before) : len(before) + count], left)

    def _unused(self, before: Sequence[Any]) -> Any:
        """Return what the first few amounts leave of it; below nothing where they use more."""
        return self.most - sum((use * amount for use, amount in zip(self.uses, before, strict=False)), 0.0)


def met_by(amounts: Sequence[Any], rows: Sequence[AtLeast]) -> Any:
    """Return the share of what rows ask that amounts make, of the row that has the least of its own."""
    shares = [per(_made(row, amounts), row.least, 1.0) for row in rows]
    return at_least(at_most(reduce(at_most, shares, 1.0), 1.0), 0.0)


def resized(amounts: Sequence[float], rows: Sequence[AtLeast], limits: Sequence[AtMost]) -> list[Any]:
    """Return amounts for each draw, within limits, that make what rows ask as the likely ones do.

    What binds the likely amounts, rows and limits, binds those of every draw. Where that leaves another row
    unmet, or an amount below nothing or beyond a limit, or where not as much binds as there are amounts, all
    grow or shrink alike until every row is met, with as much to spare as is likely, as far as limits let
    them. Rows that the likely amounts do not meet are left out, and those no amount would meet in a draw.
    """
    import numpy

    rows = [row for row in rows if _meets(row, amounts)]
    times = reduce(
        numpy.maximum,
        [per(row.least, _made(row, amounts), 0.0) for row in rows if likely(row.least) > 0],
        numpy.zeros(1),
    )
    times = times / times[-1] if times[-1] > 0 else numpy.ones(1)
    whole = [AtLeast([-use for use in limit.uses], -limit.most) for limit in limits]
    for row in whole:
        times = numpy.minimum(times, per(-row.least, -_made(row, amounts), inf))
    alike = [amount * _plain(times) for amount in amounts]
    if len(amounts) == 1 or len(amounts) > MOST_SOLVED:
        return alike
    binding = _independent([row for row in (*rows, *whole) if _binds(row, amounts)])
    if len(binding) < len(amounts):
        return alike
    return [*map(_plain, _where_met(_solved(binding), alike, [*rows, *whole]))]


def _plain(values: Any) -> Any:
    """Return what is the same in every draw as a number."""
    return float(values[0]) if len(values) == 1 else values


def _independent(rows: Sequence[AtLeast]) -> list[AtLeast]:
    """Return the first rows that each say something of their own of the likely amounts."""
    import numpy

    kept: list[AtLeast] = []
    for row in rows:
        sides = [[likely(each) for each in of.each] for of in (*kept, row)]
        if numpy.linalg.matrix_rank(numpy.array(sides)) == len(sides):
            kept.append(row)
    return kept


def _made(row: AtLeast, amounts: Sequence[Any]) -> Any:
    """Return what amounts make of a row, in each draw."""
    import numpy

    return numpy.atleast_1d(sum(each * amount for each, amount in zip(row.each, amounts, strict=True)))


def _meets(row: AtLeast, amounts: Sequence[float]) -> bool:
    least = likely(row.least)
    return bool(_made(row, amounts)[-1] >= least - NEAR * abs(least))


def _binds(row: AtLeast, amounts: Sequence[float]) -> bool:
    least = likely(row.least)
    return bool(_made(row, amounts)[-1] <= least + NEAR * abs(least))


def _solved(rows: Sequence[AtLeast]) -> list[Any]:
    """Return the amounts of each draw at which as many rows are just met; not a number where none are."""
    import numpy

    values = [[*row.each, row.least] for row in rows]
    count = max(numpy.size(value) for row in values for value in row)
    table = numpy.array([[numpy.broadcast_to(value, count) for value in row] for row in values])
    sides, least = table[:, :-1].transpose(2, 0, 1), table[:, -1:].transpose(2, 0, 1)
    sound = abs(numpy.linalg.det(sides)) > 0
    found = numpy.full(least.shape, numpy.nan)
    found[sound] = numpy.linalg.solve(sides[sound], least[sound])
    return [found[:, number, 0] for number in range(len(rows))]


def _where_met(found: Sequence[Any], otherwise: Sequence[Any], rows: Sequence[AtLeast]) -> list[Any]:
    """Return amounts where they meet every row and none is below nothing, elsewhere others."""
    import numpy

    met = numpy.all([amount >= 0 for amount in found], axis=0)
    for row in rows:
        met = met & (_made(row, found) >= row.least - NEAR * abs(row.least))
    return [numpy.where(met, own, other) for own, other in zip(found, otherwise, strict=True)]
