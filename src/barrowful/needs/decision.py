"""What is decided for one kind of need by one way: the doses, and how the need is met."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from barrowful.soil.application import Application


class CannotServe(Exception):
    """A way cannot serve a need; the message says why, for the grower."""


@dataclass(frozen=True, kw_only=True)
class Decision:
    """Doses for one need of one or more places by one way, and how the need is met."""

    doses: tuple[Application, ...] = ()
    feasible: bool = True  #: met in every place, in time
    why_not: str = ""
    ready_on: date | None = None
    levels_off: float | None = None  #: share; where soil organic matter tends to, if never reached
    matter: float | None = None  #: share; lowest soil organic matter of the places on the day wanted
    holds_with: float | None = None  #: kg/m2 a year as delivered, to hold a target
    times_needed: float | None = None  #: how many times what the way brings would meet the need in time
    founds: bool = False  #: planting itself meets it, with nothing spread
    as_written: bool = False  #: the doses are the grower's own
    binding: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))  #: place -> nutrient
    credit: float = 0.0  #: kg; nitrogen still to come from earlier seasons
