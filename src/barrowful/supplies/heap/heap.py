"""A heap as a supply: its batches come ready over the seasons, and what they cost."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from copy import copy
from dataclasses import replace
from datetime import date
from functools import cached_property
from typing import Any

from barrowful.catalogue.figures import Figure, computed
from barrowful.catalogue.judgements import judgement
from barrowful.catalogue.materials import Material
from barrowful.catalogue.rates import heap_figures
from barrowful.costs.labour import Hours
from barrowful.costs.order import Order
from barrowful.measures.dates import Step
from barrowful.site.carried import Carried
from barrowful.site.records import HistoryEntry, Site
from barrowful.site.ways import Ingredient, Make
from barrowful.soil.application import Application
from barrowful.supplies.flow import LOST, OUTSIDE, Flow, of_dry, way_key
from barrowful.supplies.heap.batch import Batch, shrinks
from barrowful.supplies.heap.batches import Yard
from barrowful.supplies.heap.hygiene import flags_of
from barrowful.supplies.heap.pile import Corner
from barrowful.supplies.heap.reasons import why_no_heap, why_no_pile
from barrowful.supplies.heap.timing import SLACK_SHARE
from barrowful.supplies.heap.work import batch_hours, batch_tasks, payments
from barrowful.supplies.lot import LEAST_WANTED, YEAR, Lot, LotsRange, brought_of, repeated, together
from barrowful.supplies.supply import Cost, Supply, loose_of
from barrowful.supplies.taken import after_taking
from barrowful.supplies.task import Task


class Heap(Supply[Make]):
    """A heap as a supply: each batch is a lot of compost on the day it is ready."""

    draws_on_others = True
    zone = "heap"
    hazard_words = frozenset(
        {"heap too small", "heap too high", "hygiene claimed", "much coffee", "pile opened"}
    )

    def __init__(self, way: Make, site: Site, drawn: Mapping[str, Supply[Any]]) -> None:
        super().__init__(way, site, drawn)
        self.figures, self.beside = heap_figures(), list[Batch]()
        if not self.batches:
            self.note = why_no_pile(self._yard) if way.left else why_no_heap(self._yard)

    @cached_property
    def _yard(self) -> Yard:
        kind = Corner if self.way.left else Yard
        return kind(self.way, self.site, self.drawn, self.figures)

    @cached_property
    def batches(self) -> list[Batch]:
        """Return every batch built within the horizon, by weeks."""
        return self._yard.run()

    @property
    def recorded(self) -> list[Batch]:
        """Return every batch that the history says was built."""
        return self._yard.recorded

    @cached_property
    def _left(self) -> list[Lot]:
        """Return what is left of the batches that were built, from the day each is ready on.

        What the history took of them came of the earliest, whenever they were likely to be ready.
        """
        entries = [entry for entry in self.site.done_by(self.way.name) if not entry.built]
        built = sorted(self.recorded, key=lambda batch: batch.ready[1])
        made = [Lot(min(batch.built, batch.ready[1]), batch.volume[1]) for batch in built]
        left, _ = after_taking(made, entries)
        ready = (max(batch.ready[1], self.site.start) for batch in built)
        return together(Lot(day, lot.loose) for day, lot in zip(ready, left, strict=True) if lot.loose > 0)

    @property
    def starting_cn(self) -> float | None:
        """Return the C:N of the first batch that is built, where one is."""
        return self.batches[0].recipe.cn if self.batches else None

    @cached_property
    def material(self) -> Material:  # type: ignore[override]
        """Return the compost with the nutrients its ingredients bring, or the catalogue's; it may be raw."""
        stuff, batches = self.way.material, [*self.recorded, *self.batches]
        if flags := flags_of(self.way, self.starting_cn, [*batches, *self.beside]):
            stuff = replace(stuff, flags=stuff.flags | flags)
        if not batches:
            return stuff
        likely = [(batch.dry[1], batch.volume[1], batch.nitrogen[1]) for batch in batches]
        dry, volume, nitrogen = map(sum, zip(*likely, strict=True))
        figures = {
            "nitrogen": computed("nitrogen", "share", nitrogen / dry),
            "density": computed("density", "density", stuff.wet_of(dry) / volume),
        }
        for nutrient in ("phosphorus", "potassium"):
            held = sum(batch.recipe.total(nutrient) - batch.screened(nutrient) for batch in batches)
            figures[nutrient] = computed(nutrient, "share", held / dry)
        if self.way.left:
            carbon, matter = (sum(getattr(batch, name) for batch in batches) for name in ("carbon", "matter"))
            figures["carbon"] = computed("carbon", "share", carbon / dry)
            figures["organic_matter"] = computed("organic matter", "share", matter / dry)
        return stuff.with_figures(figures)

    @property
    def rests_on(self) -> Mapping[str, Mapping[str, Figure]]:
        """Return the figures of the compost and of what goes into it, and those of heaps."""
        ways = (self.drawn[part.way] for part in self.way.ingredients if part.way in self.drawn)
        drawn = {of: figures for way in ways for of, figures in way.rests_on.items()}
        return {**drawn, **super().rests_on, "heaps": self.figures}

    def lots(self, until: date) -> list[Lot]:
        days: dict[date, float] = {}
        for batch in self.batches_sorted:
            days[batch.ready[1]] = days.get(batch.ready[1], 0.0) + batch.volume[1]
        lots = [Lot(day, loose) for day, loose in days.items()]
        if self._goes_on:
            lots = repeated(lots, self.site.end, until)
        return together([*self.there(until), *(lot for lot in lots if lot.day <= until)])

    @property
    def lots_range(self) -> LotsRange | None:
        """Return what batches shrink to: by one figure of all heaps, a pile by the humus of what is in it."""
        of, name = (f"way {self.name}", "volume left") if self.way.left else ("rates", "heap_volume_lost")
        return shrinks(of, name, self.batches)

    def there(self, until: date) -> list[Lot]:
        return [lot for lot in self._left if lot.day <= until]

    def made(self, until: date) -> list[Lot]:
        return [Lot(of.ready[1], of.volume[1]) for of in self.batches_sorted if of.ready[1] <= until]

    @cached_property
    def _goes_on(self) -> bool:
        """Say whether all that goes in comes again after the horizon: what comes once does not."""
        end, later = self.site.end, YEAR.after(self.site.end)

        def comes_again(part: Ingredient) -> bool:
            supply = self.drawn.get(part.way)
            if part.once is not None:
                return False
            return supply is None or any(lot.day > end for lot in supply.lots(later))

        return all(comes_again(part) for part in self.way.ingredients)

    @cached_property
    def batches_sorted(self) -> list[Batch]:
        """Return the batches in the order they become ready."""
        return sorted(self.batches, key=lambda batch: batch.ready[1])

    def used(self, draws: Mapping[date, float]) -> list[tuple[Batch, int]]:
        """Return the batches that must be built to draw so much, the earliest ready first, and how often.

        What is left of those that were built already comes before. Beyond the horizon the batches of its
        last year come again.
        """
        wanted, times = sum(draws.values()) - sum(lot.loose for lot in self._left), Counter[int]()
        batches = self.batches_sorted
        for number, batch in enumerate(batches):
            if wanted <= LEAST_WANTED:
                break
            times[number] += 1
            wanted -= batch.volume[1]
        again = [n for n, one in enumerate(batches) if one.built > Step(months=-12).after(self.site.end)]
        self._again(again or list(range(len(batches))), wanted, times)
        return [(batches[number], count) for number, count in times.items()]

    def _again(self, numbers: list[int], wanted: float, times: Counter[int]) -> None:
        """Count a year's batches once more, as often as it takes to draw what is wanted yet."""
        year = sum(self.batches_sorted[number].volume[1] for number in numbers)
        if wanted <= LEAST_WANTED or year <= 0:
            return
        whole = max(0, math.ceil(wanted / year) - 1)
        for number in numbers:
            times[number] += whole
        wanted -= whole * year
        for number in numbers:
            if wanted > LEAST_WANTED:
                times[number] += 1
                wanted -= self.batches_sorted[number].volume[1]

    def cost(self, draws: Mapping[date, float]) -> Cost:
        batches = self.used(draws)
        cost = Cost(hours=sum((self.batch_hours(batch).times(count) for batch, count in batches), Hours()))
        for index, part in enumerate(self.way.ingredients):
            mass = sum(count * batch.fresh_of(index) for batch, count in batches)
            if mass <= 0:
                continue
            drawn = self.drawn.get(part.way)
            volume, first = loose_of(part.material, mass), min(batch.built for batch, _ in batches)
            if drawn is not None:
                cost += drawn.cost({first: volume})
            elif part.selling is not None:
                cost += Cost(paid=tuple(payments(self.way, index, self.site.currency, batches)))
        return cost

    def passed_on(self, draws: Mapping[date, float]) -> list[tuple[str, dict[date, float]]]:
        batches = self.used(draws)
        return [
            (part.way, self._drawn_by_day(index, part, batches))
            for index, part in enumerate(self.way.ingredients)
            if part.way in self.drawn and not part.weekly and not part.once and batches
        ]

    def _drawn_by_day(
        self, index: int, part: Ingredient, batches: list[tuple[Batch, int]]
    ) -> dict[date, float]:
        """Return the loose volume [m3] that batches draw of an ingredient, by day.

        What keeps is drawn when a batch is built; what does not is brought to the heap on the day it is
        there, and waits for the batch beside it.
        """
        days: dict[date, float] = {}
        for batch, count in batches:
            loose = loose_of(part.material, count * batch.fresh_of(index))
            days[batch.built] = days.get(batch.built, 0.0) + loose
        supply = self.drawn[part.way]
        return days if supply.keeps else brought_of(supply.lots(max(days)), days)

    def batch_hours(self, batch: Batch) -> Hours:
        """Return the hours to gather, build, turn and screen a batch."""
        return batch_hours(self.way, self.site.labour, batch)

    def tasks(self, draws: Mapping[date, float]) -> list[Task]:
        labour, batches = self.site.labour, (batch for batch, _ in self.used(draws))
        return [task for batch in batches for task in batch_tasks(self.way, labour, batch)]

    def tasks_of_batch(self, day: date, loose: float) -> list[Task]:
        build, *others = batch_tasks(self.way, self.site.labour, self._yard.built(day, loose or self.way.bay))
        return [build._replace(after=()), *others]

    def with_built(self, entries: Iterable[HistoryEntry]) -> Heap:
        """Return it with what some entries say was built beside: its compost may be raw for that."""
        other = copy(self)
        other.beside = [self._yard.built(entry.day, entry.loose) for entry in entries if entry.loose]
        other.__dict__.pop("material", None)
        return other

    @property
    def stuff(self) -> str:
        return f"heap {self.way.name}"

    @property
    def stuffs(self) -> list[Material]:
        return [self.material, *(part.material for part in self.way.ingredients)]

    def carried_on(self, day: date) -> Carried:
        lots = [part.material.name for part in self.way.ingredients if part.once is not None]
        built = any(self.site.start <= batch.built < day for batch in self.recorded)
        told = f"{self.name}: {', '.join(lots)} is taken as there again; take out what went in"
        return Carried(told=told if lots and built else "")

    def hazards(self, doses: Sequence[Application], orders: Sequence[Order]) -> Iterator[str]:
        way = self.way
        yield from super().hazards(doses, orders)
        if way.bay < self.figures["hot_volume"].low and not way.left:
            yield "heap too small"
        large = way.left and way.bay >= judgement("stored_volume")
        if large or (way.height or 0.0) > self.figures["highest"].low:
            yield "heap too high"
        if way.left:
            yield "pile opened"
        if way.readings:
            yield "hygiene claimed"
        if any(self._holds_too_much(batch, "coffee") for batch in self.batches):
            yield "much coffee"

    def _holds_too_much(self, batch: Batch, what: str) -> bool:
        """Say whether a batch has more of a stuff than good practice, as where that ceiling is lifted."""
        shares = (share for share in batch.recipe.shares() if share.of == what)
        return any(batch.recipe.share_of(share) > share.most + SLACK_SHARE for share in shares)

    def inflows(self, draws: Mapping[date, float]) -> list[Flow]:
        """Return what went into the batches that were used, and the nitrogen they lost."""
        batches, zone = self.used(draws), way_key(self.way.name)
        flows: list[Flow] = []
        for index, part in enumerate(self.way.ingredients):
            mass = sum(count * batch.fresh_of(index) for batch, count in batches)
            if mass > 0:
                amounts = of_dry(part.material, part.material.dry_of(mass))
                flows.append(Flow(self._origin(part), zone, amounts))
                drawn = self.drawn.get(part.way)
                flows += drawn.fixed(amounts[0]) if drawn else []
        lost = sum(
            count * (batch.recipe.total("nitrogen") - batch.screened("nitrogen") - batch.nitrogen[1])
            for batch, count in batches
        )
        return [*flows, Flow(zone, LOST, (lost, 0.0, 0.0))]

    def _origin(self, part: Ingredient) -> str:
        """Return the zone an ingredient comes from."""
        drawn = self.drawn.get(part.way)
        if drawn is not None:
            return drawn.source
        return f"site: {part.material.name}" if part.from_site else OUTSIDE
