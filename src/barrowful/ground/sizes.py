"""Amounts as people write them, by volume or by mass, and what a price is for."""

from __future__ import annotations

from dataclasses import dataclass

from barrowful.ground import amount


@dataclass(frozen=True, slots=True)
class Size:
    """An amount by volume or by mass, whichever was written."""

    volume: float | None = None  #: m3
    mass: float | None = None  #: kg

    def loose(self, density: float) -> float:
        """Return the loose volume [m3] at a density [kg/m3].

        >>> Size(mass=1280.0).loose(640.0)
        2.0
        """
        return self.volume if self.volume is not None else amount.loose_volume(self.mass or 0.0, density)

    def wet(self, density: float | None) -> float:
        """Return the wet mass [kg]; a volume needs the density [kg/m3].

        >>> Size(volume=2.0).wet(640.0)
        1280.0
        """
        if self.mass is not None:
            return self.mass
        if density is None:
            raise ValueError("a volume needs a density")
        return amount.mass(self.volume or 0.0, density)


@dataclass(frozen=True, slots=True)
class Selling:
    """What a price is for: one unit, bag or load, and how much that is."""

    word: str  #: the unit as written, or bag or load
    volume: float | None = None  #: m3
    mass: float | None = None  #: kg
