"""``barrowful sizes``: what each place and need comes to."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, settable_site, take_output


@click.command("sizes")
@settable_site
@output_options()
def command(site: str | None, sets: tuple[str, ...], **options: Any) -> int:
    """Area, depth, volume, mass and barrows for each place and need.

    The material is that of the first way in the file that can serve the need.
    Example: barrowful sizes mysite.yaml --format csv > sizes.csv
    """
    from barrowful.answers.sizes import sizes, sizes_by_way, unserved
    from barrowful.tables.by_way import BY_WAY
    from barrowful.tables.sizes import SIZES

    output = take_output(options, site)
    loaded = load_site(site, sets)
    if loaded.site.ways and not output.only(SIZES.name):
        rows, by_way = sizes_by_way(loaded.site)
        tables = [SIZES.table(rows), BY_WAY.table(by_way)]
    else:
        rows = sizes(loaded.site)
        tables = [SIZES.table(rows)]
    return answer(report_of("sizes", loaded, tables, sentences=unserved(rows)), output)
