"""``barrowful sizes``: what each place and need comes to."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, site_argument, take_output


@click.command("sizes")
@site_argument
@output_options()
def command(site: str | None, **options: Any) -> int:
    """Area, depth, volume, mass and barrows for each place and need.

    The material is that of the first way in the file that can serve the need.
    Example: barrowful sizes mysite.yaml --format csv > sizes.csv
    """
    from barrowful.tables.sizes import size_tables

    output = take_output(options, site)
    loaded = load_site(site)
    first_only = output.form in {"csv", "tsv"} and output.table in {"", "sizes"}
    tables, sentences = size_tables(loaded.site, every_way=not first_only)
    return answer(report_of("sizes", loaded, tables, sentences=sentences), output)
