"""What the rows of options say of places: how soon each way goes on, and what stands there from when."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from datetime import date

from barrowful.answers.options import Answer
from barrowful.catalogue.judgements import judged_time
from barrowful.needs.decision import Serving
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place


def first_with_others(answer: Answer) -> dict[str, list[date]]:
    """Return when ways of a seller can come with others of it that take longer, not long after."""
    first = dict[str, tuple[tuple[str, str], date]]()
    for name, supply in answer.supplies.items():
        lots = [] if supply.limited else [lot.day for lot in supply.lots(answer.site.end) if lot.loose > 0]
        if lots and supply.way.seller:
            first[name] = supply.way.sold_by, lots[0]
    soon = judged_time("orders_joined")
    return {
        name: sorted({day for of, day in first.values() if of == seller and alone < day <= alone + soon})
        for name, (seller, alone) in first.items()
    }


class RowDays:
    """What the rows of options say of each place: how soon each way by itself goes on to meet a need."""

    def __init__(self, answer: Answer) -> None:
        self.servings: dict[str, list[tuple[str, tuple[str, ...], Serving]]] = {}
        self.standing_on: dict[tuple[str, str], list[tuple[str, int]]] = {}
        self.with_others = first_with_others(answer)
        for row in (*answer.options, *answer.spare):
            ways = tuple(way.name for way in row.supply.parts)
            for serving in row.decision.servings:
                if serving.met and row.decision.founds:
                    ready = serving.ready_on or answer.site.start
                    known = self.standing_on.setdefault((row.need, serving.place.name), [])
                    known.append((row.name, ready.toordinal()))
                elif serving.doses:
                    self.servings.setdefault(serving.place.name, []).append((row.need, ways, serving))

    def soonest(self, places: Sequence[Place]) -> dict[tuple[str, str], int]:
        """Return the last day a way need be waited for to meet a need of equal places, by kind and way.

        It may wait for another of its seller, to come with it.
        """
        alone, joint = dict[tuple[str, str], int](), dict[tuple[str, str], int]()
        for kind, ways, serving in self._of(places):
            day = NEEDS[kind].begins_on(serving).toordinal()
            days = alone if len(ways) == 1 else joint
            for way in ways:
                days[kind, way] = max(days.get((kind, way), day), self._with_others(day, (way,)))
        return {**joint, **alone}

    def latest(self, places: Sequence[Place]) -> dict[str, int]:
        """Return the last day any row takes to meet a need of equal places, by kind; else any at all.

        A row may wait for others of its sellers.
        What no row keeps up begins soon after the first of it: to begin late would only have it outlast the
        horizon.
        """
        met, every = dict[str, int](), defaultdict[str, list[int]](list)
        for kind, ways, serving in self._of(places):
            day = self._with_others(NEEDS[kind].begins_on(serving).toordinal(), ways)
            every[kind].append(day)
            if serving.met:
                met[kind] = max(met.get(kind, day), day)
        waits = judged_time("cover_waits").days
        soon = {
            kind: min(max(days), min(days) + waits) if NEEDS[kind].is_kept_up else max(days)
            for kind, days in every.items()
        }
        return {**soon, **met}

    def _with_others(self, day: int, ways: Sequence[str]) -> int:
        """Return a day, or the last on which one of some ways can come with another of its seller."""
        return max([day, *(of.toordinal() for way in ways for of in self.with_others.get(way, ()))])

    def _of(self, places: Sequence[Place]) -> Iterator[tuple[str, tuple[str, ...], Serving]]:
        return (each for place in places for each in self.servings.get(place.name, ()))

    def standing(self, place: Place, kind: str, ready_by: date | None) -> tuple[tuple[str, int], ...]:
        """Return the ways that meet a need of a place by standing there, and the day they do."""
        known = self.standing_on.get((kind, place.name), [])
        return tuple(of for of in known if ready_by is None or of[1] <= ready_by.toordinal())
