"""``barrowful orders``: the order sheet."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, settable_site, take_output
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
@output_options()
def command(site: str | None, sets: tuple[str, ...], way: str, partial: bool, **options: Any) -> int:
    """What to order of whom by when, and who gets which part.

    Follows the plan in the file; without one, the cheapest way for each need.
    Example: barrowful orders mysite.yaml --way "yard compost"
    """
    from barrowful.reports.orders import orders as report

    output = take_output(options, site)
    loaded = load_site(site, sets)
    return answer(report(loaded, way=way, partial=partial, sources=output.shows_sources), output)
