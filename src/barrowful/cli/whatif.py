"""``barrowful whatif``: the options again with some values changed."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, settable_site, take_output
from barrowful.measures.problems import SiteProblems, WrongUse


@click.command("whatif")
@settable_site
@click.option(
    "--case",
    "cases",
    multiple=True,
    metavar="NAME:PATH=VALUE",
    help="Change a value in a case of its own; repeat for more values or cases.",
)
@click.option("--vary", multiple=True, metavar="PATH=A..B:N", help="N cases, from A to B in equal steps.")
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
    from barrowful.answers.cases import case_lines
    from barrowful.answers.options import options as reckon
    from barrowful.site.load import build
    from barrowful.sitefile.text.cases import cases_of
    from barrowful.sitefile.text.edit import set_values
    from barrowful.tables.whatif import WHATIF

    output = take_output(options, site)
    wanted = cases_of(sets, cases, vary)
    if not wanted:
        raise WrongUse('say what to change, e.g. --set "places.young plums.count=14"')
    loaded = load_site(site)
    answers = [("base", reckon(loaded.site))]
    for name, changes in wanted:
        document = set_values(loaded.document, changes)
        try:
            answers.append((name, reckon(build(document).site)))
        except SiteProblems as problems:
            raise WrongUse(f"{name}: {problems.problems[0].message}") from None
    return answer(report_of("whatif", loaded, [WHATIF.table(case_lines(answers))]), output)
