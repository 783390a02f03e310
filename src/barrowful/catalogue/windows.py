"""When jobs are done: what bars them in the year, and when each is best, with sources."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any, NamedTuple

from barrowful.catalogue.figures import load


class Edge(NamedTuple):
    """An end of a span: weeks from a turn of the year, or a day of the north (month, day)."""

    turn: str = ""
    weeks: int = 0
    day: tuple[int, int] | None = None


class Span(NamedTuple):
    """Some time of each year, from an end to an end, both included."""

    first: Edge
    last: Edge


class Window(NamedTuple):
    """What bars jobs, or when they are best; without a span it holds wherever its condition does."""

    key: str
    bars: bool
    jobs: frozenset[str]
    condition: str
    spans: tuple[Span, ...]
    text: str
    source: str
    place: str
    grade: str


@cache
def windows() -> tuple[Window, ...]:
    """Return every window, in the order of the file.

    >>> [window.key for window in windows() if window.bars]
    ['frozen', 'wet', 'closed-sandy', 'closed', 'nesting']
    """
    return tuple(_window(entry) for entry in load("windows.toml")["window"])


@cache
def windows_of(jobs: tuple[str, ...]) -> tuple[Window, ...]:
    """Return the windows of jobs that are done together, those that bar them first."""
    of_job = [window for window in windows() if window.jobs.intersection(jobs)]
    return tuple(sorted(of_job, key=lambda window: not window.bars))


def _window(entry: Mapping[str, Any]) -> Window:
    spans = tuple(Span(_edge(span["from"]), _edge(span["to"])) for span in entry.get("spans", ()))
    return Window(**{**entry, "jobs": frozenset(entry["jobs"]), "spans": spans})


def _edge(typed: str | list[Any]) -> Edge:
    if isinstance(typed, str):
        month, day = typed.split("-")
        return Edge(day=(int(month), int(day)))
    turn, weeks = typed
    return Edge(turn=turn, weeks=weeks)
