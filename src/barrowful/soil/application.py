"""The one shape of a volume put on a place on a day, done already or decided."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from functools import cached_property
from typing import Literal

from barrowful.catalogue.materials import Material
from barrowful.ground import amount
from barrowful.measures.fixed import fixed
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.nitrogen import Available, usable
from barrowful.soil.response import Response, response_of
from barrowful.soil.seasons import season_of, time_of_year
from barrowful.soil.turnover import carbon_in


@fixed
class Application:
    """Loose material put on a place, all of its count together, on a day.

    Of what was done already, ``need`` is None and ``way`` empty; what is decided names both. What fills a
    place is its ground.
    """

    place: Place
    day: date
    material: Material
    loose: float  #: m3
    dug: bool  #: dug in, or left on top
    need: Need | None = None  #: the need it is for
    way: str = ""  #: name of the way that brings it
    share: float = 1.0  #: of the place's ground it is put on
    fills: bool = False  #: does it fill the place, where no need says so?
    typed: Literal["", "volume", "weight"] = ""  #: by what the grower typed it; nothing where it is reckoned

    @property
    def kind(self) -> str:
        """Return the word of the need it is for, or nothing."""
        return self.need.kind if self.need else "fill" if self.fills else ""

    @property
    def decided(self) -> bool:
        """Say whether it is decided for a need; what was done already is not."""
        return self.need is not None

    def on(self, place: Place, need: Need, times: float) -> Application:
        """Return the same on equal ground, so many times as large."""
        return Application(
            place=place,
            day=self.day,
            material=self.material,
            loose=self.loose * times,
            dug=self.dug,
            need=need,
            way=self.way,
            share=self.share,
            fills=self.fills,
            typed=self.typed,
        )

    @property
    def number(self) -> int:
        """Return the day number of its day."""
        return self.day.toordinal()

    @property
    def carbon(self) -> float:
        """Return its carbon [kg/m2] on the place."""
        return amount.dose(carbon_in(self.material, self.loose), self.place.total_area)

    def response(self, site: Site) -> Response:
        """Return what it becomes where it lies."""
        return response_of(self.material, site.climate, self.place.soil, self.dug)

    @cached_property
    def _nitrogen(self) -> dict[int, float]:
        """Hold what it gives by season, once it was asked for; a dose is of one site."""
        return {}

    def nitrogen(self, site: Site, season: int) -> float:
        """Return the nitrogen [kg] plants can use of it in a growing season; below nothing it ties up."""
        if season not in self._nitrogen:
            number = season - season_of(site, self.day) + 1
            known = number >= 1 and not self.material.lacks("density", "moisture")
            dry = self.material.dry_mass(self.loose) if known else 0.0
            self._nitrogen[season] = dry * self.gives(site, number).per_dry if known else 0.0
        return self._nitrogen[season]

    @cached_property
    def brings(self) -> dict[str, float]:
        """Return the phosphorus and potassium [kg] plants can use of it in its season."""
        dry = self.material.dry_mass(self.loose)
        return {name: dry * usable(self.material, name) for name in ("phosphorus", "potassium")}

    def gives(self, site: Site, number: int) -> Available:
        """Return the nitrogen of each dry mass in its first (1), second (2) or a later season."""
        return self.response(site).nitrogen(number, self.time_of_year(site))

    def time_of_year(self, site: Site) -> str:
        """Return the time of year it is put on: autumn, winter or spring."""
        return time_of_year(site.hemisphere, self.day.month)

    def depth(self, site: Site, day: date) -> float:
        """Return the settled depth [m] still lying on a day; nothing when dug in."""
        if self.dug or day < self.day or self.material.lacks("lasts"):
            return 0.0
        spread = self.material.settled_depth(amount.depth(self.loose, self.place.total_area))
        return spread * self.response(site).depth[(day - self.day).days]


def draws_of(applications: Iterable[Application]) -> dict[date, float]:
    """Return the loose volume [m3] wanted on each day."""
    draws: dict[date, float] = {}
    for application in applications:
        draws[application.day] = draws.get(application.day, 0.0) + application.loose
    return draws


def settled_as(settled: bool, volume: float, material: Material) -> float:
    """Return the loose volume [m3] for a volume meant after settling, or as spread."""
    return material.loose_for_settled(volume) if settled else volume
