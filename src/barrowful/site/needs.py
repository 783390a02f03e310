"""The records of the needs, beside those of the site, and what each asks of its place."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import date
from types import MappingProxyType
from typing import TYPE_CHECKING, ClassVar

from barrowful.catalogue.crops import CropDemand, crop
from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.rates import rate
from barrowful.ground.area import ring
from barrowful.ground.soil import bulk_density_from_carbon
from barrowful.measures.dates import Step
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import DEPTH, FEED, GROUND, measured
from barrowful.site.remarks import Remark

if TYPE_CHECKING:
    from barrowful.site.records import Place


@fixed(eq=True, frozen=True)
class Need:
    """What every need has in common."""

    dug: bool = False  #: dug in, or left on top?
    allowance: float  #: share ordered on top
    most_per_application: float | None = None  #: m, deepest layer at one time, as spread

    #: The word of the site file.
    kind: ClassVar[str] = ""
    #: What a soil test finds of it; nothing where none tells whether it is met.
    soil_test: ClassVar[str] = ""
    #: The key of a soil that takes what it finds.
    soil_key: ClassVar[str] = ""

    def __init_subclass__(cls) -> None:
        super().__init_subclass__()
        cls.kind = cls.__name__.lower()

    def remarks(self, place: Place, start: date) -> Iterator[Remark]:
        """Yield what is wrong with it on its place, or can hardly be meant, from the site's start on."""
        yield from ()

    @property
    def due(self) -> date | None:
        """Return the day of its own that it is to be met by, where it has one."""
        return None

    @property
    def grown(self) -> CropDemand | None:
        """Return the crop of the catalogue that it says grows on its place, where it says one."""
        return None

    @property
    def rests_on(self) -> Mapping[str, Mapping[str, Figure]]:
        """Return the figures it is reckoned from beside those of what serves it, by what they are of."""
        return {}

    def due_later(self, step: Step) -> Need:
        """Return the need with a later day to be met by, where it has one; else itself."""
        return self


@fixed(eq=True, frozen=True)
class Cover(Need):
    """A mulch layer kept up."""

    depth: float  #: m
    settled: bool  #: is the depth meant after settling?
    keep: float  #: share of the depth, topped up below it
    smother: bool = False  #: laid to smother grass?

    def remarks(self, place: Place, start: date) -> Iterator[Remark]:
        """Say where a cover lies too deep for the roots of trees to breathe."""
        if place.kind == "tree" and self.depth > judgement("deep_on_roots"):
            deep = measured(judgement("deep_on_roots"), DEPTH)
            yield Remark(code="unusual", sentence=f"over {deep} lies too deep on tree roots")


@fixed(eq=True, frozen=True)
class Dress(Need):
    """A depth or a dose put on once."""

    depth: float | None = None  #: m
    dose: float | None = None  #: kg/m2, as delivered
    settled: bool  #: is the depth meant after settling?


@fixed(eq=True, frozen=True)
class Raise(Need):
    """Soil organic matter to reach in a depth of soil by a date; dug in unless it says otherwise."""

    soil_test: ClassVar[str] = "organic matter"
    soil_key: ClassVar[str] = "organic_matter"

    dug: bool = True  #: dug in, or left on top? (common practice, no source)
    organic_matter: float  #: share of dry soil to reach
    depth: float  #: m, of soil
    by: date | None = None  #: day it is to be reached by
    hold: Step  #: how long it is to be held from then on

    @property
    def due(self) -> date | None:
        return self.by

    def due_later(self, step: Step) -> Need:
        """Return the raise with a later day, where it has one."""
        return self if self.by is None else replace(self, by=step.after(self.by))

    def remarks(self, place: Place, start: date) -> Iterator[Remark]:
        """Ask for what the soil has, from which a raise starts, and for an end after the start."""
        matter, density = place.soil.organic_matter, place.soil.bulk_density
        if self.by is not None and self.by <= start:
            sentence = f"{self.by} is not after start ({start}); give a later day, or leave it out"
            yield Remark(key="by", code="unusual", sentence=sentence)
        if matter is None:
            sentence = 'the soil\'s "organic_matter" is needed; say it under "soil:"'
            yield Remark(code="missing-key", sentence=sentence, problem=True)
            return
        if self.organic_matter <= matter:
            yield Remark(code="met-already", sentence=f"the soil has {matter:.1%} already")
        if density is None:
            told = measured(bulk_density_from_carbon(matter / 2), GROUND, ".2f")
            sentence = (
                f"no bulk density of the soil is given; {told} is reckoned from"
                " its organic matter (Manrique & Jones 1991)"
            )
            yield Remark(code="assumed", sentence=sentence)


