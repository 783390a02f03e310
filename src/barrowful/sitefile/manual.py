"""The reference page of the site file, made from the description."""

from __future__ import annotations

from collections.abc import Iterator

from barrowful.sitefile.containers import Field, Group
from barrowful.sitefile.kinds import Choice
from barrowful.sitefile.outline import inner
from barrowful.sitefile.whole import SITE

HEAD = """# The site file

This page is generated from the description the reader itself uses; do not edit it.

A site file is YAML. Quantities are text, a number and a unit: `9 m`, `640 kg/m3`, `4 %`. The decimal
sign is a point. A bare number is right only where this page says so. Quantities are for one of
`count` equal places; `history` amounts are totals. Wherever one measure stands,
`{low: .., likely: .., high: ..}` may stand too. Names must differ to the eye, not only in a letter that
cannot be seen. A file has at most 16 MB.
"""


def page() -> str:
    """Return the whole page as Markdown."""
    sections = [_section(path, group) for path, group in groups(SITE, "")]
    return HEAD + "\n" + "\n".join(sections)


def groups(group: Group, path: str) -> Iterator[tuple[str, Group]]:
    """Yield each group once with its path, outermost first."""
    yield path, group
    for field in group.fields:
        below, between = inner(field.kind)
        if below is not None:
            here = f"{path}.{field.key}" if path else field.key
            yield from groups(below, here + between)


def _section(path: str, group: Group) -> str:
    title = f"## {group.title}" + (f" (`{path}`)" if path else "")
    rules = [f"Exactly one of {_names(keys)}." for keys in group.one_of]
    rules += [f"At least one of {_names(group.some_of)}."] if group.some_of else []
    head = "| key | what | kind | default | example |\n| --- | --- | --- | --- | --- |"
    rows = [
        f"| `{field.key}`{' (needed)' if field.required else ''} | {_cell(field.help)} "
        f"| {_cell(kind_words(field))} | {_default(field)} | `{_cell(field.example)}` |"
        for field in group.fields
    ]
    return "\n".join([title, "", *(f"{rule}\n" for rule in rules), head, *rows, ""])


def _names(keys: tuple[str, ...]) -> str:
    return ", ".join(f"`{key}`" for key in keys)


def _cell(text: str) -> str:
    return text.replace("|", "\\|")


def _default(field: Field) -> str:
    return f"`{field.default}`" if field.default else ""


def kind_words(field: Field) -> str:
    """Return the words for a field's kind and limits."""
    kind = field.kind
    words = kind.name
    least, most = getattr(kind, "least", ""), getattr(kind, "most", "")
    if isinstance(least, str) and isinstance(most, str) and (least or most) and not isinstance(kind, Choice):
        words += f"; {least or 'more than nothing'} to {most}" if most else f"; from {least}"
    return words
