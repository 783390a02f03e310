"""From what is followed to jobs: what is put on, what the ways ask, what is ordered, what is tested."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from functools import partial
from types import MappingProxyType
from typing import Any

from barrowful.answers.choices import WholeSite
from barrowful.answers.costs import spreading_hours
from barrowful.answers.order_lines import OrderLine
from barrowful.answers.together import doses_by_way
from barrowful.catalogue.judgements import judged_time
from barrowful.jobs.digging import digging
from barrowful.jobs.drawn import Wanted, drawn_by, last_until
from barrowful.jobs.errands import before, order_jobs, soil_tests
from barrowful.jobs.job import BUILD, DIG, MAKES, Drawn, Job
from barrowful.jobs.pairs import keep_lime_apart
from barrowful.jobs.puts import Put, PutKey, all_puts, next_days
from barrowful.jobs.safe import beyond
from barrowful.jobs.twelve_months import Apart, in_time_for_next
from barrowful.jobs.year import Days, Opening, Scene
from barrowful.measures.text import all_of
from barrowful.needs.harvests import Wait, wait_of, waited
from barrowful.needs.registry import NEEDS
from barrowful.site.records import Site
from barrowful.soil.application import draws_of
from barrowful.supplies.supply import Supply
from barrowful.supplies.task import Task

#: How long a task of a way may wait, by its word: the name of a judgement; what is not named may not.
WAITS = {
    BUILD: "heap_waits",
    "screen": "heap_waits",
    "empty": "heap_waits",
    "turn": "turn_waits",
    "cut": "cut_waits",
    "sow": "cut_waits",
    "end": "cut_waits",
    "plant": "cut_waits",
    "strike": "cut_waits",
}
#: Tasks that are steps of one thing, and what each task goes on from.
HEAP = "heap"
CHAINS = dict.fromkeys((BUILD, "turn", "screen", "empty"), HEAP)
GOES_ON_FROM = {
    **dict.fromkeys(("turn", "screen", "empty", "temperature"), HEAP),
    "sow": "order",
    "plant": "order",
    "end": "sow",
    "wait": "end",
}


class Chores:
    """The jobs of what is followed and ordered, with their windows, before any is moved.

    What is ``put_off`` for a harvest, or kept ``apart`` from a dose before, goes on no sooner than its day.
    """

    def __init__(
        self,
        whole: WholeSite,
        orders: Iterable[OrderLine],
        as_built: Mapping[str, Supply[Any]] = MappingProxyType({}),
        put_off: Mapping[PutKey, date] = MappingProxyType({}),
        apart: Mapping[PutKey, Apart] = MappingProxyType({}),
    ) -> None:
        self.whole, self.answer, self.put_off, self.apart = whole, whole.together.answer, put_off, apart
        self.site: Site = self.answer.site
        self.supplies = {**self.answer.supplies, **as_built}
        self.days = Days(self.site)
        self.jobs: list[Job] = []
        self._puts_of: dict[int, list[Job]] = defaultdict(list)  # by serving: what puts it on
        self.brought: dict[str, list[Job]] = defaultdict(list)  # by way: what brings or makes its stuff
        self._passed: dict[str, list[Wanted]] = defaultdict(list)  # by way: what other ways draw of it
        self._drawn: dict[int, list[Drawn]] = {}  # by put: the batches that it is drawn of
        self.orders: list[tuple[OrderLine, Job]] = []  # each with what takes it in
        for line in orders:
            self.jobs += (ordered := order_jobs(self.site, line))
            self.orders.append((line, ordered[-1]))
            self.brought[line.way.name].append(ordered[-1])
        self._tasks()
        self._puts()
        in_time_for_next(self.jobs, self.site)
        keep_lime_apart(self.jobs)
        self._soil_tests()

    # ---- what ways ask ----------------------------------------------------------------------------------

    def _tasks(self) -> None:
        parts = self.whole.together.parts
        founded = {part.way for part in parts if part.decision.founds}
        drawn: list[tuple[Supply[Any], dict[date, float]]] = []
        for name, doses in doses_by_way(parts).items():
            supply, draws = self.supplies[name], draws_of(doses)
            passed = [(self.supplies[way], days) for way, days in supply.passed_on(draws) if draws]
            for drawn_on, days in passed:
                self._passed[drawn_on.name] += (Wanted(*draw) for draw in days.items())
            drawn += [*passed, (supply, draws)]
            if name in founded:
                self._add(supply, supply.founding_tasks())
        for supply, draws in drawn:
            if draws:
                self._add(supply, supply.tasks(draws))

    def add_built(self, site: Site) -> None:
        """Add the tasks of heaps that were built since the start as a site's history has it, unfollowed."""
        followed = {job.way for job in self.jobs if job.job == BUILD}
        built = [of for of in site.history if of.built and not of.again and of.day >= site.start]
        for name in sorted({of.way for of in built} - followed):
            heap, own = self.supplies[name], [of for of in built if of.way == name]
            self._add(heap, [task for of in own for task in heap.tasks_of_batch(of.day, of.loose)])

    def as_built(self, built: Job) -> list[Job]:
        """Return the jobs of a heap that was built by what was built of it, that to build it first."""
        loose = sum(entry.loose for entry in built.entries) or built.loose or 0.0
        heap, day = self.supplies[built.way], built.done or built.first
        return [self._task(heap, task) for task in heap.tasks_of_batch(day, loose)]

    def _add(self, supply: Supply[Any], tasks: Iterable[Task]) -> None:
        """Add the tasks of a way, each after those it goes on from; a heap waits for a room to be free."""
        before: dict[str, Job] = {}
        built: list[Job] = []  # of each heap the last job
        for task in tasks:
            if task.day < self.site.start:
                continue
            job = self._task(supply, task)
            goes_on_from = before.get(GOES_ON_FROM.get(task.job, ""))
            if goes_on_from is not None:
                job.gap, job.paced = (task.day - goes_on_from.day).days, task.job != "wait"
            free = built[-task.rooms] if 0 < task.rooms <= len(built) else None
            job.after = [*filter(None, (goes_on_from, free)), *self._there(task.after, task.day)]
            chain = CHAINS.get(task.job, task.job)
            before[chain] = job
            if task.rooms:
                built.append(job)
            elif chain == HEAP and built:
                built[-1] = job
            self.jobs.append(job)
            if task.job in MAKES:
                self.brought[supply.name].append(job)

    def _task(self, supply: Supply[Any], task: Task) -> Job:
        scene, start = Scene(self.site, supply, supply.material), self.site.start
        about: dict[str, Any] = {
            "job": task.job,
            "way": supply.name,
            "material": supply.material.name,
            "day": task.day,
            "loose": task.loose,
            "brings": task.brings,
            "hours": task.hours if task.hours and task.hours.high else None,
            "what": task.what,
        }
        if task.job == "order":
            return Job(**about, first=before(task.day, "seed_ahead", start), last=task.day)
        if task.until is not None:
            return Job(**about, first=task.day, last=task.until, goes_on=True)
        waits = judged_time(WAITS[task.job]) if task.job in WAITS else timedelta()
        opening = self.days.opening((task.job,), scene, task.day, waits, date.max)
        return Job(**about, first=opening.first, last=opening.last, told=opening.told)

    def _there(self, ways: Iterable[str], day: date) -> list[Job]:
        """Return what brings the stuff of ways last before a day; nothing where it lies there from before."""
        brought = [
            [job for job in self.brought[way] if job.day <= day or not self._lies_there(way, day)]
            for way in ways
        ]
        return [job for jobs in brought for job in [last_until(jobs, day)] if job is not None]

    def _lies_there(self, way: str, day: date) -> bool:
        """Say whether anything of a way lies there by a day that came, or was made, before the start."""
        supply = self.supplies[way]
        return bool(supply.lies_there) or any(lot.loose > 0 for lot in supply.there(day))

    # ---- what is put on ---------------------------------------------------------------------------------

    def _puts(self) -> None:
        puts = all_puts(self.whole, self.supplies)
        self._drawn = drawn_by(puts, self.brought, self._passed)
        following = next_days(puts)
        mixed: dict[tuple[str, str, date], list[Job]] = defaultdict(list)
        filled: dict[str, list[Job]] = defaultdict(list)
        for number, put in enumerate(puts):
            latest = following.get(put.key, date.max)
            job = self._put(put, latest, number)
            if NEEDS[put.need].makes_ground:
                mixed[put.place.name, put.need, put.day].append(job)
                filled[put.place.name].append(job)
        for job in self.jobs:
            for serving in job.serves:
                self._puts_of[id(serving)].append(job)
        for jobs in mixed.values():  # what is put on together waits for all there is of it
            there = list(dict.fromkeys(before for job in jobs for before in job.after))
            for job in jobs:
                job.after, job.what = list(there), _mixed(jobs)
        for job in self.jobs:  # what is filled is filled first
            if job.place in filled and not NEEDS[job.need].makes_ground:
                job.after = [*job.after, *(of for of in filled[job.place] if of.day <= job.day)]

    def _put(self, put: Put, following: date, number: int) -> Job:
        """Add the jobs that put something on, spreading it and digging it in; return the first of them."""
        due, stuff = put.due(self.site), put.supply.material
        wait = wait_of(self.site, put.place, put.need, put.dug, stuff)
        scene = Scene(self.site, put.supply, stuff, put.place, wait)
        opening = self._opening(put, scene, min(due, following))
        about = put.about
        if wait is not None:
            about |= {"opens": partial(waited, wait), "wait_told": wait.told}
            about |= {"dropped": self._dropped(put, wait, opening)}
        hours = spreading_hours(self.site, put.doses, put.supply)
        spread = Job(
            **about,
            job=put.word,
            first=opening.first,
            last=opening.last,
            due=due if due < date.max else None,
            loose=put.loose,
            dug=put.dug,
            stuff=stuff,
            hours=hours if hours.high else None,
            came=self._came(put),
            bought=not put.supply.limited,
            after=self._makes(put, number),
            drawn=self._drawn.get(number, ()),
            told=opening.told,
            barred=opening.barred,
            serves=put.servings,
        )
        self.jobs.append(spread)
        if spread.dug:
            laid = self.whole.together.doses_on(put.place.name)
            self.jobs.append(digging(self.site, put, spread, about, laid))
        return spread

    def _dropped(self, put: Put, wait: Wait, opening: Opening) -> str:
        """Return why no day is left for what is put on and waits for a harvest, or nothing."""
        due, soonest = put.due(self.site), self._soonest(put)
        last = due if put.day > self.site.end else min(due, self.site.end)
        return beyond(wait, opening, soonest, last) if soonest <= last else ""

    def _makes(self, put: Put, number: int) -> list[Job]:
        """Return what makes or brings what is put on: of a heap each batch that it is drawn of."""
        if number in self._drawn:
            return [part.of for part in self._drawn[number]]
        return self._there([put.supply.name], put.day)

    def _opening(self, put: Put, scene: Scene, latest: date) -> Opening:
        """Return the window of what is put on, spread and dug in together, up to a latest day."""
        waits = judged_time("top_up_waits" if put.later else "job_waits")
        words = (put.word, DIG) if put.dug else (put.word,)
        for_best = NEEDS[put.need].by_season and put.supply.keeps
        day = max(self._soonest(put), self.put_off.get(put.key, put.day))
        opening = self.days.opening(words, scene, day, waits, latest, for_best)
        apart = self.apart.get(put.key)
        told = [f"Not before {apart.day}: {apart.told}."] if apart else []
        return opening._replace(told=(*opening.told, *told))

    def _soonest(self, put: Put) -> date:
        """Return the plan's day of what is put on, or a later one that keeps it apart from a dose before."""
        apart = self.apart.get(put.key)
        return max(put.day, apart.day) if apart else put.day

    def _came(self, put: Put) -> date:
        """Return the day from which the lot that is put on is there; what lay there before, the start."""
        if not put.supply.limited:
            there = self._there([put.supply.name], put.day)
            return max((job.day for job in there), default=self.site.start)
        lots = (lot.day for lot in put.supply.lots(put.day) if lot.loose > 0)
        return max(lots, default=put.day)

    # ---- what is tested ---------------------------------------------------------------------------------

    def _soil_tests(self) -> None:
        """Add soil tests where one tells whether a need is met: an old one anew, and what came of it."""
        served = [
            (part.need, serving, self._puts_of.get(id(serving), []))
            for part in self.whole.together.parts
            for serving in part.decision.servings
        ]
        self.jobs += soil_tests(self.site, served)


def _mixed(jobs: Iterable[Job]) -> str:
    """Return that what jobs put in together is mixed; nothing of one alone."""
    ways = list(dict.fromkeys(job.way for job in jobs))
    return f"Mix {all_of(ways)} as they go in, not in layers." if len(ways) > 1 else ""
