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
@output_options()
def command(site: str | None, sets: tuple[str, ...], way: str, partial: bool, **options: Any) -> int:
    """What to order of whom by when, and who gets which part.

    Follows the plan in the file; without one, the cheapest way for each need.
    Example: barrowful orders mysite.yaml --way "yard compost"
    """
    from barrowful.answers.cautions import cautions_for
    from barrowful.answers.choices import plan_hint
    from barrowful.answers.orders import sheet
    from barrowful.answers.parts import parts
    from barrowful.tables.bags_or_bulk import BAGS_OR_BULK
    from barrowful.tables.cautions import caution_notes
    from barrowful.tables.orders import ORDERS
    from barrowful.tables.payments import PAYMENTS
    from barrowful.tables.sharing import SHARING

    output = take_output(options, site)
    loaded = load_site(site, sets)
    found = sheet(loaded.site, way, partial)
    tables = [ORDERS.table(found.orders)]
    tables += [PAYMENTS.table(found.payments)] if found.payments else []
    tables.append(SHARING.table(parts(found)))
    tables += [BAGS_OR_BULK.table(found.break_evens)] if found.break_evens else []
    said = found.selection
    notes = caution_notes(cautions_for(said.answer, said.chosen), output.shows_sources)
    sentences = [f"Follows: {said.title}.", *plan_hint(said.whole), *said.remarks]
    report = report_of("orders", loaded, tables, said.warnings, sentences=sentences, cautions=notes)
    return answer(report, output)
