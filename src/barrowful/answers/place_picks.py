"""Which ways the needs of one place may be given: all that may be worth it, with what they add at least."""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import date
from math import inf
from typing import NamedTuple

from barrowful.answers.costs import placing_hours
from barrowful.answers.option import first_among_equals
from barrowful.answers.options import Answer
from barrowful.answers.together import Together
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place

#: Ways for the needs of one place that are looked at, and of all places: settings of the search.
MOST_AT_ONE, MOST_AT_ALL = 1_200, 3_000

#: Digits after the point of what is added: sums in another order differ in their last ones.
DIGITS = 9


class Adds(NamedTuple):
    """No more than what is added to a bill: cash, cash with hours at their value, hours."""

    cash: float = 0.0
    cost: float = 0.0
    hours: float = 0.0


class PlacePick(NamedTuple):
    """Ways for some needs of a place, by kind; what these count when met, and what they add at least."""

    ways: tuple[tuple[str, str], ...]
    worth: int
    adds: Adds
    ready: date
    draws: Mapping[tuple[str, date], float]  #: m3 loose of each way, by day

    def is_beaten_by(self, other: PlacePick) -> bool:
        """Say whether another does as much, as soon, with no more of anything on any day."""
        return (
            other.worth >= self.worth
            and other.ready <= self.ready
            and other.adds.hours <= self.adds.hours
            and all(loose <= self.draws.get(key, -1.0) for key, loose in other.draws.items())
        )


class LeastForMore:
    """What the places after one add at least where what is met in them is to count so much."""

    def __init__(self, picks: Sequence[Sequence[PlacePick]]) -> None:
        self.least = [[([0], [0.0]) for _ in Adds._fields]]
        for own in reversed(picks):
            after = self.least[-1]
            added = [[(pick.worth, pick.adds[number]) for pick in own] for number in range(len(Adds._fields))]
            self.least.append([_summed(one, *rest) for one, rest in zip(added, after, strict=True)])
        self.least.reverse()

    def adds(self, after: int, wanted: int) -> Adds:
        """Return what the places from one on add at least; without end where they cannot."""
        found = []
        for worths, least in self.least[after]:
            at = bisect_left(worths, wanted)
            found.append(least[at] if at < len(least) else inf)
        return Adds(*found)


def _summed(
    own: Iterable[tuple[int, float]], worths: Sequence[int], least: Sequence[float]
) -> tuple[list[int], list[float]]:
    """Return the least for each worth, of one of its ``own`` beside those of others."""
    sums = defaultdict[int, float](lambda: inf)
    for worth, adds in set(own):
        for other, more in zip(worths, least, strict=True):
            sums[worth + other] = min(sums[worth + other], adds + more)
    kept: list[tuple[int, float]] = []
    for worth in sorted(sums, reverse=True):
        if not kept or sums[worth] < kept[-1][1]:
            kept.append((worth, sums[worth]))
    return [worth for worth, _ in reversed(kept)], [adds for _, adds in reversed(kept)]


def picks_of_places(
    answer: Answer, places: Sequence[Place], worth: Mapping[str, int]
) -> list[list[PlacePick]] | None:
    """Return the picks that may be worth it for each place, those that meet most first; None of too many."""
    found, left = list[list[PlacePick]](), MOST_AT_ALL
    for place in places:
        states = _states(answer, place, min(MOST_AT_ONE, left))
        if states is None:
            return None
        left -= len(states)
        every = [_pick(answer, together, ways, worth[place.name]) for ways, together in states]
        found.append(_unbeaten(sorted(every, key=lambda of: (-of.worth, of.adds.cost, of.adds.hours))))
    return found


def _states(
    answer: Answer, place: Place, most: int
) -> list[tuple[tuple[tuple[str, str], ...], Together]] | None:
    """Return all ways for the needs of a place that meet what they are for, with what they put on."""
    states: list[tuple[tuple[tuple[str, str], ...], Together]] = [((), Together(answer))]
    for kind in NEEDS:
        keys = list(_may_serve(answer, kind, place))
        for ways, before in list(states):
            for key in keys:
                together = before.copy()
                together.serve(kind, (key,), {place.name})
                if together.met > before.met:
                    states.append(((*ways, (kind, key)), together))
            if len(states) > most:
                return None
    return states


def _may_serve(answer: Answer, kind: str, place: Place) -> Iterator[str]:
    """Yield the ways that may meet a need of a place, whatever their order in the file."""
    own = [row for row in (*answer.options, *answer.spare) if row.need == kind and place in row.places]
    for row in sorted({row.key: row for row in own}.values(), key=first_among_equals):
        serving = next(of for of in row.decision.servings if of.place.name == place.name)
        if serving.met or not serving.refused:
            yield row.key


def _pick(answer: Answer, together: Together, ways: tuple[tuple[str, str], ...], worth: int) -> PlacePick:
    """Return a pick, with what it adds to any bill at least: its stuff at its price, and putting it on."""
    cash, hours, draws = 0.0, 0.0, defaultdict[tuple[str, date], float](float)
    for use in together.uses():
        supply = answer.supplies[use.way]
        cash += float(supply.least_cash(sum(dose.loose for dose in use.doses)))
        hours += placing_hours(answer.site, use.doses, supply).likely
        if use.founds:
            draws[use.way, date.min] = 1.0  # planting it is work and money too
        for dose in use.doses:
            draws[use.way, dose.day] += dose.loose
    cost = cash + hours * float(answer.site.labour.hourly_value)
    ready = together.ready_on or date.min
    adds = Adds(*(round(added, DIGITS) for added in (cash, cost, hours)))
    return PlacePick(ways, worth * together.met, adds, ready, draws)


def _unbeaten(picks: Iterable[PlacePick]) -> list[PlacePick]:
    """Return picks without those that another beats; of equal ones the first."""
    kept = list[PlacePick]()
    for pick in picks:
        if not any(pick.is_beaten_by(other) for other in kept):
            kept = [other for other in kept if not other.is_beaten_by(pick)] + [pick]
    return kept
