"""Amounts of ways together that are least of the one, or of the other, or between: whatever they cost."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from barrowful.measures.fixed import fixed
from barrowful.needs.decision import Decision
from barrowful.supplies.joint import Joint

#: What each m3 counts of a way of which there is to be least, the others nothing: a setting of the search.
HEAVY = 1e3
#: Digits of what a way counts, and by how much amounts are to be better to be others: settings of the search.
DIGITS, BETTER = 9, 1e-6
#: Times that amounts of one pair are worked out: a setting of the search.
MOST_LEANINGS = 8


@fixed(kw_only=False)
class Leaning:
    """Ways together with what they do, and how much [m3] goes on of each."""

    joint: Joint
    decision: Decision

    @property
    def amounts(self) -> tuple[float, ...]:
        """Return how much goes on of each way."""
        doses = self.decision.every_dose
        return tuple(sum(of.loose for of in doses if of.way == part.name) for part in self.joint.parts)

    def counted(self, weights: tuple[float, ...]) -> float:
        """Return what amounts come to at what each way counts."""
        return sum(weight * loose for weight, loose in zip(weights, self.amounts, strict=True))


def leanings(joint: Joint, decide: Callable[[Joint], Decision]) -> Iterator[Leaning]:
    """Yield ways together with the least of each of them, and for a pair with all that is best in between.

    No price is asked for. Between two amounts lies another that is less at weights by which they are even.
    """
    count = len(joint.parts)
    ends = [
        _leaning(joint, tuple(HEAVY * (at == index) for at in range(count)), decide) for index in range(count)
    ]
    yield from ends
    open_between, left = [(ends[0], ends[1])] if count == 2 else [], MOST_LEANINGS - count
    while open_between and left:
        one, other = open_between.pop(0)
        weights = _even(one, other)
        if weights is None:
            continue
        left -= 1
        between = _leaning(joint, weights, decide)
        if between.counted(weights) < one.counted(weights) * (1 - BETTER):
            yield between
            open_between += [(one, between), (between, other)]


def _leaning(joint: Joint, weights: tuple[float, ...], decide: Callable[[Joint], Decision]) -> Leaning:
    weighed = Joint(joint.parts, joint.at_best, joint.least_cash, weights)
    return Leaning(weighed, decide(weighed))


def _even(one: Leaning, other: Leaning) -> tuple[float, ...] | None:
    """Return weights by which two amounts come to the same; None where one is no less in either way."""
    more, less = (of - its for of, its in zip(other.amounts, one.amounts, strict=True))
    if more <= 0 or less >= 0:
        return None
    largest = max(more, -less)
    return tuple(float(f"{HEAVY * each / largest:.{DIGITS}g}") for each in (-less, more))
