"""Write the generated pages of docs/ and the packaged sample; --check compares instead."""

from __future__ import annotations

import os
import sys
import tempfile
from pathlib import Path
from typing import Any

import catalogue
import factors
import judged
import validation
from click.testing import CliRunner

from barrowful.cli.main import cli
from barrowful.sitefile.products import manual, schema
from barrowful.tables.cells import heading
from barrowful.tables.columns import Column
from barrowful.tables.layout import Layout
from barrowful.tables.registry import TABLES
from barrowful.tables.writers.sheet import NOTE

ROOT = Path(__file__).resolve().parent.parent
#: The demo site that comes with the package.
SAMPLE = ROOT / "demo" / "crooked-ladle-orchard.yaml"


COLUMNS = """# Columns

This page is generated from the descriptions that fill the tables: every key of every table of every
command. Keys are stable; columns may be added, never renamed. Machine formats (csv, tsv, json) hold every
column, always in the units given here; people see the columns with a heading (in `plain` all of them),
with `--measures customary` in yards, feet and pounds. Columns with nothing in them are left out of what
people see. A table on a screen is fitted to its width: what a column holds in every row is said under the
table, remarks are numbered notes there, and so are the names of columns that have no room.

| kind | json | csv and tsv |
| --- | --- | --- |
| text | a string | the text; an apostrophe goes before what a spreadsheet would run as a formula |
| number | a number in the unit given, to ten digits | the same number |
| money | a number in the site's currency | the same number |
| date | a string, YYYY-MM-DD | YYYY-MM-DD |
| flag | true or false | true or false |
| count | a whole number | the same number |

What is absent is null in json and empty in csv and tsv. csv and tsv hold one table: the first of a
command, or the one `--table NAME` names; `--help` lists them. A table without rows has its columns all the
same. `place`, `way`, `need` and `material` hold the same names in every table, which
[files for machines](machines.md) shows how to join.

## Ranges

With `--ranges` some columns of `options`, `sizes`, `orders` and `course` have three more beside them, of
their kind and unit: `KEY_10`, `KEY_50` and `KEY_90` are what `KEY` is no more than in one, five and nine of
ten draws. `KEY` itself stays what it likely is, by the likely figures, and is rarely just `KEY_50`. They are
empty where `KEY` is. [Ranges](method.md#ranges) says what is drawn.

## JSON

`--format json` gives one object:

| key | holds |
| --- | --- |
| `format_version` | 1, until a key here changes its meaning |
| `command` | the command |
| `site` | the site's name; empty where no site is read |
| `currency` | the currency of all money, such as EUR; empty where no site is read |
| `catalogue_version` | the version of the catalogue of figures, such as 2026.11 |
| `tables` | a list of tables, each with `name`, `columns` and `rows` |
| `sentences` | a list of sentences: the answer first, then what else is said of the tables |
| `cautions` | a list of cautions, each with `key`, `severity` (5 is gravest), `text` and `source` |
| `warnings` | a list of sentences |

`columns` is a list with `key`, `unit` (null where there is none; the currency for money) and `meaning` of
each; `rows` is a list of objects with every key of the columns, in their order. `check` gives an object
with `format_version`, `command`, `version` (of barrowful), `catalogue_version`, `problems` and `warnings`,
both lists of the rows below. `log`, `begin` and `schema` have no tables; `report` has
those of other commands, on a page for people.
"""


def columns_page() -> str:
    """Return the page of every key of every table of every command."""
    links = "\n".join(f"- [{command}](#{command})" for command in TABLES)
    body = "".join(
        f"\n## {command}\n" + "".join(table_section(layout) for layout in layouts)
        for command, layouts in TABLES.items()
    )
    return f"{COLUMNS}\nCommands with tables:\n\n{links}\n{body}"


def table_section(layout: Layout[Any]) -> str:
    """Return what is said of one table: when it is there, what identifies a row, and its columns."""
    there = f"Rows only {layout.appears}. " if layout.appears else ""
    keys = ", ".join(f"`{key}`" for key in layout.identifies)
    apart = f"A row is identified by {keys}" + (f"; not always: {layout.repeats}." if layout.repeats else ".")
    people = "" if layout.for_people else " People do not see the table."
    rows = "".join(column_line(layout, column) for column in layout.columns)
    head = "| key | kind | unit | meaning | heading for people |\n| --- | --- | --- | --- | --- |\n"
    further = f"{layout.further}\n\n" if layout.further else ""
    if layout.ranged:
        keys = ", ".join(f"`{key}`" for key in layout.ranged)
        further += f"With `--ranges` these have `KEY_10`, `KEY_50` and `KEY_90` beside them: {keys}.\n\n"
    return f"\n### `{layout.name}`\n\n{there}{apart}{people}\n\n{further}{head}{rows}"


def column_line(layout: Layout[Any], column: Column[Any]) -> str:
    """Return the line of one column."""
    unit = "currency" if column.kind == "money" else column.unit
    seen = layout.for_people and (not layout.shown or column.key in layout.shown)
    words = NOTE if column.key in layout.noted else heading(column, "metric", "currency")
    shown = words if seen else ""
    return f"| `{column.key}` | {column.kind} | {unit} | {column.meaning} | {shown} |\n"


def picture() -> str:
    """Return the picture that README shows, as the command that stands under it there draws it."""
    site = ROOT / "demo" / "tin-comet-ground.yaml"
    with tempfile.TemporaryDirectory() as folder:
        drawn = Path(folder) / "course.svg"
        words = ["course", str(site), "--way", "poultry compost", "--years", "10", "--chart", str(drawn)]
        CliRunner().invoke(cli, words, catch_exceptions=False)
        return drawn.read_text("utf-8")


def wanted() -> dict[Path, str]:
    """Return every generated file with its text."""
    return {
        ROOT / "docs" / "site-file.md": manual.page(),
        ROOT / "docs" / "site.schema.json": schema.text(),
        ROOT / "docs" / "columns.md": columns_page(),
        ROOT / "docs" / "validation.md": validation.page(),
        ROOT / "docs" / "judged.md": judged.page(),
        ROOT / "docs" / "course.svg": picture(),
        factors.PATH: factors.text(),
        catalogue.PATH: catalogue.text(),
        ROOT / "src" / "barrowful" / "sample.yaml": SAMPLE.read_text("utf-8"),
    }


def main() -> int:
    """Write or check the files; return 1 when a check fails.

    All else goes by the catalogue as it is read: where that is stale it is written, and all begins anew.
    """
    stale = []
    if "--check" not in sys.argv and catalogue.PATH.read_text("utf-8") != catalogue.text():
        catalogue.PATH.write_text(catalogue.text(), "utf-8")
        os.execv(sys.executable, [sys.executable, *sys.argv])
    for path, text in wanted().items():
        if "--check" in sys.argv:
            if not path.exists() or path.read_text("utf-8") != text:
                stale.append(path)
        else:
            path.write_text(text, "utf-8")
    for path in stale:
        print(f"{path.relative_to(ROOT)} is stale: run python docs/generate.py")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
