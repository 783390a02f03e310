"""Ceilings that bind what is put on a place: how deep, how much in twelve months, and on which days."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property, lru_cache
from math import inf

from barrowful.catalogue.materials import Material
from barrowful.catalogue.suits import why_unsuited
from barrowful.ground.amount import depth
from barrowful.measures.dates import year_after
from barrowful.measures.elementwise import where
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import FEED, measured
from barrowful.needs.bounds import Bound, Ruled, bounds_by, bounds_of, figure, kind_of, ruled
from barrowful.site.grown import beside, wants_acid
from barrowful.site.needs import Dress, Lime, Need
from barrowful.site.records import Place
from barrowful.soil.application import Application

#: A depth told in whole inches is within a ceiling told in its round metric one: 4 in and 100 mm.
INCH_FOR_25_MM = 25.4 / 25
#: What rounding may leave over.
SLACK = 1e-9


@fixed(kw_only=False, eq=True)
class Room:
    """What the ceilings leave for one material and need on a place."""

    bounds: tuple[Bound, ...] = ()

    @cached_property
    def most(self) -> float:
        """Return the deepest [loose m] that any one dose may ever be."""
        return min((max(bound.limit, bound.first) / bound.each for bound in self.bounds), default=inf)

    @cached_property
    def alike(self) -> bool:
        """Say whether every twelve months have the same room: nothing is used yet, no first dressing."""
        return not any(bound.used or bound.first for bound in self.bounds)

    @cached_property
    def first_apart(self) -> bool:
        """Say whether the first dressing may be deeper."""
        return any(bound.first for bound in self.bounds)

    @property
    def first_dressing(self) -> int | None:
        """Return the day of the first dressing of a new place, where there is one: nothing goes on before."""
        return min((on for bound in self.bounds if bound.first for on, _ in bound.used), default=None)

    def left(self, day: int, doses: Sequence[tuple[int, float]] = ()) -> float:
        """Return how deep [loose m] may still go on a day beside doses of the same stuff [loose m]."""
        if self.alike and all(on <= day for on, _ in doses):
            return max(0.0, self.most - sum(loose for on, loose in doses if day < year_after(on)))
        return min((_left(bound, day, doses) for bound in self.bounds), default=inf)

    def keeps_to(
        self, wanted: float, area: float, day: int, doses: Sequence[tuple[int, float]]
    ) -> tuple[float, str]:
        """Return how much [m3] of what is wanted may go on an area [m2] on a day, and where it stops.

        A depth told in whole inches that reads as the room there is goes on whole.
        """
        allowed = within(wanted, self.left(day, doses) * area)
        return (allowed, self.binding(day, doses)) if allowed < wanted * (1 - SLACK) else (wanted, "")

    def binding(self, day: int, doses: Sequence[tuple[int, float]] = ()) -> str:
        """Return the name of the ceiling that leaves least on a day, or nothing."""
        if not self.bounds:
            return ""
        return min(self.bounds, key=lambda bound: _left(bound, day, doses)).name

    def opens_for(self, wanted: float, day: int, doses: Sequence[tuple[int, float]]) -> int | None:
        """Return the first day, from one on, on which so much [loose m] may go on at once, or None."""
        days = (day, *self._ends_after(day, doses))
        return next((of for of in days if within(wanted, self.left(of, doses)) >= wanted * (1 - SLACK)), None)

    def opens_again(self, day: int, doses: Sequence[tuple[int, float]] = ()) -> int | None:
        """Return the first day after one on which more may go on than on it, or None."""
        if not self.bounds:
            return None
        left, later = self.left(day, doses), self._ends_after(day, doses)
        return next((end for end in later if self.left(end, doses) > left * (1 + SLACK)), None)

    def opening(self, day: int) -> list[int]:
        """Return the days after one on which some of what is used already leaves room."""
        return [end for end in self._ends_after(day, ()) if self.left(end) > self.left(end - 1) * (1 + SLACK)]

    def _ends_after(self, day: int, doses: Sequence[tuple[int, float]]) -> list[int]:
        """Return the days after one on which twelve months end that began with a dose."""
        ends = {year_after(on) for bound in self.bounds for on, _ in (*bound.used, *doses)}
        return sorted(end for end in ends if end > day)


NO_CEILING = Room()


def _left(bound: Bound, day: int, doses: Sequence[tuple[int, float]]) -> float:
    """Return the room of one ceiling [loose m] on a day: least over all twelve months with the day in.

    There is none where it would be the first dressing in place of another that is too deep for any other.
    """
    uses = [*bound.used, *((on, loose * bound.each) for on, loose in doses)]
    room, first = inf, bound.first and all(day < on for on, _ in uses)
    for begin, end, limit in bound.spans(day, {day, *(on for on, _ in doses)}):
        if first or begin <= day < end:
            left = limit - sum(use for on, use in uses if begin <= on < end)
            if begin <= day < end:
                room = min(room, left)
            elif left < -SLACK * limit:
                return 0.0
    return max(0.0, room) / bound.each


#: What is used of the ceilings on a place by their names and what shares them: kilograms, or m, on each m2
#: by day number.
Used = dict[tuple[str, str], dict[int, float]]


def room(place: Place, need: Need | None, material: Material, there: Sequence[Application]) -> Room:
    """Return the room on a place for a material and a need beside all that was put on there already."""
    return room_beside(place, need, material, used_by(place, there))


def used_by(place: Place, there: Iterable[Application]) -> Used:
    """Return what all that was put on a place already uses of its ceilings."""
    uses: Used = {}
    for dose in there:
        add_use(uses, place, dose)
    return uses


def add_use(uses: Used, place: Place, dose: Application) -> None:
    """Add what a dose uses of the ceilings on a place."""
    for bound in bounds_of(place, kind_of(dose), dose.dug, dose.material):
        days = uses.setdefault((bound.name, bound.shares), {})
        used = bound.each * depth(dose.loose, place.total_area)
        days[dose.number] = days.get(dose.number, 0.0) + used


def room_beside(place: Place, need: Need | None, material: Material, uses: Used) -> Room:
    """Return the room on a place for a material and a need beside what is used of its ceilings."""
    kind, dug = (need.kind, need.dug) if need else ("", False)
    untouched = _untouched(ruled(place), kind, dug, material)
    if not uses:
        return untouched
    return Room(
        tuple(
            bound._replace(used=tuple(sorted(uses.get((bound.name, bound.shares), {}).items())))
            for bound in untouched.bounds
        )
    )


@lru_cache(maxsize=65536)
def _untouched(place: Ruled, kind: str, dug: bool, material: Material) -> Room:
    """Return the room where nothing was put on yet: one for all equal places."""
    return Room(bounds_by(place, kind, dug, material))


def beside_humus(place: Place, kind: str) -> object:
    """Return what of a place bears on a kind of need that does not go by the soil's humus, nor by its mass.

    It is what ceilings go by, what suits, what lies there, and when anything may go on.
    """
    return (
        *(ruled(place), place.need(kind), place.need("lime"), beside(place)),
        *(place.soil.is_sandy, place.soil.ph, place.near_water),
        *(place.ways, place.layer_now, place.harvest_from, place.eaten_raw),
    )


def within(wanted: float, limit: float) -> float:
    """Return a depth [m] that keeps to a limit; one in whole inches that reads as the limit is within it.

    >>> within(0.1016, 0.1), within(0.12, 0.1)
    (0.1016, 0.1)
    """
    kept: float = where(wanted <= limit * INCH_FOR_25_MM * (1 + SLACK), wanted, limit)
    return kept


def unsuited(place: Place, need: Need, material: Material) -> str:
    """Return why a material does not suit a need of a place, or nothing."""
    if "suits" in place.limits.lift:
        return ""
    because = _washed_into_water(place, material) or why_unsuited(
        material, need.kind, place.kind, need.dug, beside(place)
    )
    return because or _unsuited_dose(need, material) or _unsuited_ph(place, need, material)


def is_kept_from_water(place: Place, material: Material) -> bool:
    """Say whether a place is near water, and stuff is manure or compost, which are spread away from it."""
    organic = material.class_ == "compost" or material.is_fresh_manure
    return place.near_water and organic and place.kind != "pot"


def _washed_into_water(place: Place, material: Material) -> str:
    """Return why a material does not go on near water: no manure, and on a farm no compost either."""
    if not is_kept_from_water(place, material):
        return ""
    if place.limits.farm:
        return "the rules of farms keep manure and compost off ground near water (near_water)"
    if not material.is_fresh_manure:
        return ""
    return (
        "manure is kept off ground near water (near_water; lift: [suits] where your rules let it on):"
        " feed with a meal, and cover with wood or straw"
    )


def _unsuited_dose(need: Need, material: Material) -> str:
    """Return why a fertiliser is no stuff for a heavy dressing, or nothing."""
    if not isinstance(need, Dress) or need.dose is None or not material.sort.declares:
        return ""
    most = figure("suits", "fertiliser_dressing")
    if need.dose <= most * (1 + SLACK):
        return ""
    told = measured(most, FEED, 0)
    return f"a dressing of over {told} is of bulky stuff; a fertiliser is dosed by what a crop needs"


def _may_want_acid(place: Place) -> bool:
    """Say whether what grows on a place wants it acid, or may: by its pH, where no lime is asked for.

    Where crops are named, none of which does, it does not.
    """
    if place.grown:
        return wants_acid(place)
    acid = place.soil.ph
    return acid is not None and acid <= figure("suits", "acid_lovers") and place.need(Lime.kind) is None


def _unsuited_ph(place: Place, need: Need, material: Material) -> str:
    """Return why a material does not suit the pH that a place has, or is limed to, or nothing."""
    if material.limes and f"{need.kind} that limes not" in place.choice and _may_want_acid(place):
        by_ph = f"on ground of pH {place.soil.ph or 0.0:g} blueberries and the like may grow"
        why = "the crop named wants its ground acid" if wants_acid(place) else by_ph
        return f"it limes, and {why}: there is stuff on the list that does not"
    limed, acid = place.need("lime"), place.soil.ph
    if isinstance(limed, Lime) and need is not limed:
        acid = max(acid or 0.0, limed.ph)
    if acid is None:
        return ""
    if (material.has("alkaline") or material.has("chalky")) and acid >= figure("suits", "neutral"):
        return f"it limes the ground, and the soil's pH is {acid:g} already"
    if material.has("acid_only") and acid > figure("suits", "acid"):
        return f"its phosphorus comes free on acid soil alone, and the soil's pH is {acid:g}"
    return ""
