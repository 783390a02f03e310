"""A site as it would be if its figures were those of one draw, for what holds ranges to the ordinary code."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import OtherRates, rates, rates_as
from barrowful.planning.ranges.figures import RATES, Draws
from barrowful.site.records import Site


def one_of(draws: Draws, of: str, name: str, figure: Figure, number: int) -> Figure:
    """Return a figure without a range, as a draw has it."""
    drawn = draws.figure(of, name, figure).likely
    value = drawn if isinstance(drawn, float) else float(drawn[number])
    return figure._replace(low=value, likely=value, high=value)


def site_of(site: Site, draws: Draws, number: int) -> Site:
    """Return a site of which every material has the figures of a draw; how much goes on a year is a rule."""
    known: dict[int, tuple[Material, Material]] = {}

    def of(stuff: Material) -> Material:
        if id(stuff) not in known:
            figures = {
                name: one_of(draws, f"material {stuff.name}", name, figure, number)
                for name, figure in stuff.figures.items()
                if name != "yearly_most"
            }
            known[id(stuff)] = stuff, stuff.with_figures(figures)
        return known[id(stuff)][1]

    return _each(site, of)


def _each(thing: Any, of: Any) -> Any:
    """Return a record with each material in it made another."""
    if isinstance(thing, Material):
        return of(thing)
    if type(thing) is tuple:
        return tuple(_each(part, of) for part in thing)
    if not dataclasses.is_dataclass(thing):
        return thing
    fields = {field.name: getattr(thing, field.name) for field in dataclasses.fields(thing)}
    return dataclasses.replace(thing, **{name: _each(part, of) for name, part in fields.items()})


@contextmanager
def rates_of(draws: Draws, number: int) -> Iterator[None]:
    """Let the rates be those of a draw."""
    with rates_as(OtherRates({name: one_of(draws, RATES, name, of, number) for name, of in rates().items()})):
        yield
