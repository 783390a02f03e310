"""The nutrients a place can use in a season, of all that is there and of what is put on in turn."""

from __future__ import annotations

from collections.abc import Sequence

from barrowful.catalogue.materials import Material
from barrowful.catalogue.vocabulary import NUTRIENTS
from barrowful.ground.amount import mass_on
from barrowful.measures.elementwise import at_least
from barrowful.needs.ceilings import used_by
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.history import net_nitrogen
from barrowful.soil.nitrogen import usable
from barrowful.soil.seasons import season_of

#: What a dose brings of beside nitrogen.
BESIDE = ("phosphorus", "potassium")


class Given:
    """What is put on a place to feed it, season by season, beside what is there."""

    def __init__(self, site: Site, place: Place, there: Sequence[Application]) -> None:
        self.site, self.place, self.there = site, place, there
        self.doses: list[Application] = []
        #: Of the ceilings on the place by what is there; ways together add what they put on.
        self.uses = used_by(place, there)
        self._net: dict[int, dict[str, float]] = {}

    @property
    def all(self) -> list[Application]:
        """Return what is there and what was put on."""
        return [*self.there, *self.doses]

    def put_on(self, dose: Application) -> None:
        """Put a dose on; it counts from its own season on."""
        self.doses.append(dose)
        own = season_of(self.site, dose.day)
        for season in self._net:
            if season >= own:
                self._count(season, dose)

    def net(self, season: int) -> dict[str, float]:
        """Return the nutrients [kg] the place can use in a season of what is there and of what was put on."""
        if season not in self._net:
            none = dict.fromkeys(NUTRIENTS, 0.0)
            self._net[season] = net_of(self.site, self.place, self.there, season) if self.there else none
            for dose in self.doses:
                self._count(season, dose)
        return self._net[season].copy()

    def _count(self, season: int, dose: Application) -> None:
        """Count in a season what it has of a dose."""
        net = self._net[season]
        net["nitrogen"] += dose.nitrogen(self.site, season)
        if season_of(self.site, dose.day) == season:
            for name, brought in dose.brings.items():
                net[name] += brought


def net_of(site: Site, place: Place, doses: Sequence[Application], season: int) -> dict[str, float]:
    """Return the nutrients [kg] a place can use in a season from all doses put on by its end.

    Nitrogen is net of what ties it up; phosphorus and potassium are those of the season's own doses, and what
    seasons before have left of what the place was filled with: that is its ground.
    """
    own = [dose.brings for dose in doses if season_of(site, dose.day) == season]
    left = _left_of_fill(site, place, doses, season)
    return {
        "nitrogen": net_nitrogen(site, doses, season),
        **{name: sum(brings[name] for brings in own) + left[name] for name in left},
    }


def _left_of_fill(site: Site, place: Place, doses: Sequence[Application], season: int) -> dict[str, float]:
    """Return the phosphorus and potassium [kg] of a fill that the seasons since, fed from it, have left."""
    need, fills = place.need("feed"), [dose for dose in doses if dose.kind == "fill"]
    earlier = [dose for dose in fills if season_of(site, dose.day) < season]
    left = dict.fromkeys(BESIDE, 0.0)
    if earlier:
        fed = season - min(season_of(site, dose.day) for dose in earlier)
        for name in left:
            wanted = mass_on(place.total_area, getattr(need, name)) if need else 0.0
            left[name] = at_least(sum(dose.brings[name] for dose in earlier) - fed * wanted, 0.0)
    return left


def nutrients_of(stuff: Material, dry: float, nitrogen: float) -> dict[str, float]:
    """Return what a dry mass [kg] gives in its season [kg], of which so much nitrogen for each kg."""
    none = stuff.lacks("nitrogen") and not stuff.has("woody")
    return {
        "nitrogen": 0.0 if none else dry * nitrogen,
        **{name: dry * usable(stuff, name) for name in BESIDE},
    }
