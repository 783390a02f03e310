"""``barrowful begin``: a commented starter file."""

from __future__ import annotations

from pathlib import Path

import click

from barrowful.cli.files import PATH, put_text
from barrowful.measures.problems import CannotReadWrite


@click.command("begin")
@click.option("-o", "--output", "file", default="-", type=PATH,
              help="File to write; - is standard output.")  # fmt: skip
@click.option("--force", is_flag=True, help="Write over a file that is there already.")
def command(file: str, force: bool) -> int:
    """Write a commented starter site file.

    Example: barrowful begin -o mysite.yaml
    """
    from barrowful.sitefile.starter import starter

    if file != "-" and Path(file).exists() and not force:
        raise CannotReadWrite(f"{file} is there already; --force writes over it")
    put_text(starter(), file)
    if file != "-":
        click.echo(f"Wrote {file}. Edit it, then: barrowful options {file}", err=True)
    return 0
