"""``barrowful schema``: the JSON Schema of the site file, for editors."""

from __future__ import annotations

import click

from barrowful.cli.files import PATH, check_no_backup, put_text
from barrowful.cli.targets import check_targets


@click.command("schema")
@click.option("-o", "--output", "file", default="-", type=PATH, help="File to write; - is standard output.")
def command(file: str) -> int:
    """Write the JSON Schema of the site file: an editor completes keys by it and marks what is wrong.

    A starter of "begin" names barrowful.schema.json, which stands beside it.
    Example: barrowful schema -o barrowful.schema.json
    """
    from barrowful.sitefile.products.schema import text

    check_targets(None, {"-o": file})
    if file != "-":
        check_no_backup(file)
    put_text(text(), file)
    if file != "-":
        click.echo(f"Wrote {file}.", err=True)
    return 0
