"""``barrowful options``: the main job."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, settable_site, take_output


@click.command("options")
@settable_site
@click.option(
    "--by",
    type=click.Choice(["way", "place"]),
    default="way",
    show_default=True,
    help="A row for each way, or for each way and place.",
)
@output_options()
def command(site: str | None, sets: tuple[str, ...], by: str, **options: Any) -> int:
    """Each way applied to the needs it can serve: order, cash, hours, waiting and result.

    Example: barrowful options mysite.yaml --measures customary
    """
    from barrowful.reports.options import options as report

    output = take_output(options, site)
    loaded = load_site(site, sets)
    return answer(report(loaded, by_place=by == "place", sources=output.shows_sources), output)
