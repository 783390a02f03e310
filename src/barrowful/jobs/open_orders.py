"""What is still to be ordered: what open jobs take, beyond what lies there of what came before."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import NamedTuple

from barrowful.answers.order_lines import OrderLine
from barrowful.answers.together import doses_by_way
from barrowful.costs.order import Order, brought_together
from barrowful.jobs.chores import Chores
from barrowful.jobs.errands import order_as
from barrowful.jobs.job import BUILD, Job
from barrowful.jobs.tested import SAMPLE
from barrowful.jobs.trips import bring_in_time
from barrowful.site.keeping import left_over_keeps
from barrowful.site.records import Site
from barrowful.site.ways import Buy
from barrowful.soil.application import draws_of
from barrowful.supplies.placing import Leftover, order_beyond
from barrowful.supplies.taken import SPECK, takes


class Take(NamedTuple):
    """What is still to be taken of a way for a day [loose m3], and what a heap took already."""

    day: date
    loose: float
    taken: float = 0.0


def order_what_is_open(chores: Chores, jobs: list[Job], dropped: Sequence[Job], site: Site) -> list[Job]:
    """Return jobs of which those that order something bring what open jobs take, and nothing beside it.

    What is ordered already stays. Where nothing of an order is wanted any more, it is not done.
    """
    if not dropped and all(entry.day < site.start for entry in site.history):
        return jobs
    anew = dict[int, Order | None]()
    by_way: dict[str, list[tuple[OrderLine, Job]]] = defaultdict(list)
    for line, came in sorted(chores.orders, key=lambda each: each[0].needed):
        by_way[line.way.name].append((line, came))
    for name, lines in by_way.items():
        takes_of, taken_in = [*_takes(name, chores, jobs)], [came for _, came in lines]
        taken = sum(take.taken for take in takes_of)
        there = _lies_there(lines[0][0].way, taken_in, jobs, site, taken)
        anew |= _ordered_anew(lines, takes_of, there)
    changed = [*_changed(chores.orders, anew, site.currency)]
    gone = set[int]()
    for line, came, made in changed:
        if made is None:
            gone |= {id(job) for job in _errands(came) if job.done is None}
        else:
            order_as(came.after[0], came, replace(line, order=made))
    left = [job for job in jobs if id(job) not in gone]
    for job in left:
        job.after = [before for before in job.after if id(before) not in gone]
    others = {id(came) for _, came in chores.orders} - {id(came) for _, came, _ in changed}
    bring_in_time(job for job in left if changed and id(job) not in others)
    return left


def _ordered_anew(
    lines: Sequence[tuple[OrderLine, Job]], takes: Sequence[Take], there: Leftover
) -> dict[int, Order | None]:
    """Return the orders of a way that are still to be placed, by what takes them in; None where none is.

    Each is for what is taken from its day on, until the next of it comes, less what is left by then.
    """
    anew, left, since = dict[int, Order | None](), there.loose, there.day
    days = [line.needed for line, _ in lines]
    left = max(0.0, left - _taken(takes, date.min, days[0]))
    for (line, came), until in zip(lines, [*days[1:], date.max], strict=True):
        wanted = _taken(takes, line.needed, until)
        if came.done is None and came.after[0].done is not None:
            left, since = left + (came.left or 0.0), line.needed
        elif came.done is None:
            left = left if line.needed - since <= left_over_keeps(line.way.material) else 0.0
            made = order_beyond(line.way, wanted, left, line.currency) if wanted > SPECK else None
            anew[id(came)] = made
            left, since = (left + made.volume, line.needed) if made else (left, since)
        left = max(0.0, left - wanted)
    return anew


def _taken(takes: Iterable[Take], first: date, until: date) -> float:
    """Return what is still to be taken [m3] from a day on, before another."""
    return sum(take.loose for take in takes if first <= take.day < until)


def _changed(
    orders: Sequence[tuple[OrderLine, Job]], anew: dict[int, Order | None], currency: str
) -> Iterator[tuple[OrderLine, Job, Order | None]]:
    """Yield what orders something else than before: of what one seller brings together, all of it."""
    together: dict[tuple[object, date], list[tuple[OrderLine, Job]]] = defaultdict(list)
    for line, came in orders:
        if id(came) in anew:
            together[came.sold_by, came.day].append((line, came))
    for each in together.values():
        if all(_is_alike(line.order, anew[id(came)]) for line, came in each):
            continue
        placed = [(line.way, made) for line, came in each if (made := anew[id(came)]) is not None]
        shared = iter(brought_together(placed, currency) if len(placed) > 1 else [made for _, made in placed])
        for line, came in each:
            yield line, came, next(shared) if anew[id(came)] is not None else None


def _is_alike(before: Order, after: Order | None) -> bool:
    """Say whether as much is ordered as before."""
    return after is not None and abs(after.volume - before.volume) <= SPECK


def _errands(came: Job) -> Iterator[Job]:
    """Yield what is done for an order alone: asking, testing a sample of it, placing it, taking it in."""
    yield came
    for ordered in came.after:
        yield ordered
        yield from (of for of in ordered.after if of.way == came.way and of.job != "test")
        yield from (of for of in ordered.after if of.way == came.way and of.what == SAMPLE)


# ---- what is taken ----------------------------------------------------------------------------------


def _takes(way: str, chores: Chores, jobs: Sequence[Job]) -> Iterator[Take]:
    """Yield what is taken of a way: what is still to be put on, and what goes into heaps."""
    for job in jobs:
        if job.stuff is not None and job.way == way and job.done is None:
            yield Take(job.day, job.left or 0.0)
    for name, doses in doses_by_way(chores.whole.together.parts).items():
        supply = chores.answer.supplies[name]
        if doses and supply.draws_on_others:
            built = [job for job in jobs if job.job == BUILD and job.way == name]
            share = sum(job.done is not None for job in built) / len(built) if built else 0.0
            for draw in supply.cost(draws_of(doses)).bought:
                if draw.way.name == way:
                    yield Take(draw.day, draw.loose * (1 - share), draw.loose * share)


def _lies_there(way: Buy, brought: Iterable[Job], jobs: Iterable[Job], site: Site, taken: float) -> Leftover:
    """Return what lies there of a way: what was left at the start and came since, less what was taken.

    What is ``taken`` [m3] is that by heaps, of which the history tells no amount.
    """
    entries = [of for of in site.done_by(way.name) if of.day >= site.start]
    came = [(of.day, of.loose) for of in entries if of.brought]
    for job in brought:
        if job.done is not None and not any(of.loose or of.ends for of in job.entries):
            came.append((job.done, job.loose or 0.0))
    there = Leftover.of(way)
    put_on = [of for job in jobs if job.stuff is not None and job.way == way.name for of in job.entries]
    taken += sum(of.loose for of in entries if takes(of)) + sum(of.loose for of in put_on if not of.way)
    loose = there.loose + sum(loose for _, loose in came) - taken
    return Leftover(max(0.0, loose), max((day for day, _ in came), default=there.day))
