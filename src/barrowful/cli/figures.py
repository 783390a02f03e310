"""``barrowful figures``: the catalogue with its sources."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli import complete
from barrowful.cli.common import answer, load_site, output_options, take_output
from barrowful.cli.files import PATH


@click.command("figures")
@click.argument("name", required=False, shell_complete=complete.figures)
@click.option("--all", "every", is_flag=True, help="Every figure of everything.")
@click.option("--site", "site", type=PATH, help="Show this site's own figures too.")
@output_options()
def command(name: str | None, every: bool, site: str | None, **options: Any) -> int:
    """List what the catalogue holds, or the figures of a material, plant, crop or kind of figure.

    \b
    Examples:
      barrowful figures
      barrowful figures "green compost" --site mysite.yaml
      barrowful figures rates
      barrowful figures judgements
      barrowful figures --all --format csv > figures.csv
    """
    from barrowful.answers.figures import all_figures, entries, figures_of
    from barrowful.tables.figures import CONTENTS, FIGURES
    from barrowful.tables.report import Report

    output = take_output(options, site)
    if every and name is not None:
        raise click.UsageError("--all is for everything; leave the name out")
    own = load_site(site).site.materials if site else {}
    if every:
        found = FIGURES.table(all_figures(own))
    else:
        found = CONTENTS.table(entries(own)) if name is None else FIGURES.table(figures_of(name, own))
    return answer(Report("figures", "", "", [found]), output)
