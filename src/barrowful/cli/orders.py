"""``barrowful orders``: the order sheet."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, settable_site, take_output


@click.command("orders")
@settable_site
@click.option("--way", default="", metavar="NAME", help="Order everything this way can serve from it.")
@click.option(
    "--partial", is_flag=True, help="Order too what goes part of the way, where a need cannot be met."
)
@click.option("--all", "every", is_flag=True, help="Order for the whole horizon, not twelve months alone.")
@output_options()
def command(
    site: str | None, sets: tuple[str, ...], way: str, partial: bool, every: bool, **options: Any
) -> int:
    """What to order of whom by when, what to ask, what it costs, and who gets which part.

    Follows the plan in the file; without one, the cheapest way for each need. Shows what is to be ordered
    in the first twelve months.
    Example: barrowful orders mysite.yaml --way "yard compost"
    """
    from barrowful.answers.choices import plan_hint
    from barrowful.answers.orders import sheet, told
    from barrowful.supplies.supply import YEAR
    from barrowful.tables.cautions import caution_notes
    from barrowful.tables.order_sheet import tables_of

    output = take_output(options, site)
    loaded = load_site(site, sets)
    until = None if every else YEAR.after(loaded.site.start)
    orders = sheet(loaded.site, way, partial, until)
    chosen, notes = orders.selection, caution_notes(orders.cautions, output.shows_sources)
    first = (f"Follows: {chosen.title}.", *told(orders))
    report = report_of(
        "orders",
        loaded,
        tables_of(orders),
        chosen.warnings,
        sentences=[*first, *plan_hint(chosen.whole), *chosen.remarks],
        answer=first,
        cautions=notes,
    )
    return answer(report, output)
