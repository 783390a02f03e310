"""Bytes to nodes: one streaming pass over YAML events, every scalar kept as text.

Anchors, aliases, tags, merge keys and duplicate keys are refused, and size, depth and the number
of events are capped before anything is built, so that a hostile file costs little.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, NoReturn

import yaml

from barrowful.measures.problems import NOWHERE, Mark, Problem, SiteProblems

MOST_BYTES = 16_000_000
MOST_EVENTS = 1_000_000
MOST_DEPTH = 40
MOST_SCALAR = 2_000
UNPRINTABLE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]")


@dataclass(slots=True)
class Scalar:
    """A piece of text."""

    text: str
    mark: Mark


@dataclass(slots=True)
class Listing:
    """A YAML sequence."""

    items: list[Node]
    mark: Mark


@dataclass(slots=True)
class Mapping:
    """A YAML mapping: key -> (place of the key, value)."""

    mark: Mark
    entries: dict[str, tuple[Mark, Node]] = field(default_factory=dict)


Node = Scalar | Listing | Mapping


class _Refused(Exception):
    def __init__(self, code: str, message: str, mark: Mark) -> None:
        self.problem = (code, message, mark)


@dataclass(slots=True)
class Document:
    """A file's name, its top mapping, and the duplicate keys met on the way."""

    file: str
    top: Mapping
    problems: list[Problem]


def parse(data: bytes, file: str) -> Document:
    """Return the document a site file holds; raise :class:`SiteProblems` if it is not YAML.

    >>> parse(b"site: Far Side", "x.yaml").top.entries["site"][1].text
    'Far Side'
    """
    try:
        builder = _Builder(_events(_decode(data)))
        top = builder.document()
    except _Refused as refused:
        code, message, mark = refused.problem
        raise SiteProblems([Problem(file, mark.line, mark.column, code, message)]) from None
    except yaml.YAMLError as error:
        raise SiteProblems([_reworded(error, file, data)]) from None
    duplicates = [
        Problem(file, mark.line, mark.column, "duplicate-key", message)
        for message, mark in builder.duplicates
    ]
    return Document(file, top, duplicates)


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
    found = UNPRINTABLE.search(text)
    if found and found.group() != "\r":
        line = text.count("\n", 0, found.start()) + 1
        column = found.start() - text.rfind("\n", 0, found.start())
        raise _Refused(
            "control-character",
            f"an invisible control character (U+{ord(found.group()):04X}) is not allowed here",
            Mark(line, column),
        )
    return text


def _events(text: str) -> Iterator[Any]:
    loader: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
    depth = 0
    for count, event in enumerate(yaml.parse(text, Loader=loader)):
        if count > MOST_EVENTS:
            raise _Refused("too-long", f"the file has more than {MOST_EVENTS:,} parts", _mark(event))
        if isinstance(event, yaml.CollectionStartEvent):
            depth += 1
            if depth > MOST_DEPTH:
                sentence = f"lists and sections nest deeper than {MOST_DEPTH}"
                raise _Refused("too-deep", sentence, _mark(event))
        elif isinstance(event, yaml.CollectionEndEvent):
            depth -= 1
        yield event


def _mark(event: Any) -> Mark:
    return Mark(event.start_mark.line + 1, event.start_mark.column + 1)


class _Builder:
    """Builds nodes from a checked stream of events."""

    def __init__(self, events: Iterator[Any]) -> None:
        self.events = events
        self.duplicates: list[tuple[str, Mark]] = []

    def document(self) -> Mapping:
        documents = 0
        top: Node | None = None
        for event in self.events:
            if isinstance(event, yaml.DocumentStartEvent):
                documents += 1
                if documents > 1:
                    raise _Refused(
                        "two-documents", 'a "---" starts a second document; keep one', _mark(event)
                    )
            elif isinstance(event, yaml.NodeEvent):
                top = self.node(event)
        if top is None or (isinstance(top, Scalar) and not top.text):
            raise _Refused("empty", "the file is empty; 'barrowful begin' writes a starter", NOWHERE)
        if not isinstance(top, Mapping):
            raise _Refused("not-a-section", 'the file must be "key: value" lines', top.mark)
        return top

    def node(self, event: Any) -> Node:
        mark = _mark(event)
        if isinstance(event, yaml.AliasEvent) or event.anchor is not None or event.tag is not None:
            _refuse_special(event, mark)
        if isinstance(event, yaml.ScalarEvent):
            if len(event.value) > MOST_SCALAR:
                raise _Refused("too-long", f"this text is longer than {MOST_SCALAR} letters", mark)
            return Scalar(event.value, mark)
        if isinstance(event, yaml.SequenceStartEvent):
            items: list[Node] = []
            while not isinstance(inner := next(self.events), yaml.SequenceEndEvent):
                items.append(self.node(inner))
            return Listing(items, mark)
        return self.mapping(mark)

    def mapping(self, mark: Mark) -> Mapping:
        found = Mapping(mark)
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self.node(event)
            value = self.node(next(self.events))
            if not isinstance(key, Scalar):
                raise _Refused("key-not-text", "a key must be a word", key.mark)
            if key.text == "<<":
                raise _Refused("merge-key", '"<<" merges are not allowed; repeat the lines', key.mark)
            if key.text in found.entries:
                first = found.entries[key.text][0].line
                self.duplicates.append(
                    (f'"{key.text[:40]}" stands here and on line {first}; keep one', key.mark)
                )
            else:
                found.entries[key.text] = (key.mark, value)
        return found


def _refuse_special(event: Any, mark: Mark) -> NoReturn:
    if isinstance(event, yaml.AliasEvent):
        raise _Refused("alias", 'an alias ("*name") is not allowed; repeat the value', mark)
    if event.anchor is not None:
        raise _Refused("anchor", 'an anchor ("&name") is not allowed; leave it out', mark)
    raise _Refused("tag", f'the tag "{event.tag[:40]}" is not allowed; leave it out', mark)


_SENTENCES = (
    ("\\t", "a tab was used to indent; use spaces"),
    ("tab", "a tab was used to indent; use spaces"),
    ("mapping values are not allowed", 'a second ":" stands on this line; quote the text'),
    ("did not find expected key", "the indentation does not line up with the lines above"),
    ("could not find expected ':'", 'a ":" is missing after the key'),
    ("did not find expected ',' or", "a bracket or brace is not closed, or a comma is missing"),
    ("did not find expected '-'", 'a list item must start with "- " in line with the others'),
    ("cannot start any token", "this character must stand in quotes"),
    ("unexpected end of stream", "a quote or bracket is not closed"),
    ("end of stream", "a quote or bracket is not closed"),
    ("expected node content", "a value is missing, or a bracket or brace is not closed"),
    ("depth", "lists and sections nest too deep"),
    ("control characters", "an invisible control character is not allowed here"),
)


def _reworded(error: yaml.YAMLError, file: str, data: bytes) -> Problem:
    """Return a problem in plain words for what the YAML parser could not take."""
    said = f"{getattr(error, 'problem', '')} {getattr(error, 'context', '')} {error}"
    place = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    sentence = next((plain for word, plain in _SENTENCES if word in said), "this is not valid YAML")
    line, column = (place.line + 1, place.column + 1) if place else (0, 0)
    line = min(line, max(1, len(data.splitlines())))
    return Problem(file, line, column, "not-yaml", sentence)
