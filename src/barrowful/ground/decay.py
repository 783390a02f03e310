"""Fresh carbon to humus, active and slow: first-order stages in closed form.

The equations are those of ICBM, as SoilR's example states them, with humus in two parts instead of one.
Source: [icbm-1997]; the two rates of humus follow bare fallows [highfield-fallow]
[ultuna-recalibration]. Their combination is this project's judgement and is labelled so.

Symbols: ``a`` = k1 f, fresh rate; ``b`` rate of humus, ``c`` that of slow humus, each with warmth,
moisture and clay; ``h`` carbon to humus for each carbon decayed; ``slow`` the share of that humus which
is slow; times in years, rates per year.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from barrowful.measures.dimensions import record, relation
from barrowful.measures.elementwise import exp
from barrowful.measures.fixed import fixed


@relation("share", years="time", a="rate")
def fresh_left(years: Any, a: Any) -> Any:
    """Return the share of the fresh carbon left after some years: exp(-a t).

    Source: [icbm-1997].

    >>> fresh_left(2.0, 0.35 * 1.093262)
    0.4652
    """
    return exp(-a * years)


@relation("share", years="time", a="rate", b="rate", h="share")
def humus_formed(years: Any, a: Any, b: Any, h: Any) -> Any:
    """Return humus carbon for each fresh carbon added ``years`` ago.

    h a / (a - b) (exp(-b t) - exp(-a t)); the limit h a t exp(-a t) where the rates meet.
    Source: [icbm-1997].

    >>> humus_formed(2.0, 0.35 * 1.093262, 0.13 * 1.093262, 0.40)
    0.1829
    """
    if abs(a - b) < 1e-9 * max(a, b, 1e-300):
        return h * a * years * exp(-a * years)
    return h * a / (a - b) * (exp(-b * years) - exp(-a * years))


@relation("share", years="time", b="rate", c="rate", active="share")
def present_humus_left(years: Any, b: Any, c: Any, active: Any) -> Any:
    """Return the share of the humus there is that is left after some years on bare ground.

    active exp(-b t) + (1 - active) exp(-c t). Source: [highfield-fallow], [ultuna-recalibration].

    >>> present_humus_left(10.0, 0.20, 0.014, 0.30)
    0.6492
    """
    return active * exp(-b * years) + (1 - active) * exp(-c * years)


@relation("time", left="share", a="rate")
def years_to_lose(left: float, a: float) -> float:
    """Return the years until only the share ``left`` of the fresh carbon remains; inf without decay.

    Source: [icbm-1997], turned round.

    >>> years_to_lose(0.5, 0.35 * 1.093262)
    1.8114
    """
    return -math.log(left) / a if a > 0 else math.inf


@record(carbon="mass", rate="rate")
@fixed(kw_only=False, eq=True)
class Rotting:
    """A stuff that rots: its fresh carbon [kg], and the rate at which that goes [1/year].

    >>> Rotting(carbon=74.0, rate=0.35).carbon
    74.0
    """

    carbon: float
    rate: float


@relation("time", left="share", stuffs=[Rotting])
def years_to_lose_of_several(left: float, stuffs: Sequence[Rotting]) -> float:
    """Return the years until only the share ``left`` of the fresh carbon of several stuffs together remains.

    sum c exp(-a t) = left sum c, by halving; inf where what does not decay is no less than that.
    Source: [icbm-1997], summed and turned round.

    >>> years_to_lose_of_several(0.5, [Rotting(1.0, 0.2), Rotting(1.0, 0.6)])
    1.9112
    """
    wanted = left * sum(stuff.carbon for stuff in stuffs)
    if sum(stuff.carbon for stuff in stuffs if stuff.rate <= 0) >= wanted:
        return math.inf
    low, high = 0.0, 1.0

    def remains(years: float) -> float:
        return sum(stuff.carbon * math.exp(-stuff.rate * years) for stuff in stuffs)

    while remains(high) > wanted:
        low, high = high, 2 * high
        if high > 1e12:  # no decay to speak of
            return math.inf
    while high - low > 1e-12 * high:
        middle = (low + high) / 2
        low, high = (middle, high) if remains(middle) > wanted else (low, middle)
    return high


@relation("share", age="time", a="rate")
def fresh_of_ages(age: float, a: float) -> float:
    """Return fresh carbon of yearly additions of 1 made for ever, the last of them ``age`` ago.

    exp(-a age) / (1 - exp(-a)): the geometric sum of :func:`fresh_left` at age, age + 1 and so on.
    Source: [icbm-1997], summed.

    >>> abs(fresh_of_ages(1.0, 0.8) - sum(fresh_left(year, 0.8) for year in range(1, 60))) < 1e-12
    True
    """
    return math.exp(-a * age) / -math.expm1(-a) if a > 0 else math.inf


@relation("share", half="time", years="time")
def depth_left(half: Any, years: Any) -> Any:
    """Return the share of a settled layer's depth left after some years, given its half-depth time.

    2^(-t / half). The form is this project's judgement; no measured series is known.

    >>> depth_left(2.0, 2.0)
    0.5
    """
    return 0.5 ** (years / half)


@relation("time", half="time", keep="share")
def years_to_top_up(half: float, keep: float) -> float:
    """Return the years until a layer falls to the share ``keep`` of its depth; none at the whole depth.

    Of the same judgement as :func:`depth_left`.

    >>> years_to_top_up(2.0, 0.6)
    1.474
    """
    if keep >= 1:
        return 0.0
    return half * math.log2(1 / keep) if keep > 0 else math.inf
