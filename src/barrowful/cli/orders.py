"""``barrowful orders``: the order sheet."""

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
from barrowful.cli.complete import ways


@click.command("orders")
@settable_site
@click.option(
    "--way",
    default="",
    metavar="NAME",
    shell_complete=ways,
    help="Order everything this way can serve from it.",
)
@click.option(
    "--partial", is_flag=True, help="Order too what goes part of the way, where a need cannot be met."
)
@click.option("--all", "every", is_flag=True, help="Order for the whole horizon, not twelve months alone.")
@range_options
@output_options()
def command(
    site: str | None, sets: tuple[str, ...], way: str, partial: bool, every: bool, **options: Any
) -> int:
    """What to order of whom by when, what to ask, what it costs, and who gets which part.

    Follows the plan in the file; without one, the cheapest way for each need. Shows what is to be ordered
    in the first twelve months.
    Example: barrowful orders mysite.yaml --way "yard compost"
    """
    from barrowful.reports.orders import orders as report

    output, asked = take_output(options, site), take_ranges(options)
    loaded = load_site(site, sets)
    found = report(loaded, way=way, partial=partial, every=every, sources=output.shows_sources, asked=asked)
    return answer(found, output)
