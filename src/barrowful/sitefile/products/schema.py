"""The JSON Schema (draft-07) of the site file, made from the description, for editors."""

from __future__ import annotations

import json
from typing import Any

from barrowful.sitefile.keys.site import SITE


def schema() -> dict[str, Any]:
    """Return the schema; an editor that knows it completes keys and explains them."""
    return {
        "$schema": "http://json-schema.org/draft-07/schema#",
        "title": "barrowful site file",
        **SITE.json,
    }


def text() -> str:
    """Return the schema as JSON text."""
    return json.dumps(schema(), indent=1, ensure_ascii=False) + "\n"
