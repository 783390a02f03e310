"""The records of a site. Lengths m, areas m2, volumes m3, masses kg, shares 0 to 1, rates a year."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from barrowful.catalogue.materials import Material
from barrowful.measures.dates import Step
from barrowful.site.ways import Size, Way


@dataclass(frozen=True)
class Climate:
    """Twelve monthly mean temperatures [degC], water balance [mm a year], frost as (month, day)."""

    temperatures: tuple[float, ...]
    balance: float | None
    last_frost: tuple[int, int] | None
    first_frost: tuple[int, int] | None
    assumed: bool


@dataclass(frozen=True)
class Soil:
    """A soil: shares, dry bulk density [kg/m3], the word of a phosphorus test, the test's date."""

    organic_matter: float | None = None
    bulk_density: float | None = None
    clay: float | None = None
    stones: float = 0.0
    phosphorus_test: str = ""
    tested: date | None = None


@dataclass(frozen=True)
class Need:
    """What every need has in common."""

    dug: bool
    allowance: float
    most_per_application: float | None

    @property
    def kind(self) -> str:
        """Return the word of the site file: cover, dress, raise, feed or fill."""
        return type(self).__name__.lower()


@dataclass(frozen=True)
class Cover(Need):
    """A mulch layer [m] kept up; topped up below the share ``keep`` of its depth."""

    depth: float
    settled: bool
    keep: float
    smother: bool


@dataclass(frozen=True)
class Dress(Need):
    """A depth [m] or a dose [kg/m2] put on once."""

    depth: float | None
    dose: float | None
    settled: bool


@dataclass(frozen=True)
class Raise(Need):
    """Soil organic matter [share] to reach in a depth [m] by a date."""

    organic_matter: float
    depth: float
    by: date | None


@dataclass(frozen=True)
class Feed(Need):
    """Nutrients plants can use each season [kg/m2] and the crop they are for."""

    nitrogen: float
    phosphorus: float
    potassium: float
    crop: str


@dataclass(frozen=True)
class Fill(Need):
    """A depth [m] or a volume [m3] of one place to fill."""

    depth: float | None
    volume: float | None
    settled: bool


@dataclass(frozen=True)
class Place:
    """``count`` equal places of ``area`` [m2] each; of a ring also radius and collar [m]."""

    name: str
    kind: str
    area: float
    count: int
    needs: tuple[Need, ...]
    soil: Soil
    ways: frozenset[str] | None
    layer_now: float
    near_water: bool
    ring: tuple[float, float] | None = None

    @property
    def total_area(self) -> float:
        """Return the area of all of them [m2]."""
        return self.area * self.count

    def need(self, kind: str) -> Need | None:
        """Return the need of a kind, or None."""
        return next((need for need in self.needs if need.kind == kind), None)


@dataclass(frozen=True)
class Labour:
    """An hour's value, the push [m], the barrow [m3], and hours there are each week."""

    hourly_value: Decimal
    push: float
    barrow: float
    hours_per_week: float | None


@dataclass(frozen=True)
class HistoryEntry:
    """An entry of the history, with what it says in SI units."""

    day: date
    place: str
    material: Material | None
    loose: float
    dug: bool | None
    hours: float | None
    cash: Decimal | None
    tested: float | None
    note: str


@dataclass(frozen=True)
class PlanLine:
    """A line of the plan."""

    place: str
    need: str
    way: str
    amount: Size | None
    day: date | None


@dataclass(frozen=True)
class Limits:
    """Limits: cash, hours, nitrogen [kg/m2 in a year], and a date."""

    cash: Decimal | None = None
    hours: float | None = None
    nitrogen: float | None = None
    by: date | None = None


@dataclass(frozen=True)
class Site:
    """One holding."""

    name: str
    currency: str
    start: date
    horizon: Step
    hemisphere: str
    climate: Climate
    soil: Soil
    made_ground: bool
    labour: Labour
    places: tuple[Place, ...]
    ways: tuple[Way, ...]
    materials: Mapping[str, Material]
    limits: Limits
    plan: tuple[PlanLine, ...]
    history: tuple[HistoryEntry, ...]

    @property
    def end(self) -> date:
        """Return the last day looked at."""
        return self.horizon.after(self.start)

    def way(self, name: str) -> Way:
        """Return the way of a name; KeyError when there is none."""
        for way in self.ways:
            if way.name == name:
                return way
        raise KeyError(name)
