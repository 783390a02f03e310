"""Materials of the catalogue: one file each, read only when asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from types import MappingProxyType

from barrowful.catalogue.classes import MaterialClass, classes, flag_meanings
from barrowful.catalogue.figures import CatalogueError, Figure, load_named, names_in, read_figure
from barrowful.catalogue.rates import rates
from barrowful.catalogue.vocabulary import FIGURES
from barrowful.ground import amount
from barrowful.measures.elementwise import likely
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import MASS, VOLUME, measured

#: Manure that waits before a harvest, and what says that the stuff in hand was treated and does not.
RAW, TREATED = "raw", "treated"
#: What is cut and dropped where it grew.
DROPPED = "dropped"


@fixed(kw_only=False, eq=True, frozen=True)
class Material:
    """A material and its figures; shares of dry mass are of elements, never oxides.

    ``flags`` are those it has beside those of its class; :meth:`has` looks at both.
    """

    name: str
    class_: str
    about: str
    figures: Mapping[str, Figure]
    flags: frozenset[str] = frozenset()

    def __hash__(self) -> int:
        return hash(self.name)

    def __getitem__(self, name: str) -> float:
        """Return the likely value in SI units; KeyError when the figure is not known."""
        return self.figures[name].likely

    def get(self, name: str) -> float | None:
        """Return the likely value in SI units, or None when the figure is not known."""
        figure = self.figures.get(name)
        return figure.likely if figure else None

    def lacks(self, *names: str) -> list[str]:
        """Return those of the names that have no figure."""
        return [name for name in names if name not in self.figures]

    def with_figures(self, figures: Mapping[str, Figure]) -> Material:
        """Return the same material with some figures replaced."""
        return replace(self, figures=MappingProxyType({**self.figures, **figures}))

    def wet_mass(self, loose: float) -> float:
        """Return the wet mass [kg] of a loose volume [m3]; KeyError without a density."""
        return amount.mass(loose, self["density"])

    def dry_mass(self, loose: float) -> float:
        """Return the dry mass [kg] of a loose volume [m3]."""
        return self.dry_of(self.wet_mass(loose))

    def loose_of(self, wet: float) -> float:
        """Return the loose volume [m3] of a wet mass [kg]."""
        return amount.loose_volume(wet, self["density"])

    def dry_of(self, wet: float) -> float:
        """Return the dry mass [kg] of a wet mass [kg]; or of each from each, such as kg/m2."""
        return amount.dry_mass(wet, self["moisture"])

    def wet_of(self, dry: float) -> float:
        """Return the wet mass [kg] of a dry mass [kg]; or of each from each, such as kg/m2."""
        return amount.wet_mass(dry, self["moisture"])

    def told(self, loose: float, form: int = 3) -> str:
        """Return a loose volume [m3] as it is told in a sentence: by weight of what is sold so.

        >>> material("wood ash").told(0.003), material("topsoil").told(0.003)
        ('0.9 kg', '0.003 m3')
        """
        if self.sort.as_sold:
            return measured(self.wet_mass(loose), MASS, form)
        return measured(loose, VOLUME, form)

    def holds(self, loose: float, name: str) -> float:
        """Return the mass [kg] of a share of the dry mass, such as nitrogen, in a loose volume [m3]."""
        return self.dry_mass(loose) * self[name]

    def in_each_wet(self, name: str) -> float:
        """Return the mass of a share of the dry mass, such as carbon, in each wet mass [share]."""
        return self.dry_of(1.0) * self[name]

    def loose_for_settled(self, settled: float) -> float:
        """Return the loose volume [m3] that settles to a volume [m3]; the same where no figure is known."""
        return amount.loose_for_settled(settled, self._in_place)

    def settled_depth(self, spread: float) -> float:
        """Return the depth [m] that a depth as spread [m] settles to."""
        return amount.settled_depth(spread, self._in_place)

    @property
    def _in_place(self) -> float:
        """Return the share of its loose depth that it settles to; all where no figure is known."""
        return self["in_place"] if "in_place" in self.figures else 1.0

    @property
    def sort(self) -> MaterialClass:
        """Return what its class means for the rules."""
        return classes()[self.class_]

    def has(self, flag: str) -> bool:
        """Say whether it has a flag, of its own or of its class; what is treated is not raw."""
        if flag == RAW and TREATED in self.flags:
            return False
        return flag in self.flags or flag in self.sort.flags

    def is_of(self, sorts: frozenset[str], flags: frozenset[str], without: frozenset[str]) -> bool:
        """Say whether it is of some class and has some flag, where any are named, and none of others."""
        return (
            (not sorts or self.class_ in sorts)
            and (not flags or any(self.has(flag) for flag in flags))
            and not any(self.has(flag) for flag in without)
        )

    @property
    def is_fresh_manure(self) -> bool:
        """Say whether it is manure, fresh or as pellets; what is composted, hot, is not."""
        return self.class_ == "manure" or self.has("bird") or self.has("raw")

    @property
    def holds_manure(self) -> bool:
        """Say whether it is manure or made of it."""
        return self.class_ == "manure" or self.has("manure_based")

    @property
    def limes(self) -> bool:
        """Say whether it limes the ground: by its flags, or by what it is known to neutralise."""
        known = self.get("neutralising_value") or 0.0
        return self.has("alkaline") or self.has("chalky") or likely(known) > 0

    @property
    def is_mineral_fertiliser(self) -> bool:
        """Say whether it is a fertiliser of salts: flagged so, or one that gives all of its nitrogen."""
        gives_all = not self.lacks("available_nitrogen") and likely(self["available_nitrogen"]) >= 1.0
        return self.class_ == "fertiliser" and (gives_all or self.has("mineral"))

    @property
    def density_assumed(self) -> bool:
        """Say whether its density is the one that stands for its class, for want of one stated."""
        usual = self.sort.density
        return bool(usual) and self.figures.get("density") == rates()[usual]

    @property
    def finished(self) -> bool:
        """Say whether its fresh part counts as soil organic matter once dug in."""
        return self.sort.finished


#: Moisture of what is described as sold: the shares on the label are of the mass in the bag.
_AS_SOLD = Figure(
    dimension="share",
    low=0.0,
    likely=0.0,
    high=0.0,
    texts=("0", "0", "0"),
    unit="%",
    basis="the figures are of the product as sold",
    sources=("barrowful",),
    place="by definition of the class",
    grade="derived",
)


def of_class(name: str, class_: str) -> Material:
    """Return a material of which nothing is known but its class; as sold, it has no water to take off.

    Where its class has a usual density it has that one: what is sold by weight is told without.

    >>> of_class("pellets", "fertiliser")["moisture"]
    0.0
    >>> of_class("pellets", "fertiliser").density_assumed
    True
    """
    sort = classes()[class_]
    known = {"moisture": _AS_SOLD} if sort.as_sold else {}
    if sort.density:
        known["density"] = rates()[sort.density]
    return Material(name=name, class_=class_, about="Described in the site file.", figures=known)


def names() -> tuple[str, ...]:
    """Return the names of all materials."""
    return names_in("materials")


@cache
def material(name: str) -> Material | None:
    """Return a material of the catalogue, or None when there is none of that name."""
    entry = load_named("materials", name)
    if entry is None:
        return None
    figures = {
        key: read_figure(entry[key], FIGURES[key].dimension, f"{name}.{key}")
        for key in FIGURES
        if key in entry
    }
    marks = frozenset(entry.get("flags", ()))
    if entry["class"] not in classes() or not marks <= flag_meanings().keys():
        raise CatalogueError(f"{name}: an unknown class or flag")
    return Material(
        name=entry["name"],
        class_=entry["class"],
        about=entry["about"],
        figures=MappingProxyType(figures),
        flags=marks,
    )
