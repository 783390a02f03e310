"""``barrowful heap``: recipes and batches."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.charts import chart_option, check_chart, file_of, with_charts
from barrowful.cli.common import answer, load_site, output_options, settable_site, take_output
from barrowful.cli.complete import materials

if TYPE_CHECKING:
    from barrowful.tables.writers.chart import Chart


@click.command("heap")
@settable_site
@click.option(
    "--of",
    "parts",
    multiple=True,
    shell_complete=materials,
    metavar="'AMOUNT MATERIAL'",
    help="A material for a quick blend; leave the amount out to have it worked out.",
)
@click.option("--to-cn", type=float, help="C:N to aim for.")
@click.option("--to-moisture", metavar="SHARE", help="Moisture to aim for, e.g. '55 %'.")
@click.option(
    "--measure",
    "own",
    multiple=True,
    metavar="NAME=SIZE",
    help="A measure of your own for --of; bucket=10 L and barrow=80 L are known.",
)
@click.option("--recipes", is_flag=True, help="The recipe of every batch, not only of the first.")
@chart_option("the batches by time")
@output_options()
def command(
    site: str | None,
    sets: tuple[str, ...],
    recipes: bool,
    parts: tuple[str, ...],
    to_cn: float | None,
    to_moisture: str | None,
    own: tuple[str, ...],
    chart: str | None,
    **options: Any,
) -> int:
    """Recipes, water, yield and the dates of each batch; or a quick blend without a site.

    \b
    Examples:
      barrowful heap mysite.yaml
      barrowful heap mysite.yaml --recipes
      barrowful heap mysite.yaml --of "2 m3 my own chip" --of straw --to-cn 30
      barrowful heap --of "12 bucket coffee grounds" --of straw --to-cn 30
      barrowful heap --of "10 kg grass clippings" --of straw --to-moisture "60 %"
    """
    check_chart(chart, options["form"])
    output = take_output(options, site, file_of(chart))
    if parts and recipes:
        raise click.UsageError("--recipes is for the batches of a site, not for a blend with --of")
    if parts and chart:
        raise click.UsageError("--chart draws the batches of a site; a blend with --of has none")
    if parts and sets and site is None:
        raise click.UsageError("--set is for the values of a site; give its file too")
    if parts:
        return _quick(site, sets, parts, to_cn, to_moisture, own, output)
    if to_cn is not None or to_moisture is not None or own:
        raise click.UsageError("--to-cn, --to-moisture and --measure go with --of")
    return _of_site(site, sets, recipes, chart, output)


def _of_site(site: str | None, sets: tuple[str, ...], recipes: bool, chart: str | None, output: Any) -> int:
    from barrowful.answers.heaps import batch_lines
    from barrowful.answers.options import options as reckon
    from barrowful.reports.heap import of_heaps
    from barrowful.supplies.heap.heaps import heaps_of

    loaded = load_site(site, sets)
    found = reckon(loaded.site)
    report = of_heaps(loaded, found, recipes=recipes, sources=output.shows_sources)

    def draw() -> list[Chart]:
        from barrowful.tables.answer_pictures import heap_chart

        lines = batch_lines(heaps_of(found.supplies.values()))
        return [heap_chart(report.site, lines, output.measures)]

    return answer(with_charts(report, chart, draw), output)


def _quick(
    site: str | None,
    sets: tuple[str, ...],
    parts: tuple[str, ...],
    cn: float | None,
    moisture: str | None,
    own: tuple[str, ...],
    output: Any,
) -> int:
    from barrowful.answers.headlines import blend_headline
    from barrowful.answers.heaps import recipe_lines
    from barrowful.supplies.heap.blend import blend
    from barrowful.supplies.heap.quick import Known, read_share, read_wanted
    from barrowful.tables.heap import HEAP
    from barrowful.tables.report import Report

    loaded = load_site(site, sets) if site is not None else None
    known = Known(loaded.site.materials, loaded.measures) if loaded else Known()
    wanted, warnings = read_wanted(parts, own, known)
    if cn is not None and not 5 <= cn <= 200:
        raise click.UsageError("--to-cn is a ratio from 5 to 200")
    for warning in warnings:
        click.echo(f"warning: {warning}", err=True)
    found = blend(wanted, cn, read_share(moisture) if moisture else None)
    tables = [HEAP.table(recipe_lines("", found.recipe))]
    first = (blend_headline(found.recipe), *found.sentences)
    return answer(Report("heap", "", "", tables, warnings=warnings, answer=first), output)
