"""What a screen says first of heaps, courses, the ledger and sizes: what it comes to, in a line or a few."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from barrowful.answers.course import Course
from barrowful.answers.ledger import SITE, Account, brought_later
from barrowful.answers.option import Option
from barrowful.answers.orders_told import MOST_TOLD
from barrowful.answers.sizes import SizeRow
from barrowful.measures.telling import AREA, DEPTH, MASS, VOLUME, hours_told, measured
from barrowful.measures.text import all_of
from barrowful.site.records import Site
from barrowful.supplies.heap.batch import Batch
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.heap.recipe import Recipe
from barrowful.supplies.heap.work import recipe_told


def heap_headlines(heaps: Iterable[Heap]) -> tuple[str, ...]:
    """Return for each heap what it makes of how many batches by when, or why it makes nothing."""
    return tuple(_of_heap(heap) for heap in heaps if heap.note or heap.batches)


def _of_heap(heap: Heap) -> str:
    if heap.note or not heap.batches:
        return f"{heap.way.name}: {heap.note}.{_built(heap)}"
    first, every = heap.batches[0], [*heap.recorded, *heap.batches]
    brings = measured(first.volume[1], VOLUME)
    told = f"{heap.way.name}: {brings} of {heap.material.name} on {first.ready[1]}"
    if len(every) == 1:
        return f"{told}; {hours_told(heap.batch_hours(first).likely)}."
    whole, last = _volume_of(every), max(batch.ready[1] for batch in every)
    hours = hours_told(sum(heap.batch_hours(batch).likely for batch in every))
    return f"{told}, {whole} in {len(every)} batches by {last}; {hours} in all.{_built(heap)}"


def _built(heap: Heap) -> str:
    """Return how many batches are built already, what they make and when that is ready; or nothing."""
    if not heap.recorded:
        return ""
    ready = max(batch.ready[1] for batch in heap.recorded)
    return f" Built already: {len(heap.recorded)}, {_volume_of(heap.recorded)}, ready by {ready}."


def _volume_of(batches: Iterable[Batch]) -> str:
    return measured(sum(batch.volume[1] for batch in batches), VOLUME)


def blend_headline(recipe: Recipe) -> str:
    """Return what a blend is mixed of."""
    return f"Mix {recipe_told(recipe)}."


def course_headline(courses: Sequence[Course]) -> str:
    """Return what becomes of some places: soil organic matter from first to last, and mulch at the end."""
    told = [words for course in courses if (words := _of_course(course))]
    if not told:
        return "Nothing is left on any place at the end."
    more = f"; and {len(told) - MOST_TOLD} more below" if len(told) > MOST_TOLD else ""
    return f"By {courses[0].points[-1].day}: {'; '.join(told[:MOST_TOLD])}{more}."


def _of_course(course: Course) -> str:
    first, last = course.points[0], course.points[-1]
    parts = []
    if first.matter is not None and last.matter is not None:
        was, becomes = f"{first.matter[1]:.1%}", f"{last.matter[1]:.1%}"
        parts.append(f"soil organic matter {f'stays at {was}' if was == becomes else f'{was} to {becomes}'}")
    if last.mulch > 0:
        parts.append(f"{measured(last.mulch, DEPTH, 2)} of mulch")
    return f"{course.place.name}, {', with '.join(parts)}" if parts else ""


def ledger_headline(accounts: Iterable[Account]) -> str:
    """Return what the whole site gains or loses of each nutrient."""
    whole = [account for account in accounts if account.sort == SITE]
    gained = [f"{measured(of.balance, MASS)} of {of.nutrient}" for of in whole if of.balance > 0]
    lost = [f"{measured(-of.balance, MASS)} of {of.nutrient}" for of in whole if of.balance < 0]
    told = [f"gains {all_of(gained)}"] if gained else []
    told += [f"loses {all_of(lost)}"] if lost else []
    return f"In all the site {' and '.join(told) or 'neither gains nor loses nutrients'}."


def ledger_counts(site: Site, chosen: list[Option]) -> str:
    """Return which doses and harvests a ledger counts, and what later ones bring."""
    later = [f"{measured(mass, MASS)} of {name}" for name, mass in brought_later(chosen).items() if mass > 0]
    if not later:
        return "All its doses are counted, and one season's harvest."
    return (
        "Counted are the doses that first meet each need, and one season's harvest. Later seasons and top-ups"
        f" bring {all_of(later)} more by {site.end}; notes on what builds up count them, and their harvests."
    )


def sizes_headline(rows: Iterable[SizeRow]) -> str:
    """Return how many places there are and their area, and what is told of them."""
    places = {row.place.name: row.place for row in rows}
    if not places:
        return "No place has a need."
    count, area = sum(place.count for place in places.values()), sum(p.total_area for p in places.values())
    where = f"{count:,} places" if count != 1 else "1 place"
    return (
        f"{where}, {measured(area, AREA, ',.0f')} in all; what each need takes stands here by itself,"
        " before ceilings and what other needs bring."
    )
