"""The JSON Schema (draft-07) of the site file, made from the description, for editors."""

from __future__ import annotations

import json
import re
from typing import Any

from barrowful.sitefile.keys.site import SITE


def schema() -> dict[str, Any]:
    """Return the schema; an editor that knows it completes keys, explains them, and marks what is wrong."""
    shared: dict[str, dict[str, Any]] = {}
    site = _with_shared(SITE.json, shared)
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        **site,
        "title": "barrowful site file",
        "definitions": shared,
    }


def text() -> str:
    """Return the schema as JSON text."""
    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"


def _with_shared(node: Any, shared: dict[str, dict[str, Any]]) -> Any:
    """Return a schema with each sort of text described once, in ``shared``, and named where it stands."""
    if isinstance(node, list):
        return [_with_shared(inner, shared) for inner in node]
    if not isinstance(node, dict):
        return node
    told = {key: value for key, value in node.items() if key in {"type", "pattern", "patternErrorMessage"}}
    if "patternErrorMessage" not in told:
        return {key: _with_shared(value, shared) for key, value in node.items()}
    reference = {"$ref": f"#/definitions/{_name(told, shared)}"}
    rest = {key: value for key, value in node.items() if key not in told}
    return {"allOf": [reference], **rest} if rest else reference


def _name(told: dict[str, Any], shared: dict[str, dict[str, Any]]) -> str:
    """Return the name of a sort of text, of which there may be several that are told alike."""
    known = next((name for name, other in shared.items() if other == told), None)
    if known is not None:
        return known
    words = re.sub(r"[^a-z]+", "-", told["patternErrorMessage"].split(" such ")[0].lower()).strip("-")
    alike = sum(name.rpartition("-")[0] == words for name in shared)
    shared[f"{words}-{alike + 1}"] = told
    return f"{words}-{alike + 1}"
