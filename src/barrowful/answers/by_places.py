"""Needs met place by place within the grower's limits: as many as there is room for, at least cost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from math import inf
from typing import NamedTuple

from barrowful.answers.bills import left_over
from barrowful.answers.costs import Bill
from barrowful.answers.further import Reached, leaves_out
from barrowful.answers.option import total_cost
from barrowful.answers.options import Answer
from barrowful.answers.place_picks import Adds, LeastForMore, PlacePick, picks_of_places
from barrowful.answers.together import Together
from barrowful.needs.decision import in_turn
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place, Site

#: Needs that are looked at place by place, and what is given to places before the search ends, the later
#: ones counting for more as they take longer: settings of the search.
MOST_NEEDS, MOST_GIVEN, LATER_PLACES = 40, 3_000, 2
#: What sums of least cost may differ by from what is paid, by coins that are rounded [money, hours].
COIN, MOMENT = 0.05, 1e-6


class Standing(NamedTuple):
    """What is compared: how much is met, cost with hours at their value, hours, day. Less comes first."""

    worth: int
    cost: float
    hours: float
    ready: date


def reached_by_places(answer: Answer, reached: Reached) -> tuple[Reached, bool]:
    """Return the most that is met within the limits at least cost, and whether all was searched through.

    Each place may be given any way, or none, for each of its needs. It begins with what is ``reached``.
    """
    search, limits = None, answer.site.limits
    limited = any(limit is not None for limit in (limits.cash, limits.hours, limits.by))
    if limited or leaves_out(answer, reached.together):
        search = _searched(answer, reached)
    if search is not None:
        reached = search.in_order()
    whole = (search is not None and search.left > 0) or not leaves_out(answer, reached.together)
    return reached, whole


def _searched(answer: Answer, reached: Reached) -> ByPlaces | None:
    """Return the search that was made; None where there is too much to look at."""
    places = [place for place in in_turn(answer.site.places) if place.needs]
    if sum(len(place.needs) for place in places) > MOST_NEEDS:
        return None
    worth = worth_by_place(answer.site)
    picks = picks_of_places(answer, places, worth)
    if picks is None:
        return None
    search = ByPlaces(answer, places, picks, worth, reached)
    search.run()
    return search


def worth_by_place(site: Site) -> dict[str, int]:
    """Return what a need met counts by its place: most needs come first, then those of first priority."""
    base = 1 + sum(len(place.needs) for place in site.places)
    last = max((place.priority for place in site.places), default=1)
    return {place.name: base**last + base ** (last - place.priority) for place in site.places}


@dataclass(eq=False)
class ByPlaces:
    """A search, place by place in their turn; what cannot be better is cut off."""

    answer: Answer
    places: Sequence[Place]
    picks: Sequence[Sequence[PlacePick]]
    worth: dict[str, int]
    best: Reached
    left: int = MOST_GIVEN
    rest: LeastForMore = field(init=False)
    standing: Standing = field(init=False)

    def run(self) -> None:
        """Search through all places."""
        self.rest = LeastForMore(self.picks)
        self.standing = self._standing(self.best)
        nothing = Together(self.answer)
        self._down(0, Reached(nothing, nothing.bill()))

    def in_order(self) -> Reached:
        """Return the best there is, with needs settled in their order where that does as much for no more."""
        ordered = _needs_in_order(self.answer, self.best)
        within = not ordered.together.over_limits(ordered.bill)
        return ordered if within and self._standing(ordered) <= self.standing else self.best

    def _down(self, at: int, reached: Reached) -> None:
        """Give ways to the places from one on, beside what those before it are given."""
        here = self._standing(reached)
        if here < self.standing:
            self.standing, self.best = here, reached
        for pick in self.picks[at] if at < len(self.places) else ():
            if self.left <= 0:
                return
            if not self._may_be_better(at + 1, pick, here, reached.bill):
                continue
            given = self._given(reached, self.places[at], pick)
            if given is not None:
                self._down(at + 1, given)

    def _given(self, reached: Reached, place: Place, pick: PlacePick) -> Reached | None:
        """Return what is settled with ways for one more place; None where it is over a limit."""
        if not pick.ways:
            return reached
        self.left -= 1 + self.places.index(place) // LATER_PLACES
        together = reached.together.copy()
        for kind, way in pick.ways:
            together.serve(kind, (way,), {place.name})
        bill = together.bill()
        return None if together.over_limits(bill) else Reached(together, bill)

    def _may_be_better(self, after: int, pick: PlacePick, here: Standing, bill: Bill) -> bool:
        """Say whether a pick for the place before those after it may lead to more, or as much for less.

        What is added costs at least its stuff at its price, less what is left over of what is ordered.
        """
        added, over = pick.adds, float(left_over(bill))
        least = Adds(
            cash=float(bill.cash) - over + added.cash - COIN,
            cost=here.cost - over + added.cost - COIN,
            hours=here.hours + added.hours - MOMENT,
        )
        wanted = here.worth - pick.worth - self.standing.worth
        if self._has_room(after, wanted + 1, least):
            return True
        rest = self.rest.adds(after, wanted)
        cheaper = (least.cost + rest.cost, least.hours + rest.hours)
        as_cheap = cheaper <= (self.standing.cost, self.standing.hours)
        return as_cheap and self._has_room(after, wanted, least)

    def _has_room(self, after: int, wanted: int, least: Adds) -> bool:
        """Say whether the limits may have room for so much more in the places after one."""
        limits, rest = self.answer.site.limits, self.rest.adds(after, wanted)
        cash_fits = limits.cash is None or least.cash + rest.cash <= limits.cash
        hours_fit = limits.hours is None or least.hours + rest.hours <= limits.hours
        return rest.hours < inf and cash_fits and hours_fit

    def _standing(self, reached: Reached) -> Standing:
        together, bill = reached
        cost = total_cost(bill.cash, bill.hours, self.answer.site.labour.hourly_value)
        met = (of.place.name for part in together.parts for of in part.decision.servings if of.met)
        worth = sum(self.worth[name] for name in met)
        return Standing(-worth, float(cost), bill.hours.compared, together.ready_on or date.max)


def _needs_in_order(answer: Answer, reached: Reached) -> Reached:
    """Return the same with needs settled in their order, each by its ways in the places these serve."""
    together = Together(answer)
    own = [part for part in reached.together.parts if not part.decision.by_others]
    keys = {(part.need, part.source.key): part for part in own}
    for need, key in sorted(keys, key=lambda of: (list(NEEDS).index(of[0]), of[1])):
        parts = [part for part in own if (part.need, part.source.key) == (need, key)]
        together.serve(need, (key,), {of.place.name for part in parts for of in part.decision.servings})
    return Reached(together, together.bill())
