"""``barrowful whatif``: the options again with some values changed."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, settable_site, take_output
from barrowful.cli.complete import paths
from barrowful.measures.problems import WrongUse


@click.command("whatif")
@settable_site
@click.option(
    "--case",
    "cases",
    multiple=True,
    metavar="NAME:PATH=VALUE",
    help="Change a value in a case of its own; repeat for more values or cases.",
)
@click.option(
    "--vary",
    multiple=True,
    metavar="PATH=A..B:N",
    shell_complete=paths,
    help="N cases, from A to B in equal steps.",
)
@output_options()
def command(
    site: str | None, sets: tuple[str, ...], cases: tuple[str, ...], vary: tuple[str, ...], **options: Any
) -> int:
    """Print the options of the file and of each changed case, with the differences.

    \b
    Examples:
      barrowful whatif mysite.yaml --set "places.young plums.count=14"
      barrowful whatif mysite.yaml --vary "ways.yard compost.buy.price=40..60 EUR/m3:5"
    """
    from barrowful.reports.whatif import whatif as report
    from barrowful.sitefile.text.cases import cases_of

    output = take_output(options, site)
    wanted = cases_of(sets, cases, vary)
    if not wanted:
        raise WrongUse('say what to change, e.g. --set "places.young plums.count=14"')
    return answer(report(load_site(site), wanted), output)
