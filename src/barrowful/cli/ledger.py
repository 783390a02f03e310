"""``barrowful ledger``: nutrients brought in, fixed, moved, harvested and lost."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import answer, load_site, output_options, report_of, settable_site, take_output


@click.command("ledger")
@settable_site
@click.option("--way", default="", metavar="NAME", help="As if this way did everything it can serve.")
@output_options()
def command(site: str | None, sets: tuple[str, ...], way: str, **options: Any) -> int:
    """Nutrients brought in, fixed from the air, moved within the site, harvested and lost.

    Follows the plan in the file; without one, the cheapest way for each need. Only bought-in stuff and
    the fixed share of a legume are new to the site; comfrey and the like move what is there already.
    What was done stands under it, as your history has it, with its hours and money.
    Example: barrowful ledger mysite.yaml --format csv > ledger.csv
    """
    from barrowful.answers.cautions import cautions_for
    from barrowful.answers.choices import plan_hint
    from barrowful.answers.done import done, overtaken, spent
    from barrowful.answers.ledger import ledger
    from barrowful.answers.orders import decide
    from barrowful.tables.cautions import caution_notes
    from barrowful.tables.done import DONE
    from barrowful.tables.ledger import LEDGER

    output = take_output(options, site)
    loaded = load_site(site, sets)
    said = decide(loaded.site, way)
    tables = [LEDGER.table(ledger(loaded.site, said.answer, said.chosen))]
    if loaded.site.history:
        tables.append(DONE.table(done(loaded.site)))
    notes = caution_notes(cautions_for(said.answer, said.chosen), output.shows_sources)
    sentences = [
        f"Follows: {said.title}. All its doses are counted, and one season's harvest.",
        *plan_hint(said.whole),
        *spent(loaded.site),
    ]
    warnings = [*said.warnings, *overtaken(said.answer.supplies.values())]
    return answer(report_of("ledger", loaded, tables, warnings, sentences=sentences, cautions=notes), output)
