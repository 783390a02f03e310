"""How far a raise that is not met gets: on the day it is due, or while it is to be held from then on.

Days are day numbers here.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from datetime import date
from typing import NamedTuple

from barrowful.needs.decision import Judged
from barrowful.needs.raise_later import ready_day
from barrowful.needs.raise_search import months_between
from barrowful.needs.raise_task import Pulses, RaiseTask


class Reach(NamedTuple):
    """How far doses get: share of what is missing on the day that counts, and how long they hold the target.

    What is reached on the day it is due counts on the worst day on which it is to be held.
    """

    share: float
    day: int
    reached: bool  #: on the day it is due
    until: int | None = None  #: last day on which it is held, None where it is not reached or held to the end


def reach(task: RaiseTask, doses: Pulses, due: int) -> Reach:
    """Return how far doses get that do not meet a task by the day it is due.

    It is looked at on that day, on each first of a month and on the last day it is to be held.
    """
    if not task.holds(doses, due):
        return Reach(_share(task, doses, due), due, reached=False)
    last = task.held_to(due)
    days = [due, *months_between(due, last), last]
    worst = min(days, key=lambda day: _share(task, doses, day))
    return Reach(_share(task, doses, worst), worst, reached=True, until=_held_until(task, doses, days))


def _share(task: RaiseTask, doses: Pulses, day: int) -> float:
    """Return the share of what is missing on a day that doses make."""
    missing = task.missing(day)
    return min(1.0, task.made(doses, day) / missing) if missing > 0 else 1.0


def _held_until(task: RaiseTask, doses: Pulses, days: Sequence[int]) -> int | None:
    """Return the last day before the target no longer holds, of days the first of which it holds on."""
    fails = next((index for index, day in enumerate(days) if not task.holds(doses, day)), None)
    if fails is None:
        return None
    span = range(days[fails - 1], days[fails])
    return span[0] + bisect_left(span, True, key=lambda day: not task.holds(doses, day)) - 1


def why_not_held(task: RaiseTask, doses: Pulses, due: int, far: Reach) -> str:
    """Return that a target is reached on the day it is due and not held, as far as doses get, or nothing."""
    if not far.reached:
        return ""
    last = date.fromordinal(task.held_to(due))
    if far.until is None:
        return f"reached by {date.fromordinal(due)}, but not held to {last}"
    level = f"{task.matter(doses, far.day):.1%} on {date.fromordinal(far.day)}"
    held = f"held only to {date.fromordinal(far.until)}, not to {last}"
    return f"reached by {date.fromordinal(due)}, but {held}: {level}"


def judged(before: RaiseTask, after: RaiseTask, due: date) -> Judged:
    """Return how far doses get that a task counts as past, beside what it was before them.

    What is reached on the day it is due counts on the worst day on which it is to be held.
    """
    first, last = due.toordinal(), before.held_to(due.toordinal())
    shares = {day: _made_good(before, after, day) for day in (first, *months_between(first, last), last)}
    day = first if shares[first] < 1 else min(shares, key=lambda day: shares[day])
    if shares[day] >= 1:
        dosed = [(dose.day, 0.0) for dose in after.past]  # what they make counts as past
        ready = date.fromordinal(max(before.begin, ready_day(after, dosed, first)))
        return Judged(1.0, ready_on=ready, first_to=ready)
    held = "" if day == first else "not held: "
    return Judged(shares[day], f"{held}{after.matter([], day):.1%} on {date.fromordinal(day)}")


def _made_good(before: RaiseTask, after: RaiseTask, day: int) -> float:
    """Return the share of what was missing on a day that is there after all."""
    missing = before.missing(day)
    short = after.missing(day)
    return 1.0 if short <= 1e-6 * before.utmost else 1 - short / missing


def too_late(by: date | None) -> str:
    """Return the words for a raise that is met too late: after its date, or without one after a year."""
    return "too late" if by else "not within a year of the first dose"
