"""``barrowful options``: the main job."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.charts import chart_option, check_chart, file_of, with_charts
from barrowful.cli.common import (
    answer,
    load_site,
    output_options,
    range_options,
    settable_site,
    take_output,
    take_ranges,
)

if TYPE_CHECKING:
    from barrowful.tables.writers.chart import Chart


@click.command("options")
@settable_site
@click.option(
    "--by",
    type=click.Choice(["way", "place"]),
    default="way",
    show_default=True,
    help="A row for each way, or for each way and place.",
)
@chart_option("the cash of each way against the day it is ready")
@range_options
@output_options()
def command(site: str | None, sets: tuple[str, ...], by: str, chart: str | None, **options: Any) -> int:
    """Each way applied to the needs it can serve: order, cash, hours, waiting and result.

    Example: barrowful options mysite.yaml --measures customary
    """
    from barrowful.answers.begun_plan import begun
    from barrowful.answers.options import options as reckon
    from barrowful.reports.options import of_options

    if chart is not None and by != "way":
        raise click.UsageError("--chart draws ways; it does not go with --by place")
    check_chart(chart, options["form"])
    output, asked = take_output(options, site, file_of(chart)), take_ranges(options)
    loaded = load_site(site, sets)
    found = reckon(begun(loaded.site), by_place=by == "place")
    report = of_options(loaded, found, by_place=by == "place", sources=output.shows_sources, asked=asked)

    def draw() -> Sequence[Chart]:
        from barrowful.tables.answer_pictures import option_charts

        return option_charts(found)

    return answer(with_charts(report, chart, draw), output)
