"""``barrowful ledger``: nutrients brought in, fixed, moved, harvested and lost."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import WAY_OPTION, answer, load_site, output_options, settable_site, take_output


@click.command("ledger")
@settable_site
@WAY_OPTION
@output_options()
def command(site: str | None, sets: tuple[str, ...], way: str, **options: Any) -> int:
    """Nutrients brought in, fixed from the air, moved within the site, harvested and lost.

    Follows the plan in the file; without one, the cheapest way for each need. Only bought-in stuff and
    the fixed share of a legume are new to the site; comfrey and the like move what is there already.
    What was done stands under it, as your history has it, with its hours and money.
    Example: barrowful ledger mysite.yaml --format csv > ledger.csv
    """
    from barrowful.reports.ledger import ledger as report

    output = take_output(options, site)
    loaded = load_site(site, sets)
    return answer(report(loaded, way=way, sources=output.shows_sources), output)
