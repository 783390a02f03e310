"""What a piece of YAML is to an editor: lists, sections, numbers, true and false, and else text."""

from __future__ import annotations

import json
import re
from typing import Any

from barrowful.sitefile.text.nodes import Listing, Mapping, Node, Scalar, parse

#: What JSON would hold as a number, or as true or false.
_JSON = re.compile(r"-?(0|[1-9][0-9]*)(\.[0-9]+)?|true|false")


def plain(text: str) -> Any:
    """Return the value of a sound piece of YAML as JSON would hold it.

    >>> plain("{area: 0.5 m2, months: [4, 5], dug: false}")
    {'area': '0.5 m2', 'months': [4, 5], 'dug': False}
    """
    return _value(parse(f"value: {text}".encode(), "an example").top.entries["value"][1])


def _value(node: Node) -> Any:
    if isinstance(node, Mapping):
        return {key: _value(value) for key, (_, value) in node.entries.items()}
    if isinstance(node, Listing):
        return [_value(item) for item in node.items]
    assert isinstance(node, Scalar)
    return json.loads(node.text) if _JSON.fullmatch(node.text) else node.text
