"""What is decided for one kind of need by one way: what each place gets of it, and how the need is met."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from datetime import date
from functools import cached_property
from typing import NamedTuple

from barrowful.measures.fixed import fixed
from barrowful.site.needs import Need
from barrowful.site.records import Place
from barrowful.soil.application import Application

#: What a need may fall short of all of it, as a share, and is met.
MET = 1e-6


class CannotServe(Exception):
    """A way cannot serve a need; the message says why, for the grower."""


class Gain(NamedTuple):
    """How a raise of soil organic matter comes out."""

    levels_off: float | None  #: share; where soil organic matter tends to, if the target is never reached
    matter: float  #: share; soil organic matter on the day wanted
    holds_with: float | None  #: kg/m2 a year as delivered, to hold the target
    not_humus: float | None  #: share of the gain on the day wanted that is no humus yet


@fixed
class Serving:
    """What one place gets of a way for a need; what it gets is all there can be where the need is not met.

    ``doses`` meet it first, ``later`` keep it met to the end of the horizon: top-ups, later seasons.
    """

    place: Place
    doses: tuple[Application, ...] = ()
    later: tuple[Application, ...] = ()
    why_not: str = ""  #: nothing where the need is met, in time
    refused: bool = False  #: is it known that the way cannot serve it, whatever else is put on?
    hopeless: bool = False  #: is it known that no amounts of several ways meet it, whatever they cost?
    share: float = 1.0  #: of the need that is met
    ceiling: str = ""  #: name of the ceiling the dose stopped at
    possible: float | None = None  #: m3 loose that a ceiling, or what there is, allows
    short: float = 0.0  #: m3 loose that the way brings too little
    ready_on: date | None = None
    gain: Callable[[], Gain] | None = None  #: gives how a raise comes out; not all ask for it
    times_needed: float | None = None  #: how many times what the way brings would meet the need in time
    binding: str = ""  #: the nutrient that sizes a feed
    credit: float = 0.0  #: kg; net nitrogen of the first season from all else

    @property
    def met(self) -> bool:
        """Say whether the need is met here, in time."""
        return not self.why_not

    @property
    def unsuited(self) -> bool:
        """Say whether the stuff cannot serve, whatever else is put on, and however much there is of it."""
        return self.refused or self.ceiling == "suits"

    @property
    def every_dose(self) -> tuple[Application, ...]:
        """Return what meets the need and what keeps it met."""
        return (*self.doses, *self.later)

    def each(self, of: Callable[[Application], Application]) -> Serving:
        """Return the same with each of its doses made another."""
        return replace(self, doses=tuple(map(of, self.doses)), later=tuple(map(of, self.later)))

    def times_on(self, place: Place) -> float:
        """Return how many times as much equal ground of another size gets."""
        return place.total_area / self.place.total_area

    def on(self, place: Place, need: Need, why_not: str) -> Serving:
        """Return what equal ground of another size gets, and why it is not met there."""
        if place is self.place:
            return self
        times = self.times_on(place)
        changed = {
            "place": place,
            "doses": tuple([dose.on(place, need, times) for dose in self.doses]),
            "later": tuple([dose.on(place, need, times) for dose in self.later]),
            "why_not": why_not,
            "possible": None if self.possible is None else self.possible * times,
            "short": self.short * times,
            "times_needed": None if self.times_needed is None else self.times_needed * times,
            "credit": self.credit * times,
        }
        return Serving(**{**vars(self), **changed})


class Judged(NamedTuple):
    """How far doses meet a need, and why they do not, or from when on it is met.

    Doses after the day ``first_to`` are not for meeting it first, they keep it met.
    """

    share: float
    why_not: str = ""
    ready_on: date | None = None
    first_to: date = date.max

    @classmethod
    def of(cls, share: float, why_not: str, ready_on: date) -> Judged:
        """Return what a share comes to: with all of it it is ready on a day, and there is nothing to say."""
        return cls(1.0, "", ready_on) if share >= 1 - MET else cls(max(0.0, share), why_not)


def in_turn(places: Iterable[Place]) -> list[Place]:
    """Return places in the order they draw on what has an end: by priority, then the smallest first.

    So most are served. Among equals the name decides, so that the order of the file changes nothing.
    """
    return sorted(places, key=lambda place: (place.priority, place.total_area, place.name))


def not_suited(place: Place, because: str) -> Serving:
    """Return the serving of a place that a material does not suit."""
    return Serving(place=place, why_not=because, ceiling="suits", share=0.0, possible=0.0)


def refused(place: Place, because: str) -> Serving:
    """Return the serving of a place that a way cannot serve, whatever else is put on."""
    return Serving(place=place, why_not=because, refused=True, share=0.0)


@fixed
class Decision:
    """Servings for one kind of need of one or more places by one way, and how the need is met."""

    servings: tuple[Serving, ...] = ()
    feasible: bool = True  #: met in every place, in time
    why_not: str = ""
    ready_on: date | None = None
    times_needed: float | None = None  #: how many times what the way brings would meet the need in time
    late: str = ""  #: the words for met on some day, but not in time; nothing where it is in time or never
    founds: bool = False  #: planting itself meets it, with nothing spread
    as_written: bool = False  #: the doses are the grower's own
    by_others: bool = False  #: what goes on for other needs meets it, with nothing of its own

    @cached_property
    def doses(self) -> tuple[Application, ...]:
        """Return the doses that meet the need first."""
        return tuple(dose for serving in self.servings for dose in serving.doses)

    @property
    def counted(self) -> tuple[Application, ...]:
        """Return the doses that a ledger counts: of a plan as written all, else what meets the need first."""
        return self.every_dose if self.as_written else self.doses

    @cached_property
    def later(self) -> tuple[Application, ...]:
        """Return the doses that keep it met to the end of the horizon."""
        return tuple(dose for serving in self.servings for dose in serving.later)

    @property
    def every_dose(self) -> tuple[Application, ...]:
        """Return what meets the need and what keeps it met."""
        return (*self.doses, *self.later)

    @cached_property
    def short_of(self) -> tuple[Serving, ...]:
        """Return the servings that do not meet the need."""
        return tuple(serving for serving in self.servings if not serving.met)

    @property
    def met_share(self) -> float:
        """Return the share of the need that is met, each place by its area."""
        whole = sum(serving.place.total_area for serving in self.servings)
        if whole <= 0:
            return 1.0 if self.feasible else 0.0
        return sum(serving.share * serving.place.total_area for serving in self.servings) / whole

    @property
    def ceiling(self) -> str:
        """Return the ceiling that most of the ground stopped at, or nothing."""
        ground: dict[str, float] = {}
        for serving in self.servings:
            if serving.ceiling:
                ground[serving.ceiling] = ground.get(serving.ceiling, 0.0) + serving.place.total_area
        return max(sorted(ground), key=lambda name: ground[name], default="")

    @property
    def possible(self) -> float | None:
        """Return the loose volume [m3] that is possible where ceilings bind; None where none does."""
        return sum(of.possible for of in self.servings if of.possible is not None) if self.ceiling else None

    @property
    def gains(self) -> list[Gain]:
        """Return how raises come out."""
        return [serving.gain() for serving in self.servings if serving.gain is not None]

    @property
    def levels_off(self) -> float | None:
        """Return the lowest level that soil organic matter tends to where it is never reached."""
        return min(_known(of.levels_off for of in self.gains), default=None)

    @property
    def matter(self) -> float | None:
        """Return the lowest soil organic matter of the places on the day wanted."""
        return min(_known(of.matter for of in self.gains), default=None)

    @property
    def not_humus(self) -> float | None:
        """Return the largest share of a gain that is no humus yet."""
        return max(_known(of.not_humus for of in self.gains), default=None)

    @property
    def holds_with(self) -> float | None:
        """Return the yearly dose [kg/m2 as delivered] that holds the target, over all the places."""
        told = [(of.gain().holds_with, of.place.total_area) for of in self.servings if of.gain is not None]
        known = [(dose, area) for dose, area in told if dose is not None]
        whole = sum(area for _, area in known)
        if len(known) < len(self.servings) or whole <= 0:
            return None
        return sum(dose * area for dose, area in known) / whole

    @property
    def binding(self) -> str:
        """Return the nutrients that size a feed."""
        return ", ".join(sorted({serving.binding for serving in self.servings if serving.binding}))

    @property
    def credit(self) -> float:
        """Return the net nitrogen [kg] of the first season from all else."""
        return sum(serving.credit for serving in self.servings)

    def does_as(self, other: Decision) -> bool:
        """Say whether it puts on, and meets, the same as another for the same places."""
        return [_done(of) for of in self.servings] == [_done(of) for of in other.servings]


def _known(values: Iterable[float | None]) -> list[float]:
    """Return those of some values that are known."""
    return [value for value in values if value is not None]


def _done(serving: Serving) -> tuple[object, ...]:
    """Return what tells servings of one place apart: what is put on, and how far it meets the need."""
    doses = [(dose.way, dose.day, dose.loose, dose.dug, dose.share) for dose in serving.every_dose]
    return len(serving.doses), doses, serving.why_not, serving.share, serving.ready_on


def of_servings(
    servings: Sequence[Serving], start: date, shortage: str = "", parted: bool = False
) -> Decision:
    """Return the decision that servings make; ``shortage`` says what is short where the stuff is.

    ``parted`` says that each place has its own part of every lot, and does not draw on the whole of it.
    """
    unmet = [serving for serving in servings if not serving.met]
    days = [serving.ready_on for serving in servings]
    ready = None if None in days else max((day for day in days if day), default=start)
    return Decision(
        servings=tuple(servings),
        feasible=not unmet,
        why_not=shortage or _reason(unmet, len(servings)),
        ready_on=ready,
        times_needed=_times_needed(servings, parted),
    )


def _times_needed(servings: Sequence[Serving], parted: bool) -> float | None:
    """Return how many times what the way brings would meet them all in time, None where that is not known.

    They share what comes, each in its turn or by parts; where it is short, all that is short counts. It is
    not known of a place that got nothing, and more of it is no help against a ceiling.
    """
    times = [serving.times_needed for serving in servings if serving.times_needed is not None]
    short = sum(serving.short for serving in servings)
    if not times or not short:
        return (max(times) if parted else sum(times)) if times else None
    given = sum(dose.loose for serving in servings for dose in serving.doses)
    unknown = any(serving.ceiling or not (serving.met or serving.short) for serving in servings)
    return None if unknown or not given else (given + short) / given


def _reason(unmet: Sequence[Serving], count: int) -> str:
    """Return why the first of some servings is not met, for how many more that is so, and how many else."""
    if not unmet:
        return ""
    first, *rest = unmet
    alike = sum(serving.why_not == first.why_not for serving in rest)
    others = len(rest) - alike
    if not others and len(unmet) == count:
        return first.why_not
    more = f" (and {alike} more)" if alike else ""
    are = f"; {others} more {'place is' if others == 1 else 'places are'} not met" if others else ""
    return f"{first.place.name}{more}: {first.why_not}{are}"
