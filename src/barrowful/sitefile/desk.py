"""The reader's desk: where problems and warnings are collected while a file is read."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import TypeVar

from barrowful.measures.problems import NOWHERE, Mark, Misread, Problem, nearest, seen
from barrowful.measures.text import read_measure
from barrowful.measures.units import Quantity

Value = TypeVar("Value")

#: After so many problems no more hints are looked for; a flood of them must not take minutes.
MOST_HINTS = 50


class Section(dict[str, object]):
    """A checked mapping that remembers where it and each of its keys stood."""

    __slots__ = ("mark", "marks")

    def __init__(self, mark: Mark) -> None:
        super().__init__()
        self.mark = mark
        self.marks: dict[str, Mark] = {}

    def place(self, key: str) -> Mark:
        """Return where a key's value stood, or where the section began."""
        return self.marks.get(key, self.mark)


@dataclass
class Desk:
    """What a reader knows: the file's name, the grower's own measures and currency.

    ``known`` holds measures that were read already, for a history says "2 barrow" again and again.
    """

    file: str
    own: dict[str, Quantity] = field(default_factory=dict)
    currency: str = ""
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    known: dict[tuple[str, tuple[str, ...]], tuple[Quantity, float, str]] = field(default_factory=dict)

    def problem(self, mark: Mark, code: str, message: str) -> None:
        """Note a problem."""
        self.problems.append(Problem(self.file, mark.line, mark.column, code, seen(message)))

    def warning(self, mark: Mark, code: str, message: str) -> None:
        """Note a warning: sound, but unlikely to be meant."""
        if mark is not NOWHERE:
            self.warnings.append(Problem(self.file, mark.line, mark.column, code, seen(message)))

    def nearest(self, word: str, known: Iterable[str]) -> str:
        """Return a hint naming the known word most like one, or nothing in a flood of problems."""
        return nearest(word, known) if len(self.problems) < MOST_HINTS else ""

    def attempt(self, mark: Mark, path: str, read: Callable[[], Value]) -> Value | None:
        """Return what ``read`` gives, or note its complaint and return None."""
        try:
            return read()
        except Misread as misread:
            self.problem(mark, misread.code, f"{path}: {misread}")
            return None

    def measure(self, text: str, dimensions: tuple[str, ...]) -> tuple[Quantity, float, str]:
        """Return a quantity, its magnitude in SI and its dimension, or raise :class:`Misread`."""
        read = self.known.get((text, dimensions))
        if read is None:
            read = self.known[text, dimensions] = read_measure(text, dimensions, self.own)
        return read
