"""Bytes to nodes: one streaming pass over YAML events, every scalar kept as text.

Anchors, aliases, tags, merge keys and duplicate keys are refused, and size, depth and the number
of parts are capped while they are built, so that a hostile file costs little.
"""

from __future__ import annotations

import gc
import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import Any

import yaml

from barrowful.measures.problems import NOWHERE, UNSEEN, Mark, Problem, SiteProblems, printable

MOST_BYTES = 16_000_000
MOST_NODES = 1_000_000
MOST_DEPTH = 40
MOST_SCALAR = 2_000
#: A file with more anchors, aliases, tags and the like than this is refused for them alone.
MOST_NOTES = 20
_TOO_DEEP = f"lists and sections nest deeper than {MOST_DEPTH}"


@dataclass(slots=True, eq=False)
class Scalar:
    """A piece of text."""

    text: str
    mark: Mark


@dataclass(slots=True, eq=False)
class Listing:
    """A YAML sequence."""

    items: list[Node]
    mark: Mark


@dataclass(slots=True, eq=False)
class Mapping:
    """A YAML mapping: key -> (place of the key, value); one that is ``merged`` was to have more, refused."""

    mark: Mark
    entries: dict[str, tuple[Mark, Node]] = field(default_factory=dict)
    merged: bool = False


@dataclass(slots=True, eq=False)
class Refused:
    """Something that is told already, such as an alias; nothing more is said of it."""

    mark: Mark


Node = Scalar | Listing | Mapping | Refused


class _Enough(Exception):
    """So much is refused already that nothing else need be said."""


class _Refused(Exception):
    def __init__(self, code: str, message: str, mark: Mark) -> None:
        self.note = (code, message, mark)


@dataclass(slots=True, eq=False)
class Document:
    """A file's name, its top mapping, and what was refused on the way."""

    file: str
    top: Mapping
    problems: list[Problem]


def parse(data: bytes, file: str) -> Document:
    """Return the document a site file holds; raise :class:`SiteProblems` if it is not YAML.

    >>> parse(b"site: Far Side", "x.yaml").top.entries["site"][1].text
    'Far Side'
    """
    notes: list[tuple[str, str, Mark]] = []
    top = Mapping(NOWHERE)
    try:
        with _no_collecting():
            top = _Builder(_decode(data), notes).document()
    except _Enough:
        raise SiteProblems(_problems(notes, file)) from None
    except _Refused as refused:
        raise SiteProblems(_problems([refused.note], file)) from None
    except yaml.YAMLError as error:
        raise SiteProblems([_reworded(error, file, data)]) from None
    return Document(file, top, _problems(notes, file))


