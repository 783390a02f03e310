"""Lime and fresh manure in a plan: on one place the one waits for the other, whichever goes on first."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from barrowful.catalogue.judgements import judged_time
from barrowful.needs.harvests import wait_of, waited
from barrowful.needs.lime_and_manure import lose_nitrogen
from barrowful.needs.rows import Portion
from barrowful.planning.calendar import Calendar
from barrowful.planning.solver import Programme
from barrowful.site.needs import Need
from barrowful.site.records import Place, Site
from barrowful.soil.history import done
from barrowful.supplies.supply import Supply

#: What is offered for a need.
Offer = tuple[Need, Supply[Any]]


class Apart:
    """The days on which a place was limed or had fresh manure, and those on which it may be limed or have it.

    What is to go on waits for what was put on. Of what may go on, a plan may take whichever it is first, so
    that the other has days on which it comes late enough.
    """

    def __init__(self, site: Site, place: Place, calendar: Calendar, offered: Sequence[Offer]) -> None:
        self.wait = judged_time("lime_and_manure")
        there = done(site, place)
        spread = [dose.day for dose in there if dose.material.is_fresh_manure]
        self.limes_from = max((day + self.wait for day in spread), default=site.start)
        self.limed = sorted(dose.day for dose in there if dose.material.class_ == "lime")
        may_be = {
            (waited(wait, self.put_off(way, day)), way.material.is_fresh_manure)
            for need, way in offered
            if way.material.class_ == "lime" or way.material.is_fresh_manure
            for wait in [wait_of(site, place, need.kind, need.dug, way.material)]
            for day in calendar.days(need.kind, way)
        }
        self.may_be_limed = sorted(day for day, manure in may_be if not manure)
        self.may_have_manure = sorted(day for day, manure in may_be if manure)

    def put_off(self, way: Supply[Any], day: date) -> date:
        """Return the day on which a way goes on that may on a day: later where it waits for what is there."""
        if way.material.class_ == "lime":
            return max(day, self.limes_from)
        return self._after(self.limed, day) if way.material.is_fresh_manure else day

    def let_pass(self, way: Supply[Any], day: date) -> date:
        """Return the day on which a way goes on where what may go on about a day goes on first."""
        day = self.put_off(way, day)
        if way.material.is_fresh_manure:
            return self._after(self.may_be_limed, day)
        if way.material.class_ == "lime" and any(abs(day - of) < self.wait for of in self.may_have_manure):
            late = self._after(self.may_have_manure, day)
            return next((limed for limed in self.may_be_limed if limed >= late), day)
        return day

    def _after(self, days: Sequence[date], day: date) -> date:
        for other in days:
            if abs(day - other) < self.wait:
                day = other + self.wait
        return day

    def put_off_each(
        self, soonest: Mapping[tuple[str, str], int], ways: Sequence[Supply[Any]]
    ) -> dict[tuple[str, str], int]:
        """Return how soon each way goes on for a kind of need, put off as it may be."""
        named = {way.name: way for way in ways}
        return {
            (kind, way): self.let_pass(named[way], date.fromordinal(day)).toordinal()
            for (kind, way), day in soonest.items()
        }

    def put_off_last(self, latest: Mapping[str, int], ways: Sequence[Supply[Any]]) -> dict[str, int]:
        """Return the last day any way takes for a kind of need, put off as the last of them may be."""
        return {
            kind: max(self.let_pass(way, date.fromordinal(day)).toordinal() for way in ways)
            for kind, day in latest.items()
        }


def add_apart(programme: Programme, portions: Sequence[Portion], loose: Mapping[int, int]) -> None:
    """Add that of lime and fresh manure of one place, too near each other, only one goes on.

    ``loose`` are the columns of portions, by number.
    """
    wait = judged_time("lime_and_manure").days
    for number, column in loose.items():
        lime = portions[number]
        if lime.material.class_ != "lime":
            continue
        near = [
            loose[other]
            for other in loose
            if abs(portions[other].number - lime.number) < wait
            and lose_nitrogen(lime.material, portions[other].material)
        ]
        if near:
            limed = programme.yes()
            programme.row({column: 1.0, limed: -programme.most[column]}, most=0.0)
        for manure in near:
            most = programme.most[manure]
            programme.row({manure: 1.0, limed: most}, most=most)
