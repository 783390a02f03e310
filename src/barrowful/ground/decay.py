"""Fresh carbon to humus: two first-order stages in closed form.

Source of the equations: ICBM (Andren & Katterer 1997, Ecological Applications 7:1226-1236), read
in the SoilR example script; rates after AMG (Clivot et al. 2019). The combination is this
project's own and is labelled so.

Symbols: ``x`` carbon added at time 0; ``a`` = k1 f, fresh rate; ``b`` = kH f fclay, humus rate;
``h`` carbon to humus for each carbon decayed; times in years, rates per year.
"""

from __future__ import annotations

import math
from typing import Any

from barrowful.measures.dimensions import relation
from barrowful.measures.elementwise import exp


@relation("share", years="time", a="rate")
def fresh_left(years: Any, a: Any) -> Any:
    """Return the share of the fresh carbon left after some years: exp(-a t).

    >>> fresh_left(2.0, 0.35 * 1.093262)
    0.4652
    """
    return exp(-a * years)


@relation("share", years="time", a="rate", b="rate", h="share")
def humus_formed(years: Any, a: Any, b: Any, h: Any) -> Any:
    """Return humus carbon for each fresh carbon added ``years`` ago.

    h a / (a - b) (exp(-b t) - exp(-a t)); the limit h a t exp(-a t) where the rates meet.

    >>> humus_formed(2.0, 0.35 * 1.093262, 0.13 * 1.093262, 0.40)
    0.1829
    """
    if abs(a - b) < 1e-9 * max(a, b, 1e-300):
        return h * a * years * exp(-a * years)
    return h * a / (a - b) * (exp(-b * years) - exp(-a * years))


@relation("time", a="rate", b="rate")
def humus_peak(a: float, b: float) -> float:
    """Return when the humus from one addition is greatest: ln(a / b) / (a - b); inf if a rate is 0.

    >>> humus_peak(0.35 * 1.093262, 0.13 * 1.093262)
    4.1178
    """
    if a <= 0 or b <= 0:
        return math.inf
    if abs(a - b) < 1e-9 * max(a, b):
        return 1 / a
    return math.log(a / b) / (a - b)


@relation("time", left="share", a="rate")
def years_to_lose(left: float, a: float) -> float:
    """Return the years until only the share ``left`` of the fresh carbon remains; inf without decay.

    >>> years_to_lose(0.5, 0.35 * 1.093262)
    1.8114
    """
    return -math.log(left) / a if a > 0 else math.inf


@relation("share", a="rate")
def fresh_after_yearly(count: float, a: float) -> float:
    """Return fresh carbon at the end of year ``count`` of yearly additions of 1; inf for the limit.

    x q (1 - q^n) / (1 - q), q = exp(-a).

    >>> fresh_after_yearly(5, 0.8 * 1.093262)
    0.7063
    """
    return _yearly(count, a)


@relation("share", a="rate", b="rate", h="share")
def humus_after_yearly(count: float, a: float, b: float, h: float) -> float:
    """Return humus carbon at the end of year ``count`` of yearly additions of 1; inf for the limit.

    h a / (a - b) (s (1 - s^n) / (1 - s) - q (1 - q^n) / (1 - q)), q = exp(-a), s = exp(-b).

    >>> humus_after_yearly(10, 0.8 * 1.093262, 0.13 * 1.093262, 0.70)
    3.5539
    >>> humus_after_yearly(math.inf, 0.8 * 1.093262, 0.13 * 1.093262, 0.70) > 4.556
    True
    """
    if a <= 0:
        return 0.0
    if abs(a - b) < 1e-9 * max(a, b):
        a = b * (1 + 1e-6)
    return h * a / (a - b) * (_yearly(count, b) - _yearly(count, a))


@relation("share", age="time", a="rate")
def fresh_of_ages(age: float, a: float) -> float:
    """Return fresh carbon of yearly additions of 1 made for ever, the last of them ``age`` ago.

    exp(-a age) / (1 - exp(-a)); the limit of :func:`fresh_after_yearly` at age 1.

    >>> abs(fresh_of_ages(1.0, 0.8) - fresh_after_yearly(math.inf, 0.8)) < 1e-12
    True
    """
    return math.exp(-a * age) / -math.expm1(-a) if a > 0 else math.inf


@relation("share", age="time", a="rate", b="rate", h="share")
def humus_of_ages(age: float, a: float, b: float, h: float) -> float:
    """Return humus carbon of yearly additions of 1 made for ever, the last of them ``age`` ago.

    h a / (a - b) (exp(-b age) / (1 - exp(-b)) - exp(-a age) / (1 - exp(-a))).

    >>> abs(humus_of_ages(1.0, 0.8, 0.13, 0.7) - humus_after_yearly(math.inf, 0.8, 0.13, 0.7)) < 1e-12
    True
    """
    if a <= 0 or b <= 0:
        return 0.0 if a <= 0 else math.inf
    if abs(a - b) < 1e-9 * max(a, b):
        a = b * (1 + 1e-6)
    return h * a / (a - b) * (fresh_of_ages(age, b) - fresh_of_ages(age, a))


def _yearly(count: float, rate: float) -> float:
    """Return the geometric sum q + q2 + ... + q^count for q = exp(-rate)."""
    if rate <= 0:
        return count
    return -math.expm1(-rate * count) / math.expm1(rate)


@relation("dose", fresh="dose", humus="dose", inflow="dose", years="time", a="rate", b="rate", h="share")
def after_steady(
    fresh: float, humus: float, inflow: float, years: float, a: float, b: float, h: float
) -> float:
    """Return humus carbon [kg/m2] after some years of a steady inflow [kg/m2 each year].

    ICBM's closed form from stocks ``fresh`` and ``humus``: O(t) = Oss + (O0 - Oss - c) exp(-b t)
    + c exp(-a t), c = h (a Y0 - i) / (b - a), Oss = h i / b; with their limits where the rates
    meet or are nothing.

    >>> after_steady(0.30, 4.11, 0.285, 30.0, 0.8, 0.00605, 0.125)
    4.3993
    """
    apart = math.exp(-min(a, b) * years) * _lasting(abs(a - b), years)
    return humus * math.exp(-b * years) + h * (inflow * _lasting(b, years) + (a * fresh - inflow) * apart)


def _lasting(rate: float, years: float) -> float:
    """Return (1 - exp(-rate t)) / rate, and its limit t at rate 0."""
    return -math.expm1(-rate * years) / rate if rate > 0 else years


@relation("share", half="time", years="time")
def depth_left(half: Any, years: Any) -> Any:
    """Return the share of a settled layer's depth left after some years, given its half-depth time.

    2^(-t / half). The form is this project's judgement; no measured series was found.

    >>> depth_left(2.0, 2.0)
    0.5
    """
    return 0.5 ** (years / half)


@relation("time", half="time", keep="share")
def years_to_top_up(half: float, keep: float) -> float:
    """Return the years until a layer falls to the share ``keep`` of its depth; none at the whole depth.

    >>> years_to_top_up(2.0, 0.6)
    1.474
    """
    if keep >= 1:
        return 0.0
    return half * math.log2(1 / keep) if keep > 0 else math.inf
