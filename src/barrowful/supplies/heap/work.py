"""What a batch of a heap asks to be done: gathered and built, its heat read, turned, screened."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import timedelta
from decimal import Decimal

from barrowful.catalogue.judgements import judged_time
from barrowful.costs.labour import Hours, wheeling, work
from barrowful.measures.money import rounded
from barrowful.measures.telling import MASS, VOLUME, measured
from barrowful.site.records import Labour
from barrowful.site.ways import Make
from barrowful.supplies.heap.batch import Batch
from barrowful.supplies.heap.recipe import Recipe
from barrowful.supplies.supply import Payment, loose_of
from barrowful.supplies.task import Task

#: What rounding may leave of an ingredient, as a share of the whole.
CRUMB = 1e-9


def batch_tasks(way: Make, labour: Labour, batch: Batch) -> list[Task]:
    """Return the tasks of a batch, in the order of their days; building it says of what."""
    build, *others = _tasks(way, labour, batch)
    return [build._replace(what=recipe_told(batch.recipe)), *others]


def _tasks(way: Make, labour: Labour, batch: Batch) -> list[Task]:
    """Return the tasks of a batch, none in words; each turn is of what is left by then.

    A pile left to rot is tipped where it lies: it is not built up in layers.
    """
    raw, over = batch.recipe.volume, batch.overs_volume
    done = batch.volume[1] + over
    gathered = wheeling(raw, labour.push, labour.barrow)
    tasks = [
        Task(
            job="build",
            day=batch.built,
            hours=gathered if way.left else gathered + work("heap_build", raw),
            loose=raw,
            after=tuple(part.way for part in way.ingredients if part.way),
            rooms=way.bays,
        )
    ]
    if batch.hot:
        first, last = batch.built + timedelta(days=1), batch.ready[1] - judged_time("curing")
        tasks.append(Task(job="temperature", day=first, until=max(first, last)))
    for turn in range(1, batch.turns + 1):
        assert way.turn_every is not None, f"{way.name} is turned, but not every so often"
        left = raw + (done - raw) * (turn / (batch.turns + 1))
        day = way.turn_every.times(turn).after(batch.built)
        tasks.append(Task(job="turn", day=day, hours=work("heap_turn", left), loose=left))
    hours = work("heap_screen", done) if over > 0 else None
    word = "screen" if over > 0 else "empty"
    emptied = Task(job=word, day=batch.ready[1], hours=hours, loose=done, brings=batch.volume[1])
    return [*tasks, emptied]


def batch_hours(way: Make, labour: Labour, batch: Batch) -> Hours:
    """Return the hours to gather, build, turn and screen a batch."""
    return sum((task.hours for task in _tasks(way, labour, batch) if task.hours), Hours())


def recipe_told(recipe: Recipe) -> str:
    """Return what goes into a heap, in words."""
    crumb = CRUMB * sum(recipe.masses)
    told = [
        f"{measured(mass, MASS, 2)} ({measured(offer.loose_of(mass), VOLUME, 2)}) of {offer.material.name}"
        for offer, mass in zip(recipe.offers, recipe.masses, strict=True)
        if mass > crumb
    ]
    water = [f"{measured(recipe.water, MASS, 2)} of water"] if recipe.water > 0 else []
    return ", ".join([*told, *water])


def payments(
    way: Make, number: int, currency: str, batches: Iterable[tuple[Batch, int]]
) -> Iterator[Payment]:
    """Yield what an ingredient with a price costs batch by batch, as they are built, so many alike.

    The coins add up to those of all of it together.
    """
    part, taken, paid = way.ingredients[number], 0.0, Decimal(0)
    if (sold := part.selling) is None:
        return
    for batch, count in sorted(batches, key=lambda each: each[0].built):
        mass = count * batch.fresh_of(number)
        taken += mass
        units = taken / sold.mass if sold.mass else loose_of(part.material, taken) / (sold.volume or 1)
        due = rounded(part.price * Decimal(str(units)), currency)
        if due > paid:
            yield Payment(batch.built, way.name, part.material.name, mass, due - paid)
        paid = due
