"""Measured values inside sentences, in the units that are asked for: metric, or customary.

Sentences are made where their values are known, far from any screen. What they are told in is said once,
by :func:`told_in`, around all that makes them; without it they are metric, as machines get them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from typing import NamedTuple

from barrowful.measures.text import in_figures, without_dust
from barrowful.measures.units import scale, unit

_CUSTOMARY = ContextVar("customary", default=False)
#: Words in two systems, inside a text: what metric readers get, a bar, what others do.
_EITHER = re.compile(r"\{([^{}|]*)\|([^{}|]*)\}")


class Told(NamedTuple):
    """What values of a dimension are told in: the metric unit, the customary one, and how many of it."""

    dimension: str
    metric: str
    customary: str
    many: int = 1


VOLUME, MASS, AREA = Told("volume", "m3", "yd3"), Told("mass", "kg", "lb"), Told("area", "m2", "ft2")
#: Of what is less than a barrow.
SMALL_VOLUME = Told("volume", "L", "ft3")
SMALL_MASS = Told("mass", "g", "lb")
LENGTH, DEPTH, THIN = Told("length", "m", "ft"), Told("length", "cm", "in"), Told("length", "mm", "in")
DENSITY = Told("density", "kg/m3", "lb/yd3")
#: Of dry ground.
GROUND = Told("density", "g/cm3", "lb/ft3")
#: Nutrients on ground, from kg/m2.
FEED = Told("dose", "g/m2", "lb/ft2", 1000)
TEMPERATURE = Told("temperature", "degC", "degF")


@contextmanager
def told_in(measures: str) -> Iterator[None]:
    """Tell every sentence that is made meanwhile in metric or customary units."""
    before = _CUSTOMARY.set(measures == "customary")
    try:
        yield
    finally:
        _CUSTOMARY.reset(before)


def is_customary() -> bool:
    """Say whether sentences are told in customary units."""
    return _CUSTOMARY.get()


def in_told(value: float, told: Told) -> tuple[float, str]:
    """Return a value in the SI unit of its dimension as it is told, and its unit; with no dust of floats.

    >>> in_told(0.1, FEED), in_told(0.1 + 0.2, VOLUME)
    ((100.0, 'g/m2'), (0.3, 'm3'))
    >>> with told_in("customary"):
    ...     in_told(100.0, TEMPERATURE)
    (212.0, 'degF')
    """
    word, many = (told.customary, told.many) if is_customary() else (told.metric, 1)
    factor, offset = _scale(word, told.dimension)
    seen = (value - offset) * (1 / factor) * many
    return without_dust(seen), word if many == 1 else word.replace("/", f"/{many} ", 1)


@cache
def _scale(word: str, dimension: str) -> tuple[float, float]:
    return scale(unit(word), dimension)


def about(number: float) -> str:
    """Return a number to the whole, or to two figures where it is under ten.

    >>> about(0.0664), about(3.5), about(12345.6)
    ('0.066', '3.5', '12,346')
    """
    return f"{number:,.0f}" if number >= 10 else in_figures(number, 2)


def hours_told(hours: float) -> str:
    """Return hours to the whole, or to a figure where it is less than one.

    >>> hours_told(41.4), hours_told(0.34), hours_told(0.0)
    ('41 h', '0.3 h', '0 h')
    """
    return f"{hours:,.0f} h" if hours >= 1 else f"{in_figures(hours, 1)} h"


def days_in_words(days: int) -> str:
    """Return the word for so many days, or so many fewer.

    >>> days_in_words(1), days_in_words(-1), days_in_words(12)
    ('day', 'day', 'days')
    """
    return "day" if abs(days) == 1 else "days"


def of_count(share: float, count: int) -> str:
    """Return for how many of so many equal ones a share of all is as much; of one, nothing.

    >>> of_count(0.92, 6), of_count(0.8, 5), of_count(0.5, 1)
    (', as much as for 5.5 of 6', ', as much as for 4 of 5', '')
    """
    return f", as much as for {f'{share * count:.1f}'.removesuffix('.0')} of {count}" if count > 1 else ""


def part_told(share: float) -> str:
    """Return a share that is not all, never as all of it.

    >>> part_told(0.85), part_told(0.998)
    ('85%', '99.8%')
    """
    whole = f"{share:.0%}"
    return whole if whole != f"{1:.0%}" else f"{share:.1%}"


def measured(value: float, told: Told, form: int | str = 3) -> str:
    """Return a value in the SI unit of its dimension with its unit: to so many figures, or in a format.

    In no figures it is told as :func:`about` does.

    >>> measured(2.0, VOLUME), measured(0.0042, FEED)
    ('2 m3', '4.2 g/m2')
    >>> with told_in("customary"):
    ...     measured(2.0, VOLUME), measured(0.0042, FEED), measured(0.05, DEPTH, ".1f")
    ('2.62 yd3', '0.86 lb/1000 ft2', '2.0 in')
    """
    seen, word = in_told(value, told)
    if isinstance(form, str):
        return f"{seen:{form}} {word}"
    return f"{in_figures(seen, form) if form else about(seen)} {word}"


def mass_told(kilograms: float) -> str:
    """Return a mass to three figures: in grams where it is less than a kilogram.

    >>> mass_told(0.355), mass_told(116.4)
    ('355 g', '116 kg')
    """
    return measured(kilograms, SMALL_MASS if kilograms < 1 else MASS)


def either(text: str) -> str:
    """Return a text of the catalogue, of whose words in two systems only those that are asked for stand.

    >>> either("Keep it under {70 degC|158 degF}.")
    'Keep it under 70 degC.'
    >>> with told_in("customary"):
    ...     either("Keep it under {70 degC|158 degF}.")
    'Keep it under 158 degF.'
    """
    return _EITHER.sub(r"\2" if is_customary() else r"\1", text)
