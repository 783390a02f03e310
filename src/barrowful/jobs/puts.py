"""What is put on, of one way on one day each: what it is for, and to which day it still does."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from itertools import pairwise
from typing import Any, NamedTuple

from barrowful.answers.choices import WholeSite
from barrowful.needs.decision import Serving
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Place, Site
from barrowful.soil.application import Application
from barrowful.soil.seasons import season_end, season_of
from barrowful.supplies.supply import Supply

#: What is put on: place, need, way and the day the plan has it on.
PutKey = tuple[str, str, str, date]


class Put(NamedTuple):
    """Doses put on a place for a need, of one way on one day; ``servings`` are met first by them."""

    place: Place
    need: str
    supply: Supply[Any]
    day: date
    word: str
    later: bool  #: does it keep the need met?
    doses: tuple[Application, ...]
    servings: tuple[Serving, ...]

    @property
    def key(self) -> PutKey:
        """Return what tells it from all else that is put on."""
        return self.place.name, self.need, self.supply.name, self.day

    @property
    def loose(self) -> float:
        """Return what is put on [m3]."""
        return sum(dose.loose for dose in self.doses)

    @property
    def about(self) -> dict[str, Any]:
        """Return what the jobs that put it on, spreading and digging in, have in common."""
        return {
            "place": self.place.name,
            "need": self.need,
            "priority": self.place.priority,
            "way": self.supply.name,
            "material": self.supply.material.name,
            "day": self.day,
        }

    @property
    def dug(self) -> bool:
        """Say whether it is dug in."""
        return any(dose.dug for dose in self.doses)

    def due(self, site: Site) -> date:
        """Return the last day on which it still does: the need's own, and the grower's limit.

        What is for a season does no more after it.
        """
        own, limit = self.doses[0].need, site.limits.by
        days = [own.due if own else None, limit if self.servings else None]
        if NEEDS[self.need].by_season:
            days.append(season_end(site, season_of(site, self.day)))
        return min((day for day in days if day is not None and day >= self.day), default=date.max)


def all_puts(whole: WholeSite, supplies: Mapping[str, Supply[Any]]) -> list[Put]:
    """Return what is put on of some supplies, by place, need, way and day."""
    groups = dict[tuple[Any, ...], tuple[list[Application], list[Serving]]]()
    for part in whole.together.parts:
        for serving in part.decision.servings:
            for later, doses in enumerate((serving.doses, serving.later)):
                for dose in doses:
                    key = dose.day, serving.place.name, dose.kind, dose.way, later
                    group = groups.setdefault(key, ([], []))
                    group[0].append(dose)
                    group[1].extend([] if later or serving in group[1] else [serving])
    return [
        Put(
            place=doses[0].place,
            need=kind,
            supply=supplies[way],
            day=day,
            word=NEEDS[kind].jobs[later],
            later=bool(later) and NEEDS[kind].jobs[0] != NEEDS[kind].jobs[1],
            doses=tuple(doses),
            servings=tuple(servings),
        )
        for (day, _, kind, way, later), (doses, servings) in groups.items()
    ]


def next_days(puts: Iterable[Put]) -> dict[PutKey, date]:
    """Return the day before a way is put on next for the same need, by place, need, way and day."""
    days: dict[tuple[str, str, str], set[date]] = defaultdict(set)
    for put in puts:
        days[put.place.name, put.need, put.supply.name].add(put.day)
    return {
        (*of, day): following - timedelta(days=1)
        for of, each in days.items()
        for day, following in pairwise(sorted(each))
    }
