"""Figures that belong to no material: work, the humus model, heaps, and other models' coefficients."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from contextvars import ContextVar, copy_context
from functools import cache, lru_cache, partial, wraps
from typing import Any, TypeVar, cast

from barrowful.catalogue.figures import Figure, load, read_figure

Reckoned = TypeVar("Reckoned", bound=Callable[..., Any])
Told = TypeVar("Told")


def _figures(file: str) -> dict[str, Figure]:
    return {name: read_figure(entry, entry["dimension"], name) for name, entry in load(file).items()}


@cache
def _rates() -> dict[str, Figure]:
    return _figures("rates.toml")


class OtherRates:
    """Figures that stand for the rates of the catalogue, with what was kept of what was reckoned by them."""

    def __init__(self, figures: Mapping[str, Figure]) -> None:
        self.figures = figures
        self.known: dict[tuple[Any, ...], Any] = {}


_INSTEAD: ContextVar[OtherRates | None] = ContextVar("rates", default=None)


def rates() -> Mapping[str, Figure]:
    """Return every rate by its name."""
    instead = _INSTEAD.get()
    return _rates() if instead is None else instead.figures


@contextmanager
def rates_as(others: OtherRates) -> Iterator[None]:
    """Let others stand for the rates: whatever is worked out meanwhile is by them.

    >>> with rates_as(OtherRates({"dig_in": rates()["dig_in"]._replace(likely=0.5)})):
    ...     rate("dig_in")
    0.5
    """
    before = _INSTEAD.set(others)
    try:
        yield
    finally:
        _INSTEAD.reset(before)


def kept_by_rates(maxsize: int) -> Callable[[Reckoned], Reckoned]:
    """Keep what a function gives: so many answers by the catalogue's rates, those by others with them."""

    def kept(function: Reckoned) -> Reckoned:
        by_catalogue = lru_cache(maxsize)(function)

        def ask(*given: Any) -> Any:
            instead = _INSTEAD.get()
            if instead is None:
                return by_catalogue(*given)
            key = function, *given
            if key not in instead.known:
                instead.known[key] = function(*given)
            return instead.known[key]

        return cast(Reckoned, wraps(function)(ask))

    return kept


def later(reckon: Callable[..., Told], *given: Any) -> Callable[[], Told]:
    """Return what works something out once, when it is first asked, by the rates of now.

    >>> with rates_as(OtherRates({"dig_in": rates()["dig_in"]._replace(likely=0.5)})):
    ...     dig_in = later(rate, "dig_in")
    >>> dig_in()
    0.5
    """
    return cache(partial(copy_context().run, reckon, *given))


def rate(name: str) -> float:
    """Return the likely value of a rate in SI units."""
    return rates()[name].likely


@cache
def heap_figures() -> dict[str, Figure]:
    """Return the figures for heaps by name."""
    return _figures("heaps.toml")


@cache
def coefficients() -> dict[str, Figure]:
    """Return the other soil models' humus coefficients by name."""
    return _figures("other_models.toml")
