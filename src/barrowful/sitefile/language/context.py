"""The reader's context: what is known of a file while it is read, and what was found wrong."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, NamedTuple, TypeVar

from barrowful.catalogue.materials import Material, material
from barrowful.catalogue.vocabulary import also_said
from barrowful.measures.problems import NOWHERE, Mark, ParseError, Problem, printable
from barrowful.measures.text import Measured, read_measure
from barrowful.sitefile.text.nodes import Node

Value = TypeVar("Value")

#: The codes of what is wrong with a unit.
OF_UNITS = frozenset({"ambiguous-unit", "unknown-unit"})

#: After so many problems no more hints are looked for; a flood of them must not take minutes.
MOST_HINTS = 50


class Section(dict[str, Any]):
    """A checked mapping of final values that remembers where it and each of its keys stood.

    ``path`` is the one that messages give, such as ``ways.yard compost.buy``. In one with something ``stray``
    there was a key that is none; ``unread`` are keys of which it is not known what they are to say.
    """

    __slots__ = ("mark", "marks", "path", "stray", "unread")

    def __init__(self, mark: Mark, path: str = "") -> None:
        super().__init__()
        self.mark = mark
        self.marks: dict[str, Mark] = {}
        self.path = path
        self.stray = False
        self.unread: frozenset[str] = frozenset()

    def place(self, key: str) -> Mark:
        """Return where a key's value stood, or where the section began."""
        return self.marks.get(key, self.mark)


class Reference(NamedTuple):
    """A name of something that the same file describes: a way, or a place."""

    of: str
    name: str
    mark: Mark
    path: str


class Reading(NamedTuple):
    """What a node was read as at a path, and what was noted on the way."""

    node: Node  #: kept, so that no other has its place in memory
    path: str
    value: Any
    warnings: Sequence[Problem]
    references: Sequence[Reference]


@dataclass(eq=False)
class ReadContext:
    """What a reader knows: the file's name, its currency, the grower's own measures and materials.

    ``references`` are names whose meaning is known only when the whole file is read. ``before`` is the
    context of a document that shares nodes with this one: those need not be read again.
    """

    file: str
    currency: str = ""
    measures: dict[str, Measured] = field(default_factory=dict)
    materials: dict[str, Material] = field(default_factory=dict)
    refused: set[str] = field(default_factory=set)  #: own materials and measures that are not sound
    references: list[Reference] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    warnings: list[Problem] = field(default_factory=list)
    before: ReadContext | None = None
    at_home: Callable[[str], str] | None = None  #: gives a hint in which sections a key stands
    readings: dict[int, Reading] = field(default_factory=dict)
    _measured: dict[tuple[str, tuple[str, ...]], Measured] = field(default_factory=dict)

    def problem(self, mark: Mark, code: str, message: str) -> None:
        """Note a problem."""
        self.problems.append(self._note(mark, code, message))

    def warning(self, mark: Mark, code: str, message: str) -> None:
        """Note a warning: sound, but unlikely to be meant."""
        if mark is not NOWHERE:
            self.warnings.append(self._note(mark, code, message))

    def _note(self, mark: Mark, code: str, message: str) -> Problem:
        return Problem(
            file=mark.source or self.file,
            line=mark.line,
            column=mark.column,
            code=code,
            message=printable(message),
        )

    def attempt(self, mark: Mark, path: str, read: Callable[[], Value]) -> Value | None:
        """Return what ``read`` gives, or note its complaint and return None."""
        try:
            return read()
        except ParseError as misread:
            self.problem(mark, misread.code, f"{path}: {misread}")
            return None

    def once(self, node: Node, path: str, read: Callable[[], Value]) -> Value:
        """Return what ``read`` gives for a node, or what it gave for it in the document before.

        A value may not be changed once it is read.
        """
        known = self.before.readings.get(id(node)) if self.before and self._means_the_same else None
        if known is None or known.path != path:
            warnings, references = len(self.warnings), len(self.references)
            value = read()
            known = Reading(node, path, value, self.warnings[warnings:], self.references[references:])
        else:
            self.warnings += known.warnings
            self.references += known.references
        self.readings[id(node)] = known
        given: Value = known.value
        return given

    @cached_property
    def _means_the_same(self) -> bool:
        """Say whether the currency, the grower's own measures and materials are those of before."""
        before = self.before
        return before is not None and (self.currency, self.measures, self.materials) == (
            before.currency,
            before.measures,
            before.materials,
        )

    def nearest(self, word: str, known: Iterable[str], sorts: bool = False) -> str:
        """Return a hint naming the known word most like another, or nothing in a flood of problems."""
        return also_said(word, known, sorts) if len(self.problems) < MOST_HINTS else ""

    def right_key(self, key: str, known: Iterable[str]) -> str:
        """Return a hint naming the known key most like another, else where that is a key."""
        hint = self.nearest(key, known)
        if hint or self.at_home is None or len(self.problems) >= MOST_HINTS:
            return hint
        return self.at_home(key)

    def measured(self, text: str, dimensions: tuple[str, ...]) -> Measured:
        """Return the measure a text is, or raise :class:`ParseError`; the same text is read once."""
        known = self._measured.get((text, dimensions))
        if known is None:
            known = self._measured[text, dimensions] = read_measure(text, dimensions, self.measures)
        return known

    def follows(self, code: str, text: str) -> bool:
        """Say whether what is wrong with a text follows from an own measure that is refused already."""
        words = self.refused and re.findall(r"[A-Za-z_]+", text)
        return code in OF_UNITS and not self.refused.isdisjoint(words)

    def own_volume(self, name: str) -> float | None:
        """Return the size [m3] of one of the grower's own measures, None where there is no such volume."""
        own = self.measures.get(name)
        return own.size if own is not None and own.dimension == "volume" else None

    def material(self, name: str) -> Material | None:
        """Return a material of the file or else of the catalogue; None when there is none of that name."""
        return self.materials.get(name) or material(name)
