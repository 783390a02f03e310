"""The few functions the formulas need, for floats and for arrays alike."""

from __future__ import annotations

import math
from typing import Any


def exp(x: Any) -> Any:
    """Return e to the power ``x``, for a float or an array.

    >>> exp(0.0)
    1.0
    """
    if isinstance(x, (float, int)):
        return math.exp(x)
    import numpy

    return numpy.exp(x)


def at_least(x: Any, low: float) -> Any:
    """Return ``x``, or ``low`` where it is less, for a float or an array.

    >>> at_least(-2.0, 0.0)
    0.0
    """
    if isinstance(x, (float, int)):
        return low if x < low else x
    import numpy

    return numpy.maximum(x, low)


def sqrt(x: Any) -> Any:
    """Return the square root of ``x``, for a float or an array.

    >>> sqrt(9.0)
    3.0
    """
    if isinstance(x, (float, int)):
        return math.sqrt(x)
    import numpy

    return numpy.sqrt(x)
