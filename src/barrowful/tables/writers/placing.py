"""Labels on a picture: a free place beside a point for each, or none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

#: Where a label may be from its point, across and down, the best first.
DIRECTIONS = ((1, 0), (1, -1), (1, 1), (0, -1), (0, 1), (-1, 0), (-1, 1), (-1, -1))
#: Across and down; how wide and how high [px].
Spot = tuple[float, float]
Size = tuple[float, float]


class Box(NamedTuple):
    """What something covers of a picture, from the top left [px]."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: Box) -> bool:
        """Say whether two boxes have a part in common."""
        across = self.left < other.right and other.left < self.right
        return across and self.top < other.bottom and other.top < self.bottom

    def is_within(self, other: Box) -> bool:
        """Say whether all of it lies in another."""
        across = other.left <= self.left and self.right <= other.right
        return across and other.top <= self.top and self.bottom <= other.bottom

    def widened(self, by: float) -> Box:
        """Return the box with so much more on every side."""
        return Box(self.left - by, self.top - by, self.right + by, self.bottom + by)


class Room:
    """The room of a frame for labels: all but what is near the spots of others, and labels that are there.

    Lines may be crossed where nothing else is free.
    """

    def __init__(self, frame: Box, spots: Iterable[Spot], clear: float, lines: Iterable[Box]) -> None:
        self.frame, self.lines = frame, tuple(lines)
        self.near = {(x, y): Box(x, y, x, y).widened(clear) for x, y in spots}
        self.labels: list[Box] = []

    def take(self, size: Size, spot: Spot, gaps: Iterable[float], may_cross: bool = False) -> Box | None:
        """Take the best free box of a size beside a spot, on a line only if it may; nothing if none is free.

        >>> room = Room(Box(0, 0, 100, 100), [(5, 50)], 8, [])
        >>> room.take((40, 10), (5, 50), [4])
        Box(left=9, top=45.0, right=49, bottom=55.0)
        >>> room.take((40, 8), (5, 50), [5])
        Box(left=10, top=37, right=50, bottom=45)
        """
        boxes = [box for gap in gaps for box in _candidates(size, spot, gap)]
        obstacles = self._obstacles(spot, boxes)
        free = [box for box in boxes if box.is_within(self.frame) and not any(map(box.meets, obstacles))]
        clear = (box for box in free if not any(map(box.meets, self.lines)))
        taken = next(clear, free[0] if may_cross and free else None)
        self.labels += [taken] if taken else []
        return taken

    def _obstacles(self, spot: Spot, boxes: Sequence[Box]) -> list[Box]:
        """Return what may be in the way of a label of a spot in one of some boxes."""
        left, top, right, bottom = zip(*boxes, strict=True)
        reach = Box(min(left), min(top), max(right), max(bottom))
        near = [box for other, box in self.near.items() if other != spot]
        return [box for box in (*near, *self.labels) if box.meets(reach)]


def _candidates(size: Size, spot: Spot, gap: float) -> Iterator[Box]:
    """Yield boxes around a spot, the best first: beside it, above and below it, at its corners."""
    (width, height), (x, y) = size, spot
    sides = {-1: x - gap - width, 0: x - width / 2, 1: x + gap}
    levels = {-1: y - gap - height, 0: y - height / 2, 1: y + gap}
    for side, level in DIRECTIONS:
        yield Box(sides[side], levels[level], sides[side] + width, levels[level] + height)
