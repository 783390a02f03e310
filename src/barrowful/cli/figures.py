"""``barrowful figures``: the catalogue with its sources."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, take_output
from barrowful.cli.files import PATH


@click.command("figures")
@click.argument("name", required=False)
@click.option("--site", "site", type=PATH, help="Show this site's own figures too.")
@output_options()
def command(name: str | None, site: str | None, **options: Any) -> int:
    """List what the catalogue holds, or every figure of one material, plant, crop or kind of figure.

    \b
    Examples:
      barrowful figures
      barrowful figures "green compost" --site mysite.yaml
      barrowful figures rates
      barrowful figures judgements
    """
    from barrowful.answers.figures import entries, figures_of
    from barrowful.tables.figures import CONTENTS, FIGURES
    from barrowful.tables.report import Report

    output = take_output(options, site)
    own = load_site(site).site.materials if site else {}
    found = CONTENTS.table(entries(own)) if name is None else FIGURES.table(figures_of(name, own))
    return answer(Report("figures", "", "", [found]), output)