@contextmanager
def _no_collecting() -> Iterator[None]:
    """Pause the collector while many small nodes are made, none of which can be garbage yet."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _problems(notes: list[tuple[str, str, Mark]], file: str) -> list[Problem]:
    return [Problem(file, mark.line, mark.column, code, printable(message)) for code, message, mark in notes]


def _decode(data: bytes) -> str:
    if len(data) > MOST_BYTES:
        raise _Refused("too-large", f"the file is larger than {MOST_BYTES // 1_000_000} MB", NOWHERE)
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _Refused(
            "not-utf-8",
            "the file is not UTF-8 text here; save it as UTF-8 in your editor",
            Mark(line, 1),
        ) from None
    found = _UNSEEN_RAW.search(text)
    if found:
        before = _LINE_ENDS.split(text[: found.start()])
        mark = Mark(len(before), len(before[-1]) + 1)
        raise _Refused("control-character", _unseen(found.group()), mark)
    return text


_LINE_ENDS = re.compile(r"\r\n|\n|\r")
#: What a file may not hold as it is: unseen letters other than tabs and line ends.
_UNSEEN_RAW = re.compile(r"(?![\t\n\r])" + UNSEEN.pattern)


def _unseen(letter: str) -> str:
    return f"an invisible control character (U+{ord(letter):04X}) is not allowed here"


class _Builder:
    """Builds nodes from the parser's events, counting as it goes."""

    def __init__(self, text: str, notes: list[tuple[str, str, Mark]]) -> None:
        loader: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
        self.get_event = loader(text).get_event
        self.left = MOST_NODES
        self.depth = 0
        self.notes = notes

    def document(self) -> Mapping:
        """Return the top mapping of the one document there may be."""
        documents = 0
        top: Node | None = None
        while not isinstance(event := self.get_event(), yaml.StreamEndEvent):
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    sentence = 'a "---" starts a second document; keep one'
                    raise _Refused("two-documents", sentence, self.mark(event))
            elif isinstance(event, yaml.NodeEvent):
                top = self.node(event)
        if top is None or (isinstance(top, Scalar) and not top.text):
            raise _Refused("empty", "the file is empty; 'barrowful begin' writes a starter", NOWHERE)
        if not isinstance(top, Mapping):
            raise _Refused("not-a-section", 'the file must be "key: value" lines', top.mark)
        return top

    @staticmethod
    def mark(event: Any) -> Mark:
        """Return where an event starts."""
        start = event.start_mark
        return Mark(start.line + 1, start.column + 1)

    def node(self, event: Any) -> Node:
        """Return the node an event starts."""
        mark = self.mark(event)
        self.left -= 1
        if self.left < 0:
            raise _Refused("too-long", f"the file has more than {MOST_NODES:,} parts", mark)
        if event.anchor is not None or event.tag is not None:  # an alias has an anchor too
            self._note_special(event, mark)
        if isinstance(event, yaml.ScalarEvent):
            value = event.value
            if len(value) > MOST_SCALAR or not value.isprintable():
                self._check_text(value, mark)
            return Scalar(value, mark)
        if isinstance(event, yaml.AliasEvent):
            return Refused(mark)
        self.depth += 1
        if self.depth > MOST_DEPTH:
            raise _Refused("too-deep", _TOO_DEEP, mark)
        found = self.listing(mark) if isinstance(event, yaml.SequenceStartEvent) else self.mapping(mark)
        self.depth -= 1
        return found

    def _check_text(self, value: str, mark: Mark) -> None:
        """Refuse a piece of text that is too long, and note one that hides something."""
        if len(value) > MOST_SCALAR:
            raise _Refused("too-long", f"this text is longer than {MOST_SCALAR} letters", mark)
        if hidden := _UNSEEN_RAW.search(value):
            self.notes.append(("control-character", _unseen(hidden.group()), mark))

    def listing(self, mark: Mark) -> Listing:
        """Return a list."""
        items: list[Node] = []
        get_event = self.get_event
        while not isinstance(inner := get_event(), yaml.SequenceEndEvent):
            items.append(self.node(inner))
        return Listing(items, mark)

    def _note_special(self, event: Any, mark: Mark) -> None:
        """Note an alias, anchor or tag; the value is read all the same, so other faults show too."""
        if len(self.notes) >= MOST_NOTES:
            raise _Enough
        if isinstance(event, yaml.AliasEvent):
            self.notes.append(("alias", 'an alias ("*name") is not allowed; repeat the value', mark))
            return
        if event.anchor is not None:
            self.notes.append(("anchor", 'an anchor ("&name") is not allowed; leave it out', mark))
        if event.tag is not None:
            sentence = f'the tag "{event.tag[:40]}" is not allowed; leave it out'
            self.notes.append(("tag", sentence, mark))

    def mapping(self, mark: Mark) -> Mapping:
        """Return a mapping; keys are text, and each stands once."""
        found = Mapping(mark)
        entries, get_event = found.entries, self.get_event
        while not isinstance(event := get_event(), yaml.MappingEndEvent):
            key = self.node(event)
            value = self.node(get_event())
            if not isinstance(key, Scalar):
                raise _Refused("key-not-text", "a key must be a word", key.mark)
            if key.text == "<<":
                found.merged = True
                self.notes.append(("merge-key", '"<<" merges are not allowed; repeat the lines', key.mark))
            elif key.text in entries:
                first = entries[key.text][0].line
                sentence = f'"{key.text[:40]}" stands here and on line {first}; keep one'
                self.notes.append(("duplicate-key", sentence, key.mark))
            else:
                entries[key.text] = (key.mark, value)
        return found


_TAB = "this line starts with a tab; indent with spaces"
_SENTENCES = (
    ("mapping values are not allowed", 'a second ":" stands on this line; quote the text'),
    ("did not find expected key", "the indentation does not line up with the lines above"),
    ("could not find expected ':'", 'a ":" is missing after the key'),
    ("did not find expected ',' or", "a bracket or brace is not closed, or a comma is missing"),
    ("did not find expected '-'", 'a list item must start with "- " in line with the others'),
    ("tab character that violates", _TAB),
    ("cannot start any token", "this character must stand in quotes"),
    ("unexpected end of stream", "a quote or bracket is not closed"),
    ("end of stream", "a quote or bracket is not closed"),
    ("expected node content", "a value is missing, or a bracket or brace is not closed"),
    ("nesting depth", _TOO_DEEP),
    ("control characters", "an invisible control character is not allowed here"),
)


def _reworded(error: yaml.YAMLError, file: str, data: bytes) -> Problem:
    """Return a problem in plain words for what the YAML parser could not take."""
    said = f"{getattr(error, 'problem', '')} {getattr(error, 'context', '')} {error}"
    place = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    sentence = next((plain for word, plain in _SENTENCES if word in said), "this is not valid YAML")
    line, column = (place.line + 1, place.column + 1) if place else (0, 0)
    if "cannot start any token" in said and _has_tab(data, line):
        sentence = _TAB
    line = min(line, max(1, len(data.splitlines())))
    return Problem(file, line, column, "too-deep" if sentence == _TOO_DEEP else "not-yaml", sentence)


def _has_tab(data: bytes, line: int) -> bool:
    """Say whether a tab stands before the text of a line."""
    lines = _LINE_ENDS.split(data.decode("utf-8", "replace"))
    text = lines[line - 1] if 0 < line <= len(lines) else ""
    return "\t" in text[: len(text) - len(text.lstrip(" \t-"))]
