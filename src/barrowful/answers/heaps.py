"""What is said of heaps: the lines of a recipe, each batch with its hours, each verdict on a log."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import date

from barrowful.catalogue.judgements import judged_text
from barrowful.catalogue.materials import Material
from barrowful.costs.labour import Hours
from barrowful.measures.dates import years_between
from barrowful.measures.fixed import fixed
from barrowful.measures.telling import DENSITY, VOLUME, in_told, measured
from barrowful.supplies.heap.batch import Batch
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.heap.hygiene import Verdict, judge
from barrowful.supplies.heap.reasons import why_off
from barrowful.supplies.heap.recipe import Aim, Offer, Recipe, near
from barrowful.supplies.heap.shares import Share
from barrowful.supplies.heap.timing import SLACK_CN, SLACK_SHARE, UNTURNED


@fixed(eq=True)
class RecipeLine:
    """One material of a recipe, its water, or its total: masses in kg, volume in m3, shares."""

    way: str
    material: str
    batch: int | None = None
    built: date | None = None
    mass: float
    dry: float
    moisture: float
    share: float | None = None
    volume: float | None = None
    cn: float | None = None
    carbon: float | None = None
    nitrogen: float | None = None
    water: float | None = None
    put_back: float | None = None
    ceiling: str = ""


@fixed(eq=True)
class BatchLine:
    """One batch of a heap: its wet yield [kg], the years from building to compost, its hours."""

    heap: Heap
    batch: Batch
    wet: float
    years: float
    hours: Hours
    recorded: bool  #: was it built already?


@fixed(eq=True)
class VerdictLine:
    """What a heap's temperature log shows for one rule."""

    way: str
    verdict: Verdict


def recipe_lines(way: str, recipe: Recipe) -> list[RecipeLine]:
    """Return a line for each material of a recipe, one for water to add, and the total."""
    lines = [
        _of_material(way, recipe, offer, mass)
        for offer, mass in zip(recipe.offers, recipe.masses, strict=True)
    ]
    if recipe.water > 0:
        water = RecipeLine(way=way, material="water", mass=recipe.water, dry=0.0, moisture=1.0)
        lines.append(water)
    return [*lines, _total(way, recipe)]


def _of_material(way: str, recipe: Recipe, offer: Offer, mass: float) -> RecipeLine:
    stuff: Material = offer.material
    volume, dry = offer.loose_of(mass), stuff.dry_of(mass)
    return RecipeLine(
        way=way,
        material=stuff.name,
        mass=mass,
        dry=dry,
        moisture=stuff["moisture"],
        share=volume / recipe.volume,
        volume=volume,
        cn=stuff["carbon"] / stuff["nitrogen"] if stuff["nitrogen"] else None,
        carbon=dry * stuff["carbon"],
        nitrogen=dry * stuff["nitrogen"],
        ceiling=", ".join(dict.fromkeys(share.ceiling for share in _full_shares(recipe, stuff))),
    )


def _full_shares(recipe: Recipe, stuff: Material) -> list[Share]:
    """Return the ceilings of heaps that a recipe is at, or over, with a stuff."""
    return [
        share
        for share in recipe.shares()
        if share.holds(stuff) and recipe.share_of(share) >= share.most - SLACK_SHARE
    ]


def _total(way: str, recipe: Recipe) -> RecipeLine:
    return RecipeLine(
        way=way,
        material="total",
        mass=sum(recipe.masses) + recipe.water,
        dry=recipe.dry,
        moisture=recipe.moisture,
        share=1.0,
        volume=recipe.volume,
        cn=recipe.cn,
        carbon=recipe.total("carbon"),
        nitrogen=recipe.total("nitrogen"),
        water=recipe.water,
    )


def first_recipes(heaps: Iterable[Heap]) -> list[RecipeLine]:
    """Return the lines of the first recipe of each heap that makes something."""
    return [line for heap in heaps for line in _batch_recipes(heap, heap.batches[:1])]


def all_recipes(heaps: Iterable[Heap]) -> list[RecipeLine]:
    """Return the lines of the recipe of every batch of each heap."""
    return [line for heap in heaps for line in _batch_recipes(heap, heap.batches)]


def _batch_recipes(heap: Heap, batches: Sequence[Batch]) -> list[RecipeLine]:
    """Return the lines of the recipes of some batches: which batch it is of, and what is put back in it."""
    lines = []
    for number, batch in enumerate(batches, start=1):
        numbers = [offer.number for offer in batch.recipe.offers]
        for index, line in enumerate(recipe_lines(heap.way.name, batch.recipe)):
            back = batch.put_back[numbers[index]] if index < len(numbers) else None
            if heap.way.left:
                line = replace(line, ceiling="")
            lines.append(replace(line, batch=number, built=batch.built, put_back=back))
    return lines


