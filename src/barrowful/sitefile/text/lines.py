"""A few keys with their texts as a line of YAML, and documents compared: what has to be the same is."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping as Texts

from barrowful.measures.problems import WrongUse
from barrowful.sitefile.text.nodes import Document, Listing, Mapping, Node, Scalar

#: Nothing, as YAML writes it.
NOTHING = ("", "~", "null", "Null", "NULL")
#: Keys whose values are words, whatever they look like.
WORDS = {"place", "way", "job", "material", "note"}
_PLAIN = re.compile(r"[A-Za-z0-9.](?:[A-Za-z0-9 .%/_+-]*[A-Za-z0-9.%/_+-])?")
#: What other readers of YAML take for a number, a day, yes or no, or nothing.
_NO_WORD = re.compile(r"y|n|yes|no|on|off|true|false|null|[0-9.][0-9a-z_.+-]*", re.IGNORECASE)


def line_of(texts: Texts[str, str], as_json: bool = False) -> str:
    """Return keys and texts in braces, on one line, as YAML or as JSON.

    >>> line_of({"place": "Anna's bed", "way": "12", "date": "2027-04-10"})
    "{place: 'Anna''s bed', way: '12', date: 2027-04-10}"
    """
    if as_json:
        return json.dumps(dict(texts), ensure_ascii=False)
    return "{" + ", ".join(f"{key}: {_quoted(key, value)}" for key, value in texts.items()) + "}"


def _quoted(key: str, value: str) -> str:
    """Return a value that reads back as the same text inside braces."""
    if "\n" in value or "\r" in value:
        raise WrongUse(f'"{key}" has a line end in it; write it on one line')
    plain = _PLAIN.fullmatch(value) and not (key in WORDS and _NO_WORD.fullmatch(value))
    return value if plain else "'" + value.replace("'", "''") + "'"


def texts_of(node: Node) -> dict[str, str | None]:
    """Return a section's keys with their texts; nothing for what is no text."""
    entries = node.entries if isinstance(node, Mapping) else {}
    return {key: value.text if isinstance(value, Scalar) else None for key, (_, value) in entries.items()}


def alike(old: Node, new: Node) -> bool:
    """Say whether two nodes hold the same, wherever they stand; line ends at the end of a text are none."""
    if isinstance(old, Scalar):
        return isinstance(new, Scalar) and (
            old.text == new.text or old.text.rstrip("\n") == new.text.rstrip("\n")
        )
    if isinstance(old, Listing) and isinstance(new, Listing):
        return len(old.items) == len(new.items) and all(map(alike, old.items, new.items))
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        ours, its = old.entries, new.entries
        return list(ours) == list(its) and all(alike(ours[key][1], its[key][1]) for key in ours)
    return False


def alike_but(key: str, before: Document, after: Document) -> bool:
    """Say whether documents are alike but for what one key at the top has; a new one comes last."""
    old, new = before.top.entries, after.top.entries
    order = list(old) if key in old else [*old, key]
    return list(new) == order and all(alike(old[each][1], new[each][1]) for each in old if each != key)
