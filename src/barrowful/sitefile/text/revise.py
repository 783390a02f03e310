"""Values of a site file's own text written anew, added or taken out by their paths; the rest stays.

As with an entry of the history, what came of it is read back and compared: the file holds just what was to
be changed and is otherwise the same, or it is not written.
"""

from __future__ import annotations

from codecs import BOM_UTF8
from collections.abc import Mapping as Texts
from typing import Any

import yaml

from barrowful.measures.problems import NOWHERE, SiteProblems, WrongUse
from barrowful.sitefile.text.lines import alike, line_of
from barrowful.sitefile.text.nodes import Document, Listing, Mapping, Node, Scalar, parse
from barrowful.sitefile.text.page import OddShape, Page

#: Keys, and numbers of items from 0, from the top of the file to what is changed.
Path = tuple[str | int, ...]
#: What to write at each path; None takes a key or an item out.
Edits = Texts[Path, str | None]
#: A part of the text, from and to, and what goes there instead.
Change = tuple[int, int, str]


def revised(data: bytes, before: Document, edits: Edits) -> tuple[bytes, Document]:
    """Return a site file's bytes with edits made, and the document they hold.

    ``before`` is the document of the bytes. Raises :class:`WrongUse` where the shape is not known.

    >>> text = b"site: A\\nbeds:  # two\\n  - {name: one, new: true}\\n  - name: two\\n"
    >>> edits = {("beds", 0, "new"): None, ("beds", 1, "count"): "3", ("site",): "B"}
    >>> print(revised(text, parse(text, "x"), edits)[0].decode(), end="")
    site: B
    beds:  # two
      - {name: one}
      - name: two
        count: 3
    """
    mark = BOM_UTF8 if data.startswith(BOM_UTF8) else b""
    text = data.decode("utf-8-sig")
    try:
        new = mark + _Revision(text, before, edits).text().encode()
        after = parse(new, before.file)
    except (OddShape, SiteProblems):
        raise WrongUse(_by_hand(edits)) from None
    if after.problems or not alike(_expected(before.top, (), edits), after.top):
        raise WrongUse(_by_hand(edits))
    return new, after


def _by_hand(edits: Edits) -> str:
    told = "; ".join(
        f"{_told(path)}: {'leave out' if text is None else text}" for path, text in edits.items()
    )
    return f"the site file has an unusual shape, in which nothing was changed; by hand, change {told}"


def _told(path: Path) -> str:
    """Return a path as messages give it: items by their number from 1.

    >>> _told(("places", 0, "soil"))
    'places.1.soil'
    """
    return ".".join(str(step + 1) if isinstance(step, int) else step for step in path)


def _expected(node: Node, path: Path, edits: Edits) -> Node:
    """Return a node as it is to be after edits; new keys come last."""
    if path in edits:
        return Scalar(edits[path] or "", node.mark)
    if not any(edit[: len(path)] == path for edit in edits):
        return node
    if isinstance(node, Listing):
        kept = [number for number in range(len(node.items)) if edits.get((*path, number), "") is not None]
        return Listing([_expected(node.items[number], (*path, number), edits) for number in kept], node.mark)
    if not isinstance(node, Mapping):
        return node
    entries = {
        key: (mark, _expected(value, (*path, key), edits))
        for key, (mark, value) in node.entries.items()
        if edits.get((*path, key), "") is not None
    }
    for edit, text in edits.items():
        *above, key = edit
        if tuple(above) == path and isinstance(key, str) and text is not None and key not in entries:
            entries[key] = (NOWHERE, Scalar(text, NOWHERE))
    return Mapping(node.mark, entries)