def heap_sentences(heaps: Iterable[Heap]) -> list[str]:
    """Return what is to be said of heaps: why one makes nothing, aims that gave way, what piles become."""
    told = []
    for heap in heaps:
        if heap.note:
            told.append(f"{heap.way.name}: {heap.note}.")
        elif heap.way.left:
            told.append(_of_pile(heap))
        elif any(batch.gives_way for batch in heap.batches):
            told.append(_of_aim(heap))
        if heap.way.turn_every is not None and any(batch.care == UNTURNED for batch in heap.batches):
            told.append(_of_turning(heap))
        if heap.batches and heap.material.has("raw"):
            told.append(
                f"{heap.way.name}: nothing says that it gets hot, so its compost waits for a harvest as raw"
                " manure does. Size and turning would, and then a log of its heat that meets a rule."
            )
    return told


def _of_aim(heap: Heap) -> str:
    """Return that batches were built off the C:N aimed for, how many and how far."""
    giving = [batch.recipe for batch in heap.batches if batch.gives_way]
    off = [recipe.cn for recipe in giving]
    low, high = f"{min(off):.1f}", f"{max(off):.1f}"
    span = low if low == high else f"{low} to {high}"
    _, heats = near(heap.way.target_cn)
    over = any(recipe.cn > heats + SLACK_CN for recipe in giving)
    slower = f" Over {heats:.0f} a woody mix works, but slower: more greens would help."
    return (
        f"{heap.way.name}: {len(off)} of {len(heap.batches)} batches give up the C:N of"
        f" {heap.way.target_cn:g} aimed for and are built at {span}: {_why_off(heap, giving)}."
        f"{slower if over else ''}"
    )


def _why_off(heap: Heap, giving: Sequence[Recipe]) -> str:
    """Return why batches give up the C:N aimed for: what goes in does not reach it or fill the bay there.

    What bars the first of them is told, such as water.
    """
    way, aim = heap.way, heap.way.target_cn
    reached = [offer.cn for recipe in giving for offer in recipe.offers]
    if aim > max(reached):
        return f"nothing that goes in has more than {max(reached):.1f}"
    if aim < min(reached):
        return f"nothing that goes in has less than {min(reached):.1f}"
    kept = Aim(room=way.bay, cn=(aim, aim), moisture=way.target_moisture, lifted=heap.site.limits.lift)
    barred = why_off(aim, giving[0], kept)
    return f"at the aim {barred or 'the bay would not be full'}"


def _of_turning(heap: Heap) -> str:
    """Return that batches are reckoned as left, though the file says how often they are turned, and why."""
    left = [batch.recipe.volume for batch in heap.batches if batch.care == UNTURNED]
    least = measured(heap.figures["hot_volume"].low, VOLUME, ".2f")
    why = f"it is not within {judged_text('turned_at_all')}s"
    if max(left) < heap.figures["hot_volume"].low:
        why = f"under {least} turning makes none hot"
    return (
        f"{heap.way.name}: {len(left)} of {len(heap.batches)} batches are reckoned as not turned, and have no"
        f" turns among the jobs: {why}."
    )


def _of_pile(heap: Heap) -> str:
    """Return what the first pile becomes, when, and what is screened out of it."""
    batch, stuff = heap.batches[0], heap.material
    (low, likely, high), over = batch.volume, batch.overs_volume
    least, most = in_told(low, VOLUME)[0], in_told(high, VOLUME)[0]
    dense = measured(stuff["density"], DENSITY, ".0f")
    screened = f"; {_volume(over)} is screened out and goes into the next" if over > 0 else ""
    return (
        f"{heap.way.name}: {_volume(batch.recipe.volume)}, {_looked_after(batch)}, becomes"
        f" {_volume(likely)} ({least:.2f} to {most:.2f}) of {stuff.name} on"
        f" {batch.ready[1]} ({batch.ready[0]} to {batch.ready[2]}): {stuff['nitrogen']:.1%} nitrogen, C:N"
        f" {stuff['carbon'] / stuff['nitrogen']:.0f}, {dense}{screened}."
    )


def _volume(loose: float) -> str:
    """Return a volume [m3] as it is told."""
    return measured(loose, VOLUME, ".2f")


def _looked_after(batch: Batch) -> str:
    turned = f"turned {batch.turns} times" if batch.turns else "not turned"
    return f"left from {batch.built} and {turned}"


def batch_lines(heaps: Iterable[Heap]) -> list[BatchLine]:
    """Return a line for each batch of each heap."""
    return [
        BatchLine(
            heap=heap,
            batch=batch,
            wet=heap.material.wet_of(batch.dry[1]),
            years=years_between(batch.built, batch.ready[1]),
            hours=heap.batch_hours(batch),
            recorded=recorded,
        )
        for heap in heaps
        for recorded, batches in ((True, heap.recorded), (False, heap.batches))
        for batch in batches
    ]


def verdict_lines(heaps: Iterable[Heap]) -> list[VerdictLine]:
    """Return the verdicts on the temperature logs there are."""
    lines = []
    for heap in heaps:
        lines += [VerdictLine(way=heap.way.name, verdict=one) for one in judge(heap.way, heap.starting_cn)]
    return lines
