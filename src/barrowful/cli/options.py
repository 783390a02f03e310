"""``barrowful options``: the main job."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, site_argument, take_output


@click.command("options")
@site_argument
@click.option("--by", type=click.Choice(["way", "place"]), default="way", show_default=True,
              help="A row for each way, or for each way and place.")  # fmt: skip
@output_options()
def command(site: str | None, by: str, **options: Any) -> int:
    """Each way applied to the needs it can serve: order, cash, hours, waiting and result.

    Example: barrowful options mysite.yaml --measures customary
    """
    from barrowful.answers.cautions import cautions_for
    from barrowful.answers.choices import chosen
    from barrowful.answers.combined import all_doses
    from barrowful.answers.options import options as reckon
    from barrowful.needs.ceilings import ceilings
    from barrowful.tables.cautions import caution_notes
    from barrowful.tables.options import option_tables

    output = take_output(options, site)
    loaded = load_site(site)
    found = reckon(loaded.site, by_place=by == "place")
    tables, sentences = option_tables(found, by_place=by == "place")
    over = ceilings(loaded.site, all_doses(found, chosen(found)))
    notes = caution_notes(cautions_for(found), output.shows_sources)
    return answer(report_of("options", loaded, tables, over, sentences=sentences, cautions=notes), output)
