"""The heaps among supplies, and as the history has built them since."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from barrowful.site.records import Site
from barrowful.supplies.heap.heap import Heap
from barrowful.supplies.supply import Supply


def heaps_of(supplies: Iterable[Supply[Any]]) -> list[Heap]:
    """Return those of some supplies that are heaps."""
    return [supply for supply in supplies if isinstance(supply, Heap)]


def heaps_as_built(supplies: Mapping[str, Supply[Any]], site: Site) -> dict[str, Heap]:
    """Return by name the heaps of which the history of a site has something built since its start."""
    since: dict[str, Heap] = {}
    for heap in heaps_of(supplies.values()):
        built = [entry for entry in site.done_by(heap.name) if entry.built and entry.day >= site.start]
        if built:
            since[heap.name] = heap.with_built(built)
    return since
