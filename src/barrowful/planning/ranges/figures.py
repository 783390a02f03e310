"""Figures drawn: each once, whatever it is used for, with its likely value after the draws."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import AbstractContextManager
from dataclasses import replace
from typing import Any

from barrowful.catalogue.figures import RECKONED, Figure
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import OtherRates, rates, rates_as
from barrowful.measures.draws import need_numpy, strata, triangle
from barrowful.measures.fixed import fixed
from barrowful.soil.application import Application

#: What the figures that hold on any site are of.
RATES = "rates"
#: Of these, what is chosen and not found out, so that it is no matter of luck.
CHOSEN = ("sampled_depth", "most_of_depth")


class DrawnFigures(Mapping[str, Figure]):
    """Figures of which the likely values are draws, each drawn when it is first asked for."""

    def __init__(self, known: Mapping[str, Figure], draw: Callable[[str, Figure], Figure]) -> None:
        self.known, self.draw = known, draw
        self._drawn: dict[str, Figure] = {}

    def __getitem__(self, name: str) -> Figure:
        if name not in self._drawn:
            self._drawn[name] = self.draw(name, self.known[name])
        return self._drawn[name]

    def __contains__(self, name: object) -> bool:
        return name in self.known

    def __iter__(self) -> Iterator[str]:
        return iter(self.known)

    def __len__(self) -> int:
        return len(self.known)


@fixed(kw_only=False, frozen=True)
class DrawnMaterial(Material):
    """A material whose figures are drawn; it is told apart by what it is."""

    __eq__ = object.__eq__
    __hash__ = object.__hash__


class Draws:
    """The draws of every figure that is asked for: a Latin hypercube, one side for each.

    How many there are, and their seed, settle them all; no other figure and no order does.
    """

    def __init__(self, count: int, seed: int) -> None:
        need_numpy()
        self.count, self.seed = count, seed
        self.used: dict[str, Any] = {}  #: draws by the name of the figure, of those that vary
        self._figures: dict[tuple[str, str, float, float, float], Figure] = {}
        self._materials: dict[int, tuple[Material, DrawnMaterial]] = {}
        drawn = DrawnFigures(rates(), lambda name, figure: self.figure(RATES, name, figure))
        self._rates = OtherRates(drawn)

    def figure(self, of: str, name: str, figure: Figure) -> Figure:
        """Return a figure with draws for its likely value, where it has a range."""
        if not figure.low < figure.high or (of == RATES and name in CHOSEN):
            return figure
        key = of, name, figure.low, figure.likely, figure.high
        if key not in self._figures:
            full = f"{of}: {name}"
            shares = strata(full, self.seed, self.count)
            drawn = triangle(shares, figure.low, figure.likely, figure.high)
            self.used[full if full not in self.used else f"{full} ({figure.typed})"] = drawn
            self._figures[key] = figure._replace(likely=drawn)
        return self._figures[key]

    def material(self, stuff: Material) -> Material:
        """Return a material with its figures drawn: the same object for the same material."""
        if id(stuff) not in self._materials:
            figures = DrawnFigures(stuff.figures, lambda name, figure: self._of_stuff(stuff, name, figure))
            drawn = DrawnMaterial(stuff.name, stuff.class_, stuff.about, figures, stuff.flags)
            self._materials[id(stuff)] = stuff, drawn
        return self._materials[id(stuff)][1]

    def _of_stuff(self, stuff: Material, name: str, figure: Figure) -> Figure:
        """Return a figure of a material; the density of what was made here keeps its dry mass."""
        of, moisture = f"material {stuff.name}", stuff.figures.get("moisture")
        if name != "density" or figure.basis != RECKONED or moisture is None:
            return self.figure(of, name, figure)
        dry = stuff.dry_mass(1.0)
        return figure._replace(likely=dry / (1 - self.figure(of, "moisture", moisture).likely))

    def dose(self, dose: Application) -> Application:
        """Return a dose of stuff whose figures are drawn; what was typed by weight weighs what it did."""
        stuff, loose = self.material(dose.material), dose.loose
        if dose.typed == "weight":
            loose = stuff.loose_of(dose.material.wet_mass(loose))
        return replace(dose, material=stuff, loose=loose)

    def reckoning(self) -> AbstractContextManager[None]:
        """Return what lets everything be worked out by drawn rates meanwhile."""
        return rates_as(self._rates)
