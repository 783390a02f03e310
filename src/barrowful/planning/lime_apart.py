"""Lime and fresh manure in a plan: on one place the one waits for the other."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.catalogue.judgements import judged_time
from barrowful.needs.lime import Liming
from barrowful.planning.calendar import Calendar
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.history import done
from barrowful.supplies.supply import Supply


def limed_on(calendar: Calendar, offered: Iterable[tuple[Need, Supply[Any]]], every: bool) -> list[date]:
    """Return the first day on which what is offered for needs of a place may lime it; or every such day."""
    limes = [way for need, way in offered if need.kind == Liming.kind and way.material.class_ == "lime"]
    days = sorted(day for way in limes for day in calendar.days(Liming.kind, way))
    return days if every else days[:1]


class Apart:
    """The days about lime of a place, put on before or to come, and about manure before: the other waits."""

    def __init__(self, site: Site, place: Place, limed: Sequence[date]) -> None:
        self.wait = judged_time("lime_and_manure")
        there = done(site, place)
        spread = [dose.day for dose in there if dose.material.is_fresh_manure]
        self.limes_from = max((day + self.wait for day in spread), default=site.start)
        before = [dose.day for dose in there if dose.material.class_ == "lime"]
        self.limed = sorted({*before, *(max(day, self.limes_from) for day in limed)})

    def put_off(self, way: Supply[Any], day: date) -> date:
        """Return the day on which a way goes on that may on a day: later where it is to wait."""
        if way.material.class_ == "lime":
            return max(day, self.limes_from)
        if way.material.is_fresh_manure:
            for limed in self.limed:
                if abs(day - limed) < self.wait:
                    day = limed + self.wait
        return day

    def put_off_each(
        self, soonest: Mapping[tuple[str, str], int], ways: Sequence[Supply[Any]]
    ) -> dict[tuple[str, str], int]:
        """Return how soon each way goes on for a kind of need, put off as it is."""
        named = {way.name: way for way in ways}
        return {
            (kind, way): self.put_off(named[way], date.fromordinal(day)).toordinal()
            for (kind, way), day in soonest.items()
        }

    def put_off_last(self, latest: Mapping[str, int], ways: Sequence[Supply[Any]]) -> dict[str, int]:
        """Return the last day any way takes for a kind of need, put off as the last of them is."""
        return {
            kind: max(self.put_off(way, date.fromordinal(day)).toordinal() for way in ways)
            for kind, day in latest.items()
        }
