"""A site file's text as a page on which nodes are found, and what goes into one of its lists can be put."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cached_property
from typing import Any

import yaml

from barrowful.measures.fixed import fixed
from barrowful.measures.problems import Mark, WrongUse
from barrowful.sitefile.text.nodes import Listing, Mapping

LINE_END = re.compile(r"\r\n|\n|\r")
_LINE_END_OR_STOP = re.compile(r"\r\n|\n|\r|\Z")
#: What may stand between the parts of a list in brackets: blanks, line ends and comments.
_GAP = re.compile(r"(?:[ \t\r\n]+|#[^\r\n]*)*")
#: The end mark of a document, at the start of a line.
_END_MARK = re.compile(r"(?:(?<=[\r\n])|\A)\.\.\.(?=\s|\Z)")
NULL = re.compile(r"~|null\b", re.IGNORECASE)


class OddShape(Exception):
    """The text does not stand as its nodes say it should, or not in a shape known here."""


@fixed(kw_only=False, eq=True)
class Page:
    """A site file's text, the mark of its top mapping, and the key there whose list is to be written to."""

    text: str
    top: Mark
    key: str

    @cached_property
    def starts(self) -> list[int]:
        """Return where each line starts."""
        return [0, *(end.end() for end in LINE_END.finditer(self.text))]

    @cached_property
    def newline(self) -> str:
        """Return the line end the file uses."""
        used = LINE_END.search(self.text)
        return used.group() if used else "\n"

    @property
    def is_json(self) -> bool:
        """Say whether the file is written as JSON, which is YAML too: braces, and keys in double quotes."""
        return self.in_braces and self.text[_past(self.text, self.at(self.top) + 1) :].startswith('"')

    @property
    def in_braces(self) -> bool:
        """Say whether the whole file is one section in braces."""
        return self.text[self.at(self.top)] == "{"

    def at(self, mark: Mark) -> int:
        """Return the index of a mark."""
        return self.starts[mark.line - 1] + mark.column - 1

    def line_start(self, index: int) -> int:
        """Return where the line of an index starts."""
        return 1 + max(self.text.rfind("\n", 0, index), self.text.rfind("\r", 0, index))

    def line_stop(self, index: int) -> int:
        """Return where the line of an index stops, before its line end."""
        stop = _LINE_END_OR_STOP.search(self.text, index)
        assert stop is not None
        return stop.start()

    def next_line(self, index: int) -> int:
        """Return where the next line starts, or the index itself where it starts a line already."""
        if index and self.text[index - 1] in "\r\n":
            return index
        stop = _LINE_END_OR_STOP.search(self.text, index)
        assert stop is not None
        return stop.end()

    def with_lines(self, index: int, *lines: str) -> str:
        """Return the text with lines put in where a line starts; the line before is ended if need be."""
        head = self.text[:index]
        end = "" if not head or head[-1] in "\r\n" else self.newline
        return head + end + "".join(line + self.newline for line in lines) + self.text[index:]

    @property
    def _key(self) -> str:
        return f'"{self.key}"' if self.is_json else self.key

    def with_entry(self, top: Mapping, item: str) -> str:
        """Return the text with an item added to the list."""
        if self.key not in top.entries:
            return self._with_key(top, item)
        key, there = top.entries[self.key]
        if not isinstance(there, Listing):
            raise WrongUse(f'"{self.key}" in the site file is not a list')
        start = self.at(there.mark)
        in_brackets = self.text[start : start + 1] == "["
        if not there.items:
            return self._first(key, start, in_brackets, item)
        last = self.at(there.items[-1].mark)
        if in_brackets:
            return self._into_brackets(self._end_of(last), last, item)
        if self.text[start : start + 1] != "-":
            raise OddShape
        column = there.items[-1].mark.column - 1
        below = self.next_line(self._end_of(last, column))
        return self.with_lines(below, f"{' ' * (there.mark.column - 1)}- {item}")

    def _with_key(self, top: Mapping, *items: str) -> str:
        """Add the key with its first items: below all there is, or as the last key in braces."""
        if not top.entries:
            raise OddShape
        key, value = list(top.entries.values())[-1]
        if self.in_braces:
            after = self._end_of(self.at(value.mark))
            return self._into_brackets(after, self.at(key), f"{self._key}: [{', '.join(items)}]")
        end = _END_MARK.search(self.text, self.at(key))
        pad = " " * (top.mark.column - 1)
        lines = (f"{pad}{self._key}:", *(f"{pad}  - {item}" for item in items))
        return self.with_lines(end.start() if end else len(self.text), *lines)

    def _end_of(self, start: int, column: int | None = None) -> int:
        """Return where a node ends that starts at an index, in brackets or at a column of a block.

        Only the text from there on is read, so a long history costs nothing.
        """
        before = "[\n" if column is None else " " * column
        opened, around, end = [False], 2 if column is None else 1, 0
        for event in _events(before + self.text[start:]):
            ends_here = isinstance(event, yaml.ScalarEvent)
            if isinstance(event, yaml.CollectionStartEvent):
                opened.append(bool(event.flow_style))
            elif isinstance(event, yaml.CollectionEndEvent):
                ends_here = opened.pop()
            if ends_here:
                end = event.end_mark.index
            if end and len(opened) == around:
                return start + int(end) - len(before)
        raise OddShape

    def _into_brackets(self, after: int, start: int, item: str) -> str:
        """Add an item behind the last one, which stands from ``start`` to ``after``."""
        text, close = self.text, _past(self.text, after)
        comma = text[close : close + 1] == ","
        close = _past(text, close + 1) if comma else close
        if text[close : close + 1] not in ("]", "}"):
            raise OddShape
        line = self.line_start(close)
        if line > after and not text[line:close].strip():  # the bracket stands on a line of its own
            lead = text[self.line_start(start) : start]
            pad = text[line:close] + "  " if lead.strip() else lead
            whole = Page(text[:after] + ("" if comma else ",") + text[after:], self.top, self.key)
            return whole.with_lines(line + (not comma), pad + item)
        if comma:
            return f"{text[:close]}{'' if text[close - 1].isspace() else ' '}{item}{text[close:]}"
        return f"{text[:after]}, {item}{text[after:]}"

    def _first(self, key: Mark, start: int, in_brackets: bool, item: str) -> str:
        """Add the first item, in the place of an empty list or of nothing."""
        text, end = self.text, start
        if in_brackets:
            end = _past(text, start + 1) + 1
            if text[end - 1 : end] != "]":
                raise OddShape
            if self.in_braces or "#" in text[start:end]:
                return self._into_empty(start, end - 1, item)
        elif word := NULL.match(text, start):
            end = word.end()
        if self.in_braces and start < end:
            return f"{text[:start]}[{item}]{text[end:]}"
        if self.in_braces:
            return self._behind_key(key, f"[{item}]")
        return self._first_below(key, start, end, item)

    def _behind_key(self, key: Mark, value: str) -> str:
        """Add a list in brackets behind a key that has nothing, and perhaps no colon."""
        written = re.compile(rf"([\"']?){self.key}\1").match(self.text, self.at(key))
        if written is None:
            raise OddShape
        colon = _past(self.text, written.end())
        if self.text[colon : colon + 1] == ":":
            return f"{self.text[: colon + 1]} {value}{self.text[colon + 1 :]}"
        return f"{self.text[: written.end()]}: {value}{self.text[written.end() :]}"

    def _dashed(self, column: int, items: Sequence[str]) -> str:
        """Return items below each other behind dashes; the first stands at the column already."""
        return f"{self.newline}{' ' * column}".join(f"- {item}" for item in items)

    def _first_below(self, key: Mark, start: int, end: int, *items: str) -> str:
        """Add the first items of a block list: under the key, or where nothing had a line to itself."""
        text, stop = self.text, self.line_stop(end)
        if start < end and re.fullmatch(r"[ \t]*(:[ \t]+)?", text[self.line_start(start) : start]):
            return text[:start] + self._dashed(start - self.line_start(start), items) + text[end:]
        head = text[:start].rstrip(" \t") + text[end:stop].rstrip(" \t")
        below = f"{self.newline}{' ' * (key.column + 1)}{self._dashed(key.column + 1, items)}"
        return f"{head}{below}{text[stop:] or self.newline}"

    def _into_empty(self, start: int, close: int, item: str) -> str:
        """Add the first item between brackets."""
        line = self.line_start(close)
        if line > start:
            return self.with_lines(line, f"{self.text[line:close]}  {item}")
        return f"{self.text[:close]}{item}{self.text[close:]}"


def _events(text: str) -> Iterator[Any]:
    """Yield the parser's events for a text, as far as it is YAML by itself."""
    reader: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)(text)
    try:
        while not isinstance(event := reader.get_event(), yaml.StreamEndEvent):
            yield event
    except yaml.YAMLError:
        raise OddShape from None


def _past(text: str, index: int) -> int:
    """Return where blanks, line ends and comments end that start at an index."""
    gap = _GAP.match(text, index)
    assert gap is not None
    return gap.end()
