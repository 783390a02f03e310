"""What a way can bring and when: lots of loose material, and what drawing on them costs."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import field
from datetime import date
from decimal import Decimal
from typing import Any, ClassVar, Generic, Literal, NamedTuple, TypeVar

from barrowful.catalogue.figures import Figure
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.origins import names_trees
from barrowful.catalogue.rates import rate
from barrowful.costs.labour import Hours
from barrowful.costs.order import Order
from barrowful.ground import amount
from barrowful.measures.fixed import fixed
from barrowful.site.carried import AS_IT_IS, Carried
from barrowful.site.records import Place, Site
from barrowful.site.ways import Buy, Way
from barrowful.soil.application import Application
from barrowful.supplies.flow import Flow, way_key
from barrowful.supplies.lot import Lot, LotsRange
from barrowful.supplies.task import Task

WayRecord = TypeVar("WayRecord", bound=Way)


class Draw(NamedTuple):
    """Loose material [m3] wanted of a seller on a day."""

    day: date
    way: Buy
    loose: float
    needs: tuple[str, ...] = ()


class Payment(NamedTuple):
    """Money that is no order of a way: seed, plants, ground taken, stuff for a heap; mass in kg."""

    day: date
    way: str
    what: str
    mass: float | None
    cash: Decimal


@fixed(kw_only=False)
class Cost:
    """What drawing on a supply costs beside spreading: what is bought, other payments, and hours."""

    bought: tuple[Draw, ...] = ()
    paid: tuple[Payment, ...] = ()
    hours: Hours = field(default_factory=Hours)

    def __add__(self, other: Cost) -> Cost:
        return Cost(self.bought + other.bought, self.paid + other.paid, self.hours + other.hours)


class Land(NamedTuple):
    """Land a way takes: how much, of what (m2, m of row, plants), and what plants it holds, unless sown."""

    size: float
    unit: str
    plants: int | None = None


class Supply(ABC, Generic[WayRecord]):
    """A way as a supply: its material, its lots over time, what drawing on it costs.

    Whatever lies above asks it what it is and does; nothing there asks of which kind its way is."""

    #: What a lot that is not used at once does: it keeps, or it is gone.
    keeps = True
    #: Can more be asked of it than it brings? What is bought is limited by money alone.
    limited = True
    #: Does it draw on other ways of the site?
    draws_on_others = False
    #: Is bringing it to the place in its own hours already?
    carried = False
    #: What its lots are told by: the volume as it lies, the weight as delivered, or dry mass.
    lots_by: Literal["volume", "weight", "dry mass"] = "volume"
    #: How it grows, where it is grown: cover crop, hedge or perennial; and does it strike from bare wood?
    habit, hardwood = "", False
    #: The conditions of cautions that :meth:`hazards` may name.
    hazard_words = frozenset({"raw manure", "heap too high"})
    #: What the ledger calls its zone.
    zone = "stock"
    #: What the grower should know of it, such as why it brings nothing.
    note = ""

    def __init__(self, way: WayRecord, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        self.way, self.site, self.drawn = way, site, drawn

    material: Material

    @property
    def name(self) -> str:
        """Return the name of the way."""
        return self.way.name

    key = name  #: what it is looked up by
    weight_of: ClassVar[dict[str, float]] = {}  #: what each m3 counts where that is not its price

    @property
    def names(self) -> tuple[str, ...]:
        """Return the names of the ways that it is."""
        return (self.name,)

    @property
    def parts(self) -> tuple[Supply[Any], ...]:
        """Return the ways that it is: this one."""
        return (self,)

    @property
    def materials(self) -> tuple[Material, ...]:
        """Return the material of each way that it is."""
        return (self.material,)

    def divide(self, doses: Sequence[Application]) -> Iterator[tuple[Supply[Any], Sequence[Application]]]:
        """Yield each way that it is with those of some doses that are its own."""
        yield self, doses

    @abstractmethod
    def lots(self, until: date) -> list[Lot]:
        """Return the lots up to and including a day, in order."""

    def there(self, until: date) -> list[Lot]:
        """Return the lots up to a day, beside those to be made, that were made already."""
        return []

    def made(self, until: date) -> list[Lot]:
        """Return the lots up to a day that each have to be made, whole, none before those ahead of it."""
        return []

    @abstractmethod
    def cost(self, draws: Mapping[date, float]) -> Cost:
        """Return what it costs to have drawn loose volumes [m3] by the day of their use."""

    @property
    def lots_range(self) -> LotsRange | None:
        """Return between what its lots may lie, where the catalogue has a range of it."""
        return None

    def tasks_of_batch(self, day: date, loose: float) -> Sequence[Task]:
        """Return the tasks of what was built on a day, of so much [m3] or full; its stuff is there."""
        return ()

    def tasks(self, draws: Mapping[date, float]) -> list[Task]:
        """Return what is to be done for having drawn loose volumes [m3], beside putting them on.

        The hours of all tasks are those of the cost, as far as it lies within the horizon.
        """
        return []

    def founding_tasks(self) -> list[Task]:
        """Return what is to be done to have it at all, where planting it is all there is to it."""
        return []

    def founding(self, years: int, sown: int | None = None) -> Cost:
        """Return what it takes to have it at all, for so many years, before anything is drawn.

        It is ``sown`` in so many of them, in each where that is not said.
        """
        return Cost()

    def sown_for(self, days: Iterable[date]) -> int:
        """Return in how many of the years of some draws it is sown: in all, but for what stands already."""
        return len({day.year for day in days})

    def passed_on(self, draws: Mapping[date, float]) -> list[tuple[str, dict[date, float]]]:
        """Return what drawing on this way draws on others: a heap takes chip from a pile."""
        return []

    def serves(self, place: Place, kind: str) -> bool:
        """Say whether a place has a need of a kind and allows this way."""
        return place.need(kind) is not None and (place.ways is None or self.way.name in place.ways)

    @property
    def stands(self) -> bool:
        """Say whether it meets a cover by standing there, with nothing spread."""
        return False

    @property
    def closes_on(self) -> date | None:
        """Return the day what stands there has closed the ground; None where nothing does."""
        return None

    @property
    def earliest(self) -> date | None:
        """Return the first day that what is ordered on the start is there; None where nothing is ordered."""
        return None

    @property
    def sold_in_wholes(self) -> bool:
        """Say whether it comes in steps, bags, loads or trips, so that a little more may cost a whole one."""
        return False

    @property
    def stuff(self) -> str:
        """Return the name of the stuff it brings; two ways of one name bring the same."""
        return self.material.name

    @property
    def stuffs(self) -> list[Material]:
        """Return the material it brings and what goes into that."""
        return [self.material]

    @property
    def rests_on(self) -> Mapping[str, Mapping[str, Figure]]:
        """Return the figures it is reckoned from, by what they are of."""
        return {f"material {stuff.name}": stuff.figures for stuff in self.stuffs}

    @property
    def provenance(self) -> str:
        """Return what is said of where it comes from."""
        return self.way.provenance

    @property
    def of_unknown_trees(self) -> bool:
        """Say whether it is wood of which nobody said what trees it is of."""
        return self.material.sort.asks_origin and not names_trees(self.provenance)

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        """Yield the conditions of cautions that hold for this way, so drawn on and so ordered."""
        large = judgement("stored_volume")
        if self.material.has("raw"):
            yield "raw manure"
        if self.material.sort.heats and any(order.volume >= large for order in orders):
            yield "heap too high"

    @property
    def overtaken(self) -> str:
        """Return what the history took of it beyond what there was, or nothing."""
        return ""

    def carried_on(self, day: date) -> Carried:
        """Return what becomes of the way in the file of the season that begins on a day."""
        return AS_IT_IS

    @property
    def price_by_mass(self) -> float:
        """Return the price of each kg before delivery, for choosing between recipes."""
        return 0.0

    @property
    def lies_there(self) -> float:
        """Return what lies there [loose m3] from before the start, beside its lots."""
        return 0.0

    @property
    def price_by_volume(self) -> float:
        """Return the price of each loose m3 before delivery."""
        return 0.0

    def least_cash(self, loose: float) -> Decimal:
        """Return no more money than a loose volume [m3] costs, however it is ordered."""
        return Decimal(0)

    @property
    def land(self) -> Land | None:
        """Return the land it takes, where it takes any."""
        return None

    @property
    def area(self) -> float | None:
        """Return the ground [m2] it takes, where that is known."""
        return None

    @property
    def source(self) -> str:
        """Return the zone that what is spread comes from, in the ledger's words."""
        return way_key(self.way.name)

    def inflows(self, draws: Mapping[date, float]) -> list[Flow]:
        """Return the nutrients that came into this way for what is drawn, and those lost in it."""
        return []

    def fixed(self, nitrogen: float) -> list[Flow]:
        """Return what came from the air of the nitrogen [kg] drawn from it."""
        return []


def density_of(material: Material) -> float:
    """Return the density [kg/m3], or the assumed one where it is not known."""
    return material.get("density") or rate("unknown_density")


def loose_of(material: Material, wet: float) -> float:
    """Return the loose volume [m3] of a wet mass [kg], at the assumed density where none is known."""
    return amount.loose_volume(wet, density_of(material))


def wet_of(material: Material, loose: float) -> float:
    """Return the wet mass [kg] of a loose volume [m3], at the assumed density where none is known."""
    return amount.mass(loose, density_of(material))
