"""``barrowful sizes``: what each place and need comes to."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import (
    answer,
    load_site,
    output_options,
    range_options,
    settable_site,
    take_output,
    take_ranges,
)


@click.command("sizes")
@settable_site
@range_options
@output_options()
def command(site: str | None, sets: tuple[str, ...], **options: Any) -> int:
    """Area, depth, volume, mass and barrows for each place and need.

    The material is that of the first way in the file that can serve the need.
    Example: barrowful sizes mysite.yaml --format csv > sizes.csv
    """
    from barrowful.reports.sizes import sizes as report

    output, asked = take_output(options, site), take_ranges(options)
    loaded = load_site(site, sets)
    return answer(report(loaded, by_way=not output.only("sizes"), asked=asked), output)
