"""``barrowful explain``: help on one key of the site file."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, output_options, take_output
from barrowful.cli.files import put_text
from barrowful.measures.problems import WrongUse, nearest


@click.command("explain")
@click.argument("key", required=False)
@output_options()
def command(key: str | None, **options: Any) -> int:
    """Say what a key of the site file means, its kind, limits, default and an example.

    \b
    Examples:
      barrowful explain collar
      barrowful explain ways.NAME.buy.price
    """
    from barrowful.sitefile.manual import kind_words
    from barrowful.sitefile.outline import find, lines
    from barrowful.tables.columns import Column
    from barrowful.tables.report import Report, table

    output = take_output(options, None)
    found = list(lines()) if key is None else find(key)
    if not found:
        known = {line.field.key for line in lines()}
        raise WrongUse(f'"{key}" is not a key of the site file{nearest(str(key), known)}')
    keys = ("key", "meaning", "kind", "keys", "needed", "default", "example", "source")
    columns = [Column(name, "text", name, f"The key's {name}.") for name in keys]
    rows: list[dict[str, Any]] = [
        {
            "key": line.path, "meaning": line.field.help, "kind": kind_words(line.field),
            "needed": "yes" if line.field.required else "no", "default": line.field.default or None,
            "keys": _keys(line.field.kind),
            "example": f"{line.field.key}: {line.field.example}", "source": line.field.source or None,
        }
        for line in found
    ]  # fmt: skip
    if output.form == "table" and key is not None:
        return _in_words(rows, output)
    shown = ("key", "meaning", "default", "example")
    return answer(Report("explain", "", "", [table("explain", keys, rows, shown, extra=columns)]), output)


def _keys(kind: Any) -> str | None:
    """Return the keys of the section a key leads to."""
    from barrowful.sitefile.outline import inner

    group, _ = inner(kind)
    return ", ".join(field.key for field in group.fields) if group else None


def _in_words(rows: list[dict[str, Any]], output: Any) -> int:
    blocks = []
    for row in rows:
        lines = [f"{row['key']}", f"  {row['meaning']}", f"  kind:     {row['kind']}"]
        lines += [f"  keys:     {row['keys']}"] if row["keys"] else []
        lines += [f"  needed:   {row['needed']}"]
        lines += [f"  default:  {row['default']}"] if row["default"] else []
        lines += [f"  source:   {row['source']}"] if row["source"] else []
        lines += [f"  example:  {row['example']}"]
        blocks.append("\n".join(lines))
    put_text("\n\n".join(blocks) + "\n", output.file)
    return 0
