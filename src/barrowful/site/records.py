"""The records of a site. What each field holds, and its unit, stands beside it; shares are 0 to 1."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date, timedelta
from decimal import Decimal
from functools import cached_property

from barrowful.catalogue.crops import CropDemand
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.ground.sizes import Size
from barrowful.measures.dates import FEBRUARY, SHORTEST_MONTH, Step
from barrowful.measures.fixed import fixed
from barrowful.site.job_names import BROUGHT, BUILT, DEEDS, first_word
from barrowful.site.needs import Need
from barrowful.site.ways import Way


@fixed(eq=True, frozen=True)
class Climate:
    """What drives decay: warmth, wet, and the frosts."""

    temperatures: tuple[float, ...]  #: degC, mean of each month, January first
    assumed: bool  #: are the temperatures not the grower's?
    balance: float | None = None  #: mm, rain and watering less evaporation in a year
    last_frost: tuple[int, int] | None = None  #: month and day in spring
    first_frost: tuple[int, int] | None = None  #: month and day in autumn
    rain_months: frozenset[int] = frozenset()  #: months of rain

    def __hash__(self) -> int:
        return hash(self.temperatures[0])  # it is looked up by the ten thousand, and a site has one


@fixed(eq=True, frozen=True)
class Soil:
    """A soil, from a test where there is one."""

    organic_matter: float | None = None  #: share of dry soil
    bulk_density: float | None = None  #: kg/m3, dry soil in each volume
    clay: float | None = None  #: share of the fine soil
    stones: float = 0.0  #: share of the volume
    phosphorus_test: str = ""  #: the laboratory's word, nothing where there is none
    ph: float | None = None  #: pH, in water
    nitrogen_index: int = 1  #: 0 is poor, 6 very rich
    nitrogen_supply: float | None = None  #: kg/m2 that the soil gives a crop in a season
    tested: date | None = None  #: day of the test
    managed: str = ""  #: bare, cropped or rested; nothing where the humus there is held as it is

    @property
    def is_sandy(self) -> bool:
        """Say whether it is known to hold little clay."""
        return self.clay is not None and self.clay < judgement("sandy_clay")


@fixed(eq=True, frozen=True)
class Practice:
    """Limits of good practice on a place."""

    depth_per_year: float | None = None  #: m, loose; compost and manure in any twelve months
    nitrogen: float | None = None  #: kg/m2, total in any twelve months
    farm: bool = False  #: do the rules of farms bind, and not the garden's?
    useful_depth: float | None = None  #: m, as spread; the thinnest layer worth spreading, None for the usual
    lift: frozenset[str] = frozenset()  #: names of ceilings that do not bind


@fixed(eq=True, frozen=True)
class Place:
    """So many equal beds, trees, rows or pots."""

    name: str  #: the grower's name for it
    kind: str  #: bed, tree, row or pot
    area: float  #: m2, of one
    count: int  #: how many equal ones
    needs: tuple[Need, ...] = ()  #: at most one of a kind
    soil: Soil  #: its own over the site's
    ways: frozenset[str] | None = None  #: names of the only ways to use, None for any
    layer_now: float = 0.0  #: m, mulch lying there, settled
    new: bool = False  #: is it being made?
    harvest_from: tuple[int, int] | None = None  #: month and day of the first harvest
    eaten_raw: bool | None = None  #: does what is eaten raw touch the soil? None for as its crop does
    limits: Practice  #: its own over the site's
    priority: int  #: 1 to 3, who comes first where there is too little
    near_water: bool = False  #: within 10 m of open water or 50 m of a well or spring?
    ring: tuple[float, float] | None = None  #: m, outer radius and bare collar of a ring
    choice: frozenset[str] = frozenset()  #: what better stuff there is among its ways, by words of suits.toml

    @cached_property
    def total_area(self) -> float:
        """Return the area of all of them [m2]."""
        return self.area * self.count

    @property
    def sort(self) -> tuple[object, ...]:
        """Return all that bears on what each square metre gets."""
        return (
            *(self.kind, self.needs, self.soil, self.ways, self.layer_now, self.new),
            *(self.harvest_from, self.eaten_raw, self.limits, self.near_water, self.choice),
        )

    def need(self, kind: str) -> Need | None:
        """Return the need of a kind, or None."""
        return self._by_kind.get(kind)

    @property
    def grown(self) -> list[CropDemand]:
        """Return the crops of the catalogue that its needs say grow on it."""
        return [need.grown for need in self.needs if need.grown]

    @cached_property
    def asked(self) -> frozenset[str]:
        """Return the kinds of its needs."""
        return frozenset(self._by_kind)

    @cached_property
    def _by_kind(self) -> dict[str, Need]:
        return {need.kind: need for need in self.needs}


@fixed(eq=True, frozen=True)
class Labour:
    """Hours, what they are worth, and what a barrow run takes."""

    hourly_value: Decimal = Decimal(0)  #: money for each hour
    push: float  #: m, one way
    barrow: float  #: m3
    hours_per_week: float | None = None  #: h, there are each week


@fixed(eq=True, frozen=True)
class HistoryEntry:
    """What was done on a day, in all."""

    day: date  #: day it was done
    place: str = ""  #: name of a place, nothing where nothing was put on one
    way: str = ""  #: name of the way it came by, nothing where it is not said
    job: str = ""  #: which job it was, in the grower's or the season's words
    material: Material | None = None  #: what was put on, or taken of a stock
    loose: float  #: m3, as spread, on all of the place; as it lay in a stock or a heap
    weighed: bool = False  #: was it told by weight?
    dug: bool | None = None  #: dug in? None where it is not said
    hours: float | None = None  #: h
    cash: Decimal | None = None  #: money
    tested: float | None = None  #: share of organic matter that a soil test found
    temperature: float | None = None  #: degC, in the core of a heap
    note: str = ""  #: anything to remember
    ends: bool = False  #: does it say that no more of it comes?
    again: bool = False  #: does another entry tell of the same heap?

    @property
    def deed(self) -> str:
        """Return what was done to a heap, the first word of the job: built, turned, or nothing of these."""
        return DEEDS.get(first_word(self.job), "")

    @property
    def built(self) -> bool:
        """Say whether a heap was built."""
        return self.deed == BUILT

    @property
    def brought(self) -> bool:
        """Say whether it came of a way then, and was put on no place yet."""
        return not self.place and first_word(self.job) in BROUGHT


@fixed(eq=True, frozen=True)
class PlanLine:
    """A line of the grower's own plan."""

    place: str  #: name of a place
    need: str  #: kind of need
    way: str  #: name of a way
    amount: Size | None = None  #: in all, None for what is needed beside all other lines
    day: date | None = None  #: when it goes on, or begins; None for as the row of options has it


