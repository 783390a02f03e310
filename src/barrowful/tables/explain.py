"""The table of keys: what each key of the site file means, its kind, default and an example."""

from __future__ import annotations

from barrowful.sitefile.products.manual import kind_words
from barrowful.sitefile.products.outline import Line, inner
from barrowful.tables.columns import text
from barrowful.tables.layout import Layout


def _keys(line: Line) -> str | None:
    """Return the keys of the section a key leads to."""
    group, _ = inner(line.field.kind)
    return ", ".join(field.key for field in group.fields) if group else None


EXPLAIN: Layout[Line] = Layout(
    name="explain",
    identifies=("key",),
    shown=("key", "meaning", "default", "example"),
    columns=(
        text("key", "key", "Where the key stands in the site file.", lambda line: line.path),
        text("meaning", "meaning", "What the key means.", lambda line: line.field.help),
        text("kind", "kind", "What the key takes.", lambda line: kind_words(line.field)),
        text("keys", "keys", "The keys of the section it leads to.", _keys),
        text(
            "needed",
            "needed",
            "Must it be there? yes or no.",
            lambda line: "yes" if line.field.required else "no",
        ),
        text(
            "default", "default", "What holds when it is left out.", lambda line: line.field.default or None
        ),
        text(
            "example",
            "example",
            "The key as it may be written.",
            lambda line: f"{line.field.key}: {line.field.example}",
        ),
        text(
            "source",
            "source",
            "Where its default is from.",
            lambda line: line.field.source or None,
        ),
    ),
)
