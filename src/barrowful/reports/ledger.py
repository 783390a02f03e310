"""The report of the ledger: nutrients brought in, fixed, moved, harvested and lost; and what was done."""

from __future__ import annotations

from barrowful.answers.cautions import cautions_for
from barrowful.answers.choices import plan_hint
from barrowful.answers.done import done, overtaken, paid_twice, spent
from barrowful.answers.headlines import ledger_counts, ledger_headline
from barrowful.answers.ledger import ledger as reckon
from barrowful.answers.orders import decide
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.supplies.registry import supplies
from barrowful.tables.cautions import caution_notes
from barrowful.tables.done import DONE
from barrowful.tables.ledger import LEDGER
from barrowful.tables.report import Report


def ledger(loaded: ReadSite, *, way: str = "", sources: bool = True) -> Report:
    """Return the ledger of the plan or the cheapest ways, or of one way by its name; and the history."""
    said = decide(loaded.site, way)
    accounts = reckon(loaded.site, said.answer, said.chosen)
    sentences = [
        f"Follows: {said.title}. {ledger_counts(loaded.site, said.chosen)}",
        *plan_hint(said.whole),
        *spent(loaded.site),
    ]
    return report_of(
        "ledger",
        loaded,
        [LEDGER.table(accounts), DONE.table(done(loaded.site))],
        [*said.warnings, *overtaken(supplies(loaded.site).values()), *paid_twice(loaded.site)],
        sentences=sentences,
        answer=(ledger_headline(accounts),),
        cautions=caution_notes(cautions_for(said.answer, said.chosen), sources),
    )