@fixed(eq=True, frozen=True)
class Feed(Need):
    """Nutrients plants can use each season, and the crop they are for."""

    nitrogen: float  #: kg/m2
    phosphorus: float  #: kg/m2
    potassium: float  #: kg/m2
    crop: str = ""  #: name in the catalogue, nothing where figures are given
    trunk: float | None = None  #: m across, where the tree is fed by it
    age: float | None = None  #: year, where the tree is fed by it
    taken: tuple[float | None, ...] = (
        0.0,
        0.0,
        0.0,
    )  #: kg/m2 of each nutrient; None if not known of its crop
    farm_most: float | None = None  #: kg/m2 of usable nitrogen that farms may give the crop named

    @property
    def grown(self) -> CropDemand | None:
        """Return the crop named."""
        return crop(self.crop)

    @property
    def rests_on(self) -> Mapping[str, Mapping[str, Figure]]:
        """Return the figures of the crop named."""
        return {f"crop {self.crop}": self.grown.figures} if self.grown else {}

    def remarks(self, place: Place, start: date) -> Iterator[Remark]:
        """Ask about a feed for each tree where trees stand so close that their rings overlap."""
        demand = self.grown
        radius, collar = place.ring or (0.0, 0.0)
        close = radius > collar and place.area < ring(radius, collar) * (1 - 1e-9)
        if demand and demand.per_tree and close and self.nitrogen > judgement("nitrogen_on_ring"):
            sentence = (
                f"so much for a tree is advice for trees that stand apart; where rings overlap it comes to"
                f" {measured(self.nitrogen, FEED, '.0f')} of nitrogen. Trees so close want far less: give"
                ' "nitrogen:" for each m2, after local advice'
            )
            yield Remark(key="for", code="unusual", sentence=sentence)
        acid, there = demand.acid if demand else None, place.soil.ph
        if demand and acid is not None and there is not None and there > acid:
            sentence = (
                f"{demand.name} wants pH {acid:g} or less, and the soil has {there:g}: bring it down with"
                " sulphur some months to a year before planting, after local advice, or grow it in a pot of"
                " acid stuff; nothing here does it"
            )
            yield Remark(key="for", code="unusual", sentence=sentence)

    @property
    def carried_off(self) -> float:
        """Return the phosphorus [kg/m2] that the crop named takes away in a season, as far as it is known."""
        return self.taken[1] or 0.0


@fixed(eq=True, frozen=True)
class Fill(Need):
    """A depth, or a volume of one place, to fill."""

    depth: float | None = None  #: m
    volume: float | None = None  #: m3, of one place
    settled: bool  #: is the depth meant after settling?
    mix: tuple[tuple[str, float, float], ...] = ()  #: part, its least and its largest share


@fixed(eq=True, frozen=True)
class Lime(Need):
    """Soil pH to reach in a depth of soil; dug in, but round trees and in rows, unless it says otherwise."""

    soil_test: ClassVar[str] = "pH"
    soil_key: ClassVar[str] = "ph"

    dug: bool = True  #: dug in, or left on top? (common practice, no source)
    ph: float  #: pH to reach
    depth: float  #: m, of soil

    def remarks(self, place: Place, start: date) -> Iterator[Remark]:
        """Ask for the soil's pH, and about a target it has already or that is more than crops want."""
        there, most = place.soil.ph, judgement("limed_far")
        if there is None:
            sentence = 'the soil\'s "ph" is needed; give it under "soil:", e.g. ph: 5.8'
            yield Remark(code="missing-key", sentence=sentence, problem=True)
            return
        if self.ph <= there:
            yield Remark(key="ph", code="met-already", sentence=f"the soil has pH {there:g} already")
        if self.ph > most:
            sentence = (
                f"pH {self.ph:g} is more than crops want: mineral soil is limed to 6.7 for crops and 6.2 for"
                " grass, and no further than half a pH from that (RB209 section 1)"
            )
            yield Remark(key="ph", code="unusual", sentence=sentence)
        for demand in place.grown:
            if demand.scab is not None and self.ph > max(there, demand.scab):
                over = f"over pH {demand.scab:g} {demand.name} is more prone to scab"
                sentence = f"{over}: lime the ground after that crop, not before it"
                yield Remark(key="ph", code="unusual", sentence=sentence)
            if demand.acid is not None and self.ph > demand.acid:
                sentence = f"{demand.name} wants pH {demand.acid:g} or less: lime harms it"
                yield Remark(key="ph", code="unusual", sentence=sentence)
        by_clay = (place.soil.organic_matter or 0.0) < rate("organic_from")
        if self.ph > there and by_clay and place.soil.clay is None:
            sentence = (
                'no clay is given, so lime is reckoned for a loam; give it under "soil:", e.g. clay: 25 %'
            )
            yield Remark(code="assumed", sentence=sentence)


#: Every kind of need by its word in the site file.
NEEDS: Mapping[str, type[Need]] = MappingProxyType(
    {need.__name__.lower(): need for need in (Cover, Dress, Raise, Feed, Fill, Lime)}
)
