"""The few functions the formulas need, for floats and for arrays alike.

An array of draws has what a value may be in each place, and in the last what it likely is: that one decides
where a formula has to be chosen.
"""

from __future__ import annotations

import math
from typing import Any, overload

#: An exact 10 must not become 11 because 0.1 has no exact binary form.
DUST = 1e-9


@overload
def exp(x: float) -> float: ...


@overload
def exp(x: Any) -> Any: ...


def exp(x: Any) -> Any:
    """Return e to the power ``x``, for a float or an array.

    >>> exp(0.0)
    1.0
    """
    if isinstance(x, (float, int)):
        return math.exp(x)
    import numpy

    return numpy.exp(x)


@overload
def at_least(x: float, low: float) -> float: ...


@overload
def at_least(x: Any, low: Any) -> Any: ...


def at_least(x: Any, low: Any) -> Any:
    """Return ``x``, or ``low`` where it is less, for a float or an array.

    >>> at_least(-2.0, 0.0)
    0.0
    """
    if isinstance(x, (float, int)) and isinstance(low, (float, int)):
        return low if x < low else x
    import numpy

    return numpy.maximum(x, low)


@overload
def at_most(x: float, high: float) -> float: ...


@overload
def at_most(x: Any, high: Any) -> Any: ...


def at_most(x: Any, high: Any) -> Any:
    """Return ``x``, or ``high`` where it is more, for floats or arrays.

    >>> at_most(3.0, 2.0)
    2.0
    """
    if isinstance(x, (float, int)) and isinstance(high, (float, int)):
        return high if x > high else x
    import numpy

    return numpy.minimum(x, high)


def per(x: Any, y: Any, otherwise: float) -> Any:
    """Return ``x`` for each ``y``; something else where there is none of that.

    >>> per(6.0, 2.0, 0.0), per(6.0, -2.0, 0.0)
    (3.0, 0.0)
    """
    if isinstance(x, (float, int)) and isinstance(y, (float, int)):
        return x / y if y > 0 else otherwise
    import numpy

    x, y = numpy.broadcast_arrays(x, y)
    return numpy.divide(x, y, out=numpy.full(y.shape, float(otherwise)), where=y > 0)


def round_up(x: Any) -> Any:
    """Return the next whole number, of a float as one, of an array as an array; float dust is forgiven.

    >>> round_up(0.3 / 0.1 * 10 / 3), round_up(10.001)
    (10, 11)
    """
    if isinstance(x, (float, int)):
        return math.ceil(x - DUST * max(1.0, abs(x)))
    import numpy

    return numpy.ceil(x - DUST * numpy.maximum(1.0, abs(x)))


def to_coins(x: Any, digits: int) -> Any:
    """Return money, no less than nothing, to so many digits after the point: halves up, float dust forgiven.

    >>> to_coins(2.346, 2), to_coins(42.825, 2), to_coins(82.5, 0)
    (2.35, 42.83, 83.0)
    """
    coins: Any = x * 10**digits
    if isinstance(x, (float, int)):
        return math.floor(coins + 0.5 + DUST * max(1.0, coins)) / 10**digits
    import numpy

    return numpy.floor(coins + 0.5 + DUST * numpy.maximum(1.0, coins)) / 10**digits


def where(holds: Any, x: Any, y: Any) -> Any:
    """Return ``x`` where something holds, else ``y``.

    >>> where(2.0 > 1.0, 3.0, 4.0)
    3.0
    """
    if isinstance(holds, bool):
        return x if holds else y
    import numpy

    return numpy.where(holds, x, y)


def likely(x: Any) -> float:
    """Return a float itself, and of an array of draws the last: the likely one.

    >>> likely(2.5)
    2.5
    """
    return x if isinstance(x, (float, int)) else float(x[-1])


@overload
def apart(x: float, y: float, share: float) -> float: ...


@overload
def apart(x: Any, y: Any, share: float) -> Any: ...


def apart(x: Any, y: Any, share: float) -> Any:
    """Return ``x``, or a value by a share more than ``y`` where it is nearer to it than that share of itself.

    >>> apart(2.0, 1.0, 0.1), apart(1.01, 1.0, 0.1)
    (2.0, 1.1)
    """
    if isinstance(x, (float, int)) and isinstance(y, (float, int)):
        return y * (1 + share) if abs(x - y) < share * x else x
    import numpy

    return numpy.where(abs(x - y) < share * x, y * (1 + share), x)


@overload
def sqrt(x: float) -> float: ...


@overload
def sqrt(x: Any) -> Any: ...


def sqrt(x: Any) -> Any:
    """Return the square root of ``x``, for a float or an array.

    >>> sqrt(9.0)
    3.0
    """
    if isinstance(x, (float, int)):
        return math.sqrt(x)
    import numpy

    return numpy.sqrt(x)
