"""Hours: barrowing by push distance, spreading, digging in, building, turning, cutting, planting."""

from __future__ import annotations

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.rates import rates
from barrowful.measures.dimensions import relation
from barrowful.measures.fixed import fixed


@fixed(kw_only=False)
class Hours:
    """Low, likely and high hours of one person."""

    low: float = 0.0
    likely: float = 0.0
    high: float = 0.0

    @property
    def compared(self) -> float:
        """Return the likely hours to a hundredth of a second: a float's last digit decides nothing."""
        return round(self.likely, 6)

    def __add__(self, other: Hours) -> Hours:
        return Hours(self.low + other.low, self.likely + other.likely, self.high + other.high)

    def times(self, factor: float) -> Hours:
        """Return these hours so many times over."""
        return Hours(self.low * factor, self.likely * factor, self.high * factor)


@relation(
    "work on volume",
    push="length",
    barrow="volume",
    fill="hours",
    tip="hours",
    speed="speed",
    rake="work on volume",
)
def barrowing(push: float, barrow: float, fill: float, tip: float, speed: float, rake: float) -> float:
    """Return hours for each loose m3 to fill, push [m one way], tip and rake out.

    ((fill + tip + 2 push / speed) / barrow) + rake. The form is this project's; at 40 m with an
    85 L barrow it gives 1.3 h/m3, inside reports of 0.65 to 3 h/m3 by practised people.

    >>> barrowing(40.0, 0.085, 3 / 60, 0.5 / 60, 60.0, 20 / 60)
    1.28
    """
    return (fill + tip + 2 * push / speed / 60) / barrow + rake


def wheeling(loose: float, push: float, barrow: float) -> Hours:
    """Return the hours to fill, push and tip a loose volume [m3], without spreading it."""
    found = rates()

    def at(end: str, quick: str) -> float:
        fill, tip = (getattr(found[name], end) for name in ("barrow_fill", "barrow_tip"))
        return loose * barrowing(push, barrow, fill, tip, getattr(found["barrow_speed"], quick), 0.0)

    return Hours(at("low", "high"), at("likely", "likely"), at("high", "low"))


def spreading(loose: float, push: float, barrow: float) -> Hours:
    """Return the hours to barrow and spread a loose volume [m3]."""
    return wheeling(loose, push, barrow) + work("rake_out", loose)


def work(name: str, amount: float) -> Hours:
    """Return the hours of a catalogue rate for an amount in its unit."""
    figure: Figure = rates()[name]
    return Hours(amount * figure.low, amount * figure.likely, amount * figure.high)


def carrying(fresh: float, push: float) -> Hours:
    """Return the hours to carry fresh leaf [kg] by barrow over a push [m]."""
    found = rates()
    per_trip = 2 * push / found["barrow_speed"].likely / 60 + found["barrow_tip"].likely
    barrows = found["leaf_barrow"]
    return Hours(fresh / barrows.high, fresh / barrows.likely, fresh / barrows.low).times(per_trip)
