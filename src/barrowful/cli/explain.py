"""``barrowful explain``: help on one key of the site file."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, output_options, take_output
from barrowful.cli.complete import keys
from barrowful.cli.files import put_text
from barrowful.measures.problems import WrongUse, did_you_mean

#: What is said of a key under its meaning, in this order.
WORDS = ("kind", "keys", "needed", "default", "source", "example")


@click.command("explain")
@click.argument("key", required=False, shell_complete=keys)
@output_options()
def command(key: str | None, **options: Any) -> int:
    """Say what a key of the site file means, its kind, limits, default and an example.

    \b
    Examples:
      barrowful explain collar
      barrowful explain ways.NAME.buy.price
    """
    from barrowful.sitefile.products.outline import find, lines
    from barrowful.tables.explain import EXPLAIN
    from barrowful.tables.report import Report

    output = take_output(options, None)
    found = list(lines()) if key is None else find(key)
    if not found:
        known = {line.field.key for line in lines()}
        raise WrongUse(f'"{key}" is not a key of the site file{did_you_mean(str(key), known)}')
    described = EXPLAIN.table(found)
    if output.form == "table" and key is not None:
        return _in_words(described.rows, output)
    return answer(Report("explain", "", "", [described]), output)


def _in_words(rows: list[dict[str, Any]], output: Any) -> int:
    """Write each key with what is said of it, as wide as the screen."""
    from barrowful.tables.writers.widths import wrapped

    blocks = []
    for row in rows:
        lines = [row["key"], *wrapped(row["meaning"], output.width, first="  ", rest="  ")]
        for word in WORDS:
            if row[word] or word == "needed":
                lines += wrapped(row[word], output.width, first=f"  {word + ':':<10}", rest=" " * 12)
        blocks.append("\n".join(lines))
    put_text("\n\n".join(blocks) + "\n", output.file)
    return 0