class _Revision:
    """A site file's text and its parser's nodes, and what edits change in it."""

    def __init__(self, text: str, before: Document, edits: Edits) -> None:
        self.page, self.edits = Page(text, before.top.mark, ""), edits
        self.changes: list[Change] = []

    def text(self) -> str:
        """Return the text with all edits made."""
        loader: Any = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
        self._change(yaml.compose(self.page.text, Loader=loader), ())
        text = self.page.text
        for start, end, new in sorted(self.changes, reverse=True):
            text = text[:start] + new + text[end:]
        return text

    def _change(self, node: Any, path: Path) -> None:
        """Note the changes to a node and all below it."""
        if path in self.edits:
            self._write(node, path)
        elif isinstance(node, yaml.MappingNode) and self._has_edits(path):
            parts = {key.value: (key, value) for key, value in node.value}
            self._take_out(node, [(*parts[key], (*path, key)) for key in parts])
            self._add(node, path, parts)
            for key, (_, value) in parts.items():
                if self.edits.get((*path, key), "") is not None:
                    self._change(value, (*path, key))
        elif isinstance(node, yaml.SequenceNode) and self._has_edits(path):
            self._take_out(node, [(item, item, (*path, at)) for at, item in enumerate(node.value)])
            for number, item in enumerate(node.value):
                if self.edits.get((*path, number), "") is not None:
                    self._change(item, (*path, number))

    def _has_edits(self, path: Path) -> bool:
        return any(edit[: len(path)] == path for edit in self.edits)

    def _write(self, node: Any, path: Path) -> None:
        if not isinstance(node, yaml.ScalarNode):
            raise OddShape
        self.changes.append((node.start_mark.index, node.end_mark.index, self._pair(path).partition(": ")[2]))

    def _pair(self, path: Path) -> str:
        """Return a key and its new text as they are written."""
        return line_of({str(path[-1]): self.edits[path] or ""}, self.page.is_json)[1:-1]

    def _take_out(self, node: Any, parts: list[tuple[Any, Any, Path]]) -> None:
        """Note what takes parts out of a section or a list: each from its first node to its last."""
        goes = [self.edits.get(path, "") is None for _, _, path in parts]
        if not any(goes):
            return
        if all(goes):
            raise OddShape
        for number, (first, last, _) in enumerate(parts):
            if not goes[number]:
                continue
            later = parts[number + 1][0].start_mark.index if number + 1 < len(parts) else None
            if not node.flow_style:
                self._take_lines(first, last, later)
            elif not all(goes[:number]):
                self.changes.append((_end(parts[number - 1][1]), _end(last), ""))
            elif later is not None:
                self.changes.append((first.start_mark.index, later, ""))

    def _take_lines(self, first: Any, last: Any, later: int | None) -> None:
        """Note what takes the lines of a key or an item out; where a dash stands before a key it stays."""
        page, start = self.page, first.start_mark.index
        line = page.line_start(start)
        before = page.text[line:start].strip(" \t")
        if before == ("-" if first is last else ""):
            self.changes.append((line, page.next_line(_end(last)), ""))
        elif later is not None and first is not last:
            self.changes.append((start, later, ""))
        else:
            raise OddShape

    def _add(self, node: Any, path: Path, parts: Texts[str, Any]) -> None:
        """Note what adds keys to a section, below all it has."""
        new = [edit for edit, text in self.edits.items() if edit[:-1] == path and text is not None]
        pairs = [self._pair(edit) for edit in new if str(edit[-1]) not in parts]
        if not pairs:
            return
        if not node.value:
            raise OddShape
        kept = [value for key, value in node.value if self.edits.get((*path, key.value), "") is not None]
        if node.flow_style:
            at = _end(kept[-1])
            self.changes.append((at, at, "".join(f", {pair}" for pair in pairs)))
            return
        at = self.page.next_line(_end(node.value[-1][1]))
        pad, newline = " " * node.value[0][0].start_mark.column, self.page.newline
        ended = not at or self.page.text[at - 1] in "\r\n"
        lines = "".join(f"{pad}{pair}{newline}" for pair in pairs)
        self.changes.append((at, at, lines if ended else newline + lines))


def _end(node: Any) -> int:
    """Return where a node ends: of lines below each other, where the last of them does."""
    if isinstance(node, yaml.ScalarNode) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return _end(last[1] if isinstance(last, tuple) else last)
