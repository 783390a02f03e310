"""What keys of a section are to each other, as JSON Schema has it, where the site is what asks it.

The reader of a site says it in its own words; here it is said to editors.
"""

from __future__ import annotations

from typing import Any

Rule = dict[str, Any]


def at_most_one(*keys: str) -> Rule:
    """Return the rule that of some keys no two stand together."""
    pairs = [[first, second] for place, first in enumerate(keys) for second in keys[place + 1 :]]
    return {"not": {"anyOf": [{"required": pair} for pair in pairs]}}


def asks_for(key: str, *others: str) -> Rule:
    """Return the rule that one key asks for at least one of some others."""
    return {"if": {"required": [key]}, "then": {"anyOf": [{"required": [other]} for other in others]}}


def text_asks_for(key: str, pattern: str, other: str) -> Rule:
    """Return the rule that a text of a pattern behind a key asks for another key."""
    return {"if": _holds(key, {"type": "string", "pattern": pattern}), "then": {"required": [other]}}


def switched_on_bars(key: str, *others: str) -> Rule:
    """Return the rule that a switch, where it is on, leaves no room for some other keys."""
    on = {"enum": [True, "true", "yes", "True", "Yes"]}
    return {"if": _holds(key, on), "then": {"not": {"anyOf": [{"required": [other]} for other in others]}}}


def _holds(key: str, value: Rule) -> Rule:
    return {"required": [key], "properties": {key: value}}
