"""The humus that is there already: held as it is, or let fall as the ground is managed."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from barrowful.catalogue.rates import kept_by_rates, rates
from barrowful.ground import decay
from barrowful.measures.elementwise import at_least
from barrowful.site.records import Climate, Place, Soil
from barrowful.soil.turnover import humus_factor


class Kept(NamedTuple):
    """Share of the present humus that is still there: low, likely and high."""

    low: float
    likely: float
    high: float


#: Nothing has gone.
ALL = Kept(1.0, 1.0, 1.0)
#: Ways of managing ground on which the humus there is falls.
FALLS = ("bare", "cropped")


@kept_by_rates(4096)
def present_kept(climate: Climate, soil: Soil, years: float) -> Kept:
    """Return how much of the present humus is left after some years of the ground's management.

    On bare ground an active part goes at the rate of active humus and the rest at that of slow humus.
    Cropped ground, its residues taken off, loses a share of that. Rested ground keeps all, and so does
    ground of which nothing is said: present management is taken to be in balance.
    """
    if soil.managed not in FALLS or years <= 0:
        return ALL
    low, likely, high = (_kept(climate, soil, years, end) for end in ("high", "likely", "low"))
    likely = at_least(likely, low)  # of hardly anything gone the last digit decides no order
    return Kept(low=low, likely=likely, high=at_least(high, likely))


def _kept(climate: Climate, soil: Soil, years: float, end: str) -> float:
    """Return the share kept with active share, rates and loss at an end of their ranges."""
    known, factor = rates(), humus_factor(climate, soil.clay)
    left: float = decay.present_humus_left(
        years,
        getattr(known["humus_rate"], end) * factor,
        getattr(known["slow_humus_rate"], end) * factor,
        getattr(known["present_active"], end),
    )
    loses: float = 1.0 if soil.managed == "bare" else getattr(known["cropped_loss"], end)
    return 1 - loses * (1 - left)


def how_kept(places: Iterable[Place]) -> list[str]:
    """Return a sentence on the humus there is now in some places; nothing where no test is known."""
    known = [place for place in places if place.soil.organic_matter is not None]
    if not known:
        return []
    falls = {word: [place.name for place in known if place.soil.managed == word] for word in FALLS}
    said = [f"falls in {_some(names)} (managed {word})" for word, names in falls.items() if names]
    if not said:
        return ["The humus there now is held as it is; soil: {managed: bare} or cropped lets it fall."]
    held = [place.name for place in known if place.soil.managed not in FALLS]
    return [f"The humus there now {', '.join([*said, *([f'is held in {_some(held)}'] if held else [])])}."]


def _some(names: Sequence[str]) -> str:
    """Return the first names of some places, and how many more there are."""
    more = len(names) - 2
    return ", ".join(names[:2]) + (f" and {more} more" if more > 0 else "")
