"""What every builder of records needs: SI values, money, materials, and a place for complaints."""

from __future__ import annotations

from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from barrowful.catalogue.materials import Material, material, names
from barrowful.measures.money import Price
from barrowful.measures.problems import Mark
from barrowful.measures.text import read_unit
from barrowful.measures.units import fits, likely, si
from barrowful.site.terms import Selling, Size
from barrowful.sitefile.desk import Desk, Section


@dataclass
class Builder:
    """A desk for complaints, the materials of the site file by name, and the names of its heaps."""

    desk: Desk
    materials: dict[str, Material] = field(default_factory=dict)
    heaps: set[str] = field(default_factory=set)

    def problem(self, mark: Mark, code: str, message: str) -> None:
        """Note a problem at a place."""
        self.desk.problem(mark, code, message)

    def warning(self, mark: Mark, code: str, message: str) -> None:
        """Note a warning at a place."""
        self.desk.warning(mark, code, message)

    def known(self, name: str) -> Material | None:
        """Return a material of the file or the catalogue."""
        return self.materials.get(name) or material(name)

    def material(self, name: str, mark: Mark, where: str) -> Material | None:
        """Return a material of the file or the catalogue, or note that there is none."""
        found = self.known(name)
        if found is None:
            known = [*self.materials, *names()]
            self.problem(
                mark,
                "unknown-material",
                f'{where}: "{name}" is not a material known here{self.desk.nearest(name, known) or "."}'
                ' List them with "barrowful figures", or describe it under "materials:"',
            )
        return found


def number(section: Section, key: str, dimension: str) -> float | None:
    """Return a measure of a section in SI units, or None when it is not there."""
    value = section.get(key)
    return None if value is None else float(si(value, dimension))


def sure(section: Section, key: str, dimension: str) -> float:
    """Return a measure that must be there in SI units."""
    return float(si(section[key], dimension))


def size(section: Section, key: str) -> Size | None:
    """Return an amount written by volume or by mass."""
    value: Any = likely(section.get(key))
    if value is None:
        return None
    if fits(value.units, "volume"):
        return Size(float(si(value, "volume")), None)
    return Size(None, float(si(value, "mass")))


def cash(section: Section, key: str) -> Decimal:
    """Return an amount of money, nothing when it is not there."""
    price = section.get(key)
    return price.amount if isinstance(price, Price) else Decimal(0)


def selling(price: Price, desk: Desk) -> Selling:
    """Return what a price by volume or mass is for."""
    factor, unit = read_unit(price.per, desk.own)
    value = factor * unit
    if fits(unit, "volume"):
        return Selling(price.per, float(si(value, "volume")), None)
    return Selling(price.per, None, float(si(value, "mass")))