@fixed(eq=True, frozen=True)
class Limits(Practice):
    """What every place, and all together, is to stay within."""

    cash: Decimal | None = None  #: money
    hours: float | None = None  #: h
    by: date | None = None  #: day everything is to be met by


@fixed(eq=True, frozen=True)
class Site:
    """One holding."""

    name: str  #: the grower's name for it
    currency: str  #: code of ISO 4217
    start: date  #: day planning starts from
    horizon: Step  #: how far ahead to look
    hemisphere: str  #: north or south
    climate: Climate  #: what drives decay
    soil: Soil  #: behind what the places say of theirs
    made_ground: bool  #: city, old buildings, roadside or filled ground?
    drop_at: str = ""  #: where what is brought is tipped, where a way does not say
    labour: Labour  #: hours and the barrow
    places: tuple[Place, ...]  #: in the order of the file
    ways: tuple[Way, ...] = ()  #: in the order of the file
    materials: Mapping[str, Material]  #: described in the file, by name
    limits: Limits  #: what all is to stay within
    plan: tuple[PlanLine, ...] = ()  #: the grower's own decisions
    history: tuple[HistoryEntry, ...] = ()  #: in the order of their days

    @cached_property
    def end(self) -> date:
        """Return the last day looked at."""
        return self.horizon.after(self.start)

    @property
    def eve(self) -> date:
        """Return the day before the last, to which a layer is kept up."""
        return max(self.start, self.end - timedelta(days=1))

    @cached_property
    def season_ends(self) -> tuple[int, int]:
        """Return month and day before which a growing season ends: the first frost, else the start's day."""
        month, day = self.climate.first_frost or (self.start.month, self.start.day)
        return month, min(day, SHORTEST_MONTH) if month == FEBRUARY else day

    def place(self, name: str) -> Place:
        """Return the place of a name; KeyError when there is none."""
        return self._places[name]

    @cached_property
    def _places(self) -> dict[str, Place]:
        return {place.name: place for place in self.places}

    def done_on(self, name: str) -> tuple[HistoryEntry, ...]:
        """Return the entries of the history of a place, in the order of their days."""
        return self._done_on.get(name, ())

    @cached_property
    def _done_on(self) -> dict[str, tuple[HistoryEntry, ...]]:
        return _grouped(self.history, lambda entry: entry.place)

    @cached_property
    def sorts(self) -> dict[str, int]:
        """Return the number of the sort of each place, by name: what is asked of those of one sort is equal.

        They differ in name, size and count alone, and nothing was done on any of them yet.
        """
        return self.sorts_by(lambda place: place.sort)

    def sorts_by(self, bears: Callable[[Place], object]) -> dict[str, int]:
        """Return the numbers of sorts where no more of a place matters than what ``bears`` returns."""
        if bears not in self._sorts:
            numbers: dict[object, int] = {}
            keys = {of.name: (of.name,) if of.name in self._done_on else bears(of) for of in self.places}
            self._sorts[bears] = {name: numbers.setdefault(key, len(numbers)) for name, key in keys.items()}
        return self._sorts[bears]

    @cached_property
    def _sorts(self) -> dict[Callable[[Place], object], dict[str, int]]:
        """Hold the numbers of sorts, once they were asked for."""
        return {}

    def done_by(self, way: str) -> tuple[HistoryEntry, ...]:
        """Return the entries of the history of a way, in the order of their days; what is told twice once."""
        return self._done_by.get(way, ())

    @cached_property
    def _done_by(self) -> dict[str, tuple[HistoryEntry, ...]]:
        return _grouped(self.history, lambda entry: "" if entry.again else entry.way)

    def places_with(self, kind: str) -> tuple[Place, ...]:
        """Return the places with a kind of need, in the order of the file."""
        return self._places_with.get(kind, ())

    @cached_property
    def _places_with(self) -> dict[str, tuple[Place, ...]]:
        kinds = {need.kind for place in self.places for need in place.needs}
        return {kind: tuple(place for place in self.places if place.need(kind)) for kind in kinds}

    def way(self, name: str) -> Way:
        """Return the way of a name; KeyError when there is none."""
        for way in self.ways:
            if way.name == name:
                return way
        raise KeyError(name)


def _grouped(
    history: Iterable[HistoryEntry], name: Callable[[HistoryEntry], str]
) -> dict[str, tuple[HistoryEntry, ...]]:
    """Return entries by what they name; those that name nothing are left out."""
    entries: dict[str, list[HistoryEntry]] = {}
    for entry in history:
        if name(entry):
            entries.setdefault(name(entry), []).append(entry)
    return {key: tuple(of) for key, of in entries.items()}
