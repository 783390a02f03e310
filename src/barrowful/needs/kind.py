"""What every kind of need has in common: the figures it takes, how much it wants, how lots meet it."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any, Generic, TypeVar, cast

from barrowful.catalogue.materials import Material
from barrowful.ground import amount
from barrowful.ground.decay import depth_left
from barrowful.measures.dates import years_between
from barrowful.needs.decision import CannotServe, Decision
from barrowful.site.records import Need, Place, Site
from barrowful.soil.application import Application
from barrowful.supplies.supply import Lot, Supply

#: What rounding may leave over.
SLACK_SHARE = 1e-9

NeedRecord = TypeVar("NeedRecord", bound=Need)


class NeedKind(ABC, Generic[NeedRecord]):
    """A kind of need; one object of it stands in the registry for all needs of the kind."""

    #: The word of the site file.
    kind: str
    #: Figures a material must have to serve it.
    figures: tuple[str, ...]
    #: The conditions of cautions that :meth:`hazards` may name.
    hazard_words: frozenset[str] = frozenset()
    #: Does stuff that holds hardly any organic matter serve it?
    takes_soil = False
    #: Does it make the ground itself, so that it shares no dose with other needs?
    makes_ground = False

    def of(self, place: Place) -> NeedRecord:
        """Return a place's need of this kind, which must be there."""
        need = place.need(self.kind)
        assert need is not None, f"{place.name} has no {self.kind}"
        return cast(NeedRecord, need)

    def check(self, material: Material) -> None:
        """Refuse a material that lacks a figure the need takes, or is no stuff for it."""
        lacking = material.lacks(*self.figures)
        if lacking:
            raise CannotServe(f"{material.name} has no figure for {', '.join(lacking)}")
        if material.sort.mineral and not self.takes_soil:
            raise CannotServe(f"{material.name} holds hardly any organic matter")

    def volume(self, place: Place) -> float | None:
        """Return the place's own geometry [m3], all of its count: area times the need's stated depth."""
        depth = getattr(self.of(place), "depth", None)
        return None if depth is None else amount.volume(place.total_area, depth)

    @abstractmethod
    def bare_loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the loose volume [m3] a place wants of a material, without the need's allowance.

        What lies there or is still to come is taken off. Raises :class:`CannotServe`.
        """

    def loose(self, site: Site, place: Place, material: Material) -> float:
        """Return the loose volume [m3] a place, all of its count, wants of a material."""
        return amount.with_allowance(self.bare_loose(site, place, material), self.of(place).allowance)

    def size(self, site: Site, place: Place, supply: Supply[Any]) -> float:
        """Return the loose volume [m3] a place wants of a supply, whenever it comes."""
        if supply.material.lacks("density", "moisture"):
            raise CannotServe("no density or moisture")
        return self.loose(site, place, supply.material)

    def until(self, site: Site) -> date:
        """Return the last day on which a dose still serves."""
        return site.end

    def deadline(self, site: Site) -> str:
        """Return the words for that day."""
        return f"by {self.until(site)}"

    def half_life(self, site: Site, material: Material) -> float:
        """Return the years in which what is put on loses half of what is wanted of it."""
        return math.inf

    def shortfall(self, doses: Sequence[Application]) -> str:
        """Return what to add where the doses fall short."""
        return ""

    def hazards(self, dose: Application) -> Iterator[str]:
        """Yield the conditions of cautions that hold for a dose for this need."""
        yield from ()

    def decide(self, site: Site, places: Sequence[Place], supply: Supply[Any]) -> Decision:
        """Return doses from the earliest lots, place by place in file order.

        What loses some of itself while it waits for the next lot is made up.
        """
        self.check(supply.material)
        portions = Portions(supply.lots(self.until(site)), self.half_life(site, supply.material))
        doses: list[Application] = []
        short = 0.0
        for place in places:
            need = self.of(place)
            wanted = self.loose(site, place, supply.material)
            most = most_at_once(place, need)
            parts, lacking = portions.take(wanted, most)
            doses += doses_for(place, need, supply, parts, wanted, min(wanted, most))
            short += lacking if lacking > 1e-9 else 0.0
        return self._closed(site, supply, doses, short)

    def _closed(self, site: Site, supply: Supply[Any], doses: list[Application], short: float) -> Decision:
        """Return the decision that some doses make, which fall short by a loose volume [m3]."""
        given = sum(dose.loose for dose in doses)
        if short > 0:
            note = f"; {supply.note}" if supply.note else self.shortfall(doses)
            return Decision(
                doses=tuple(doses),
                feasible=False,
                why_not=f"brings {given:.3g} m3, {short:.3g} m3 short {self.deadline(site)}{note}",
                times_needed=(given + short) / given if given > 0 else None,
            )
        there = sum(lot.loose for lot in supply.lots(site.end))
        return Decision(
            doses=tuple(doses),
            ready_on=max((dose.day for dose in doses), default=site.start),
            times_needed=given / there if 0 < there < math.inf else None,
        )


@dataclass
class Portions:
    """What is left of some lots while one place after another takes its part."""

    lots: list[Lot]
    half_life: float

    def take(self, wanted: float, most: float) -> tuple[list[tuple[date, float]], float]:
        """Return the parts [m3] taken of the lots by day, each at most ``most``, and what is lacking."""
        whole, before, parts = wanted, None, []
        for index, lot in enumerate(self.lots):
            if before is not None and wanted > 0:
                left = depth_left(self.half_life, years_between(before, lot.day))
                wanted = whole - (whole - wanted) * left
            part = min(wanted, lot.loose, most)
            if part > 0:
                parts.append((lot.day, part))
                self.lots[index] = replace(lot, loose=lot.loose - part)
                wanted -= part
                before = lot.day
        return parts, wanted


def dose_for(
    place: Place, need: Need, supply: Supply[Any], day: date, loose: float, share: float = 1.0
) -> Application:
    """Return the dose that brings a need a loose volume [m3] on a day, to a share of the ground."""
    return Application(
        place=place,
        day=day,
        material=supply.material,
        loose=loose,
        dug=need.dug,
        need=need,
        way=supply.way.name,
        share=share,
    )


def doses_for(
    place: Place,
    need: Need,
    supply: Supply[Any],
    parts: Sequence[tuple[date, float]],
    wanted: float,
    at_once: float,
) -> list[Application]:
    """Return the doses of one need by day [m3], each with the share of the ground that gets it."""
    shares = ground_shares([loose for _, loose in parts], wanted, at_once)
    return [
        dose_for(place, need, supply, day, loose, share)
        for (day, loose), share in zip(parts, shares, strict=True)
    ]


def ground_shares(parts: Sequence[float], wanted: float, at_once: float) -> list[float]:
    """Return the share of the ground that each part [m3] of what is wanted goes on.

    It is all of it, as often as an application may bring no more than ``at_once``. Where there is less
    than is wanted, or it comes in more parts than that, each goes as deep as it is meant to and as far
    as it reaches.

    >>> ground_shares([5.0, 5.0, 2.0], 12.0, 5.0), ground_shares([4.0, 4.0, 2.0], 10.0, 10.0)
    ([1.0, 1.0, 1.0], [0.4, 0.4, 0.2])
    >>> ground_shares([4.0], 10.0, 10.0)
    [0.4]
    """
    given = sum(parts)
    enough = given >= wanted * (1 - SLACK_SHARE)
    if enough and (not parts or len(parts) <= math.ceil(given / at_once - SLACK_SHARE)):
        return [1.0] * len(parts)
    return [min(1.0, part / at_once) for part in parts]


def most_at_once(place: Place, need: Need, otherwise: float = math.inf) -> float:
    """Return the most loose material [m3] for one application; ``otherwise`` is a depth [m]."""
    deepest = otherwise if need.most_per_application is None else need.most_per_application
    return amount.with_allowance(amount.volume(place.total_area, deepest), need.allowance)
