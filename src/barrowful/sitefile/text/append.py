"""Appending one entry to the ``history`` of a site file's own text; nothing else is touched."""

from __future__ import annotations

import re
from typing import Any

import yaml

from barrowful.measures.problems import WrongUse
from barrowful.sitefile.text.nodes import Document, Listing, Scalar


def with_history(document: Document) -> Document:
    """Return a document in which a ``history`` key with nothing after it is an empty list."""
    entries = document.top.entries
    place, value = entries.get("history", (None, None))
    if place and isinstance(value, Scalar) and not value.text:
        entries["history"] = (place, Listing([], value.mark))
    return document


def append_history(text: str, entry: dict[str, str]) -> str:
    """Return a site file's text with an entry added at the end of its history.

    Comments, order and layout stay; line ends are those of the file.

    >>> append_history("site: A\\nhistory: []\\n", {"date": "2027-01-02", "place": "beds"})
    'site: A\\nhistory:\\n  - {date: 2027-01-02, place: beds}\\n'
    """
    newline = "\r\n" if "\r\n" in text else "\n"
    item = "{" + ", ".join(f"{key}: {_quoted(value)}" for key, value in entry.items()) + "}"
    found = _history(text)
    if found is None:
        whole = text if not text or text.endswith("\n") else text + newline
        return f"{whole}history:{newline}  - {item}{newline}"
    key, value = found
    if isinstance(value, yaml.SequenceNode) and not value.flow_style:
        return _after_block(text, value, item, newline)
    if isinstance(value, yaml.SequenceNode) and value.value:
        return _into_flow(text, value, item)
    return _for_empty(text, key, value, item, newline)


def _quoted(value: str) -> str:
    """Return a value that reads back as the same text inside a flow mapping."""
    plain = re.fullmatch(r"[A-Za-z0-9.][A-Za-z0-9 .%/_+-]*", value) and not value.endswith(" ")
    return value if plain else "'" + value.replace("'", "''") + "'"


def _history(text: str) -> tuple[Any, Any] | None:
    """Return the nodes of the top-level key ``history`` and its value."""
    top: Any = yaml.compose(text, Loader=yaml.BaseLoader)
    return next(((key, value) for key, value in top.value if key.value == "history"), None)


def _last_index(node: Any) -> int:
    """Return where a node's own text ends; a block's end mark lies beyond the blank lines after it."""
    if isinstance(node, yaml.ScalarNode) or node.flow_style or not node.value:
        return int(node.end_mark.index)
    last = node.value[-1]
    return _last_index(last[1] if isinstance(last, tuple) else last)


def _after_block(text: str, value: Any, item: str, newline: str) -> str:
    """Add an item under the last one of a block list."""
    at = text.find("\n", _last_index(value))
    at = len(text) if at < 0 else at + 1
    head = text[:at] if text[:at].endswith("\n") else text[:at] + newline
    return f"{head}{' ' * value.start_mark.column}- {item}{newline}{text[at:]}"


def _into_flow(text: str, value: Any, item: str) -> str:
    """Add an item at the end of a list in brackets."""
    close = value.end_mark.index - 1
    after = _last_index(value.value[-1])
    comma = "" if "," in text[after:close] else ","
    return f"{text[:after]}{comma} {item}{text[after:]}" if comma else f"{text[:close]}{item}{text[close:]}"


def _for_empty(text: str, key: Any, value: Any, item: str, newline: str) -> str:
    """Make a list of an empty value: ``[]``, or nothing at all."""
    colon = text.find(":", key.end_mark.index)
    empty = isinstance(value, yaml.SequenceNode) or (not value.value and value.style is None)
    if not empty or colon < 0:
        raise WrongUse('"history" in the site file is not a list')
    end = max(value.end_mark.index, colon + 1)
    line_end = text.find("\n", end)
    line_end = len(text) if line_end < 0 else line_end
    note = text[end:line_end].strip()
    pad = " " * (key.start_mark.column + 2)
    head = f"{text[: colon + 1]}{' ' + note if note else ''}"
    return f"{head}{newline}{pad}- {item}{newline}{text[line_end + 1 :]}"
