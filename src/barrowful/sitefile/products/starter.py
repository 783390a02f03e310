"""The commented starter file, made from the description: live lines to edit, the rest as comments."""

from __future__ import annotations

from typing import Any

from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.containers import Group
from barrowful.sitefile.products.outline import inner

HEAD = """# A starter site file for barrowful: change the values, then run
#   barrowful check THISFILE      and      barrowful options THISFILE
# A line that starts with "# " and a key shows another key you may use there.
# Quantities are a number and a unit: 9 m, 80 L, 4 %. Use a decimal point.
"""

#: What stands live in the starter. A tuple lists items of a list; None takes the field's example.
LIVE: dict[str, Any] = {
    "site": "My ground",
    "currency": None,
    "start": None,
    "horizon": None,
    "hemisphere": None,
    "climate": {"annual_mean": "10 degC"},
    "soil": {"organic_matter": None, "bulk_density": None, "clay": "20 %"},
    "measures": None,
    "labour": {"push": None},
    "places": (
        {
            "name": "vegetable beds", "kind": "bed", "shape": {"rectangle": "[6 m, 1.2 m]"}, "count": "3",
            "needs": ({"raise": {"organic_matter": "3 %", "depth": None, "by": "2029-03-01"}},),
        },
        {
            "name": "young trees", "kind": "tree", "shape": {"ring": {"radius": "80 cm", "collar": None}},
            "count": "6", "needs": ({"cover": {"depth": "8 cm"}},),
        },
    ),
    "ways": (
        {
            "name": "bought compost",
            "buy": dict.fromkeys(("material", "price", "step", "minimum", "delivery", "lead")),
        },
        {
            "name": "tree chip",
            "buy": {"material": "arborist chip", "price": "60 EUR/load", "load": "6 m3", "lead": "5 weeks"},
        },
        {
            "name": "my heap",
            "make": {
                "bays": "2", "bay": None, "turn_every": None,
                "from": (
                    {"way": "tree chip"},
                    {"material": "grass clippings", "weekly": "80 L", "months": None},
                    {"material": "kitchen waste", "weekly": "8 kg"},
                ),
            },
        },
        {"name": "comfrey patch", "grow": {"plant": None, "start_with": None, "area": None}},
    ),
}  # fmt: skip


def starter() -> str:
    """Return the starter file's text; it loads without problems."""
    return HEAD + "\n" + "\n".join(_lines(SITE, LIVE, "", comments=True)) + "\n"


def _lines(group: Group, live: dict[str, Any], pad: str, comments: bool) -> list[str]:
    """Return a group's lines: live keys with their help, other keys as comments where wanted."""
    found: list[str] = []
    taken = {key for keys in group.one_of for key in keys} if group.one_of else set()
    for field in group.fields:
        if field.key not in live:
            if comments and field.key not in taken:
                found.append(f"{pad}# {field.key}: {field.example}   # {field.help}")
            continue
        value = live[field.key]
        if isinstance(value, dict | tuple):
            note = f"   # {field.help}" if comments else ""
            found.append(f"{pad}{field.key}:{note}")
            found += _below(field.kind, value, pad, comments)
        else:
            note = f"   # {field.help}" if comments else ""
            found.append(f"{pad}{field.key}: {value if value is not None else field.example}{note}")
    return found


def _below(kind: Any, value: Any, pad: str, comments: bool) -> list[str]:
    group, _ = inner(kind)
    assert group is not None
    if isinstance(value, dict):
        return _lines(group, value, pad + "  ", comments)
    found: list[str] = []
    for index, item in enumerate(value):
        body = _lines(group, item, pad + "    ", comments and index == 0)
        first = next(i for i, line in enumerate(body) if not line.lstrip().startswith("#"))
        body[first] = f"{pad}  - {body[first].lstrip()}"
        found += body
    return found
