"""The commented starter file, made from the description: live lines to edit, the rest as comments."""

from __future__ import annotations

from importlib.resources import files

from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.products.outline import inner
from barrowful.sitefile.text.nodes import Listing, Mapping, Node, Scalar, parse


def starter() -> str:
    """Return the starter file's text; it loads without problems.

    ``starter.txt`` is its head, ``starter.yaml`` what stands live in it.
    """
    folder = files("barrowful.sitefile.products")
    head = folder.joinpath("starter.txt").read_text(encoding="utf-8")
    live = parse(folder.joinpath("starter.yaml").read_bytes(), "starter.yaml").top
    return head + "\n" + "\n".join(_lines(SITE, live, "", comments=True)) + "\n"


def _lines(group: Group, live: Mapping, pad: str, comments: bool) -> list[str]:
    """Return a group's lines: live keys with their help, other keys as comments where wanted."""
    lines: list[str] = []
    choices = {key for keys in group.one_of for key in keys}
    for field in group.fields:
        if field.key in live.entries:
            lines += _live(field, live.entries[field.key][1], pad, comments)
        elif comments and field.key not in choices:
            lines.append(f"{pad}# {field.key}: {field.example}   # {field.help}")
    return lines


def _live(field: Field, value: Node, pad: str, comments: bool) -> list[str]:
    """Return the lines of a key that stands live."""
    note = f"   # {field.help}" if comments else ""
    if isinstance(value, Scalar):
        return [f"{pad}{field.key}: {value.text or field.example}{note}"]
    return [f"{pad}{field.key}:{note}", *_below(field.kind, value, pad, comments)]


def _below(kind: Kind, value: Node, pad: str, comments: bool) -> list[str]:
    """Return the lines of a section, or of a list of sections, of which the first carries the comments."""
    group, _ = inner(kind)
    assert group is not None
    if isinstance(value, Mapping):
        return _lines(group, value, pad + "  ", comments)
    assert isinstance(value, Listing)
    lines: list[str] = []
    for index, item in enumerate(value.items):
        assert isinstance(item, Mapping)
        body = _lines(group, item, pad + "    ", comments and index == 0)
        first = next(i for i, line in enumerate(body) if not line.lstrip().startswith("#"))
        body[first] = f"{pad}  - {body[first].lstrip()}"
        lines += body
    return lines
