"""``barrowful begin``: a commented starter file."""

from __future__ import annotations

from pathlib import Path

import click

from barrowful.cli.files import PATH, change, check_no_backup, put_text
from barrowful.measures.problems import CannotReadWrite

#: The file that the first line of a starter names, beside it.
SCHEMA = "barrowful.schema.json"


@click.command("begin")
@click.option("-o", "--output", "file", default="-", type=PATH, help="File to write; - is standard output.")
@click.option(
    "--force", is_flag=True, help="Write over a file that is there already, which is kept as FILE.bak."
)
def command(file: str, force: bool) -> int:
    """Write a commented starter site file.

    Example: barrowful begin -o mysite.yaml
    """
    from barrowful.sitefile.products.starter import starter

    if file == "-":
        put_text(starter(), file)
        return 0
    if Path(file).exists() and not force:
        raise CannotReadWrite(f"{file} is there already; --force writes over it")
    check_no_backup(file)
    kept = ""
    if Path(file).is_file():
        kept = f" The file as it was is {change(file, lambda _: starter().encode())}."
    else:
        put_text(starter(), file)
    click.echo(f"Wrote {file}.{kept} Edit it, then: barrowful options {file}", err=True)
    schema = Path(file).with_name(SCHEMA)
    if not schema.exists():
        click.echo(f"For help and checks in an editor: barrowful schema -o {schema}", err=True)
    return 0
