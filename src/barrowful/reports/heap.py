"""The report of the heaps: recipes, batches and what their temperatures show."""

from __future__ import annotations

from barrowful.answers.cautions import cautions_for
from barrowful.answers.headlines import heap_headlines
from barrowful.answers.heaps import all_recipes, batch_lines, first_recipes, heap_sentences, verdict_lines
from barrowful.answers.options import Answer
from barrowful.answers.options import options as reckon
from barrowful.measures.problems import CannotMeet
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.supplies.heap.heaps import heaps_of
from barrowful.tables.batches import BATCHES
from barrowful.tables.cautions import caution_notes
from barrowful.tables.heap import HEAP, RECIPES
from barrowful.tables.hygiene import HYGIENE
from barrowful.tables.report import Report


def heap(loaded: ReadSite, *, recipes: bool = False, sources: bool = True) -> Report:
    """Return the first recipe and the batches of each heap; and the recipe of every batch, where asked."""
    return of_heaps(loaded, reckon(loaded.site), recipes=recipes, sources=sources)


def of_heaps(loaded: ReadSite, found: Answer, *, recipes: bool, sources: bool) -> Report:
    """Return the report of the heaps of options that are reckoned."""
    heaps = heaps_of(found.supplies.values())
    if not heaps:
        raise CannotMeet('this site has no heap: add a way with "make:", or blend with --of')
    tables = [
        HEAP.table(first_recipes(heaps)),
        BATCHES.table(batch_lines(heaps)),
        HYGIENE.table(verdict_lines(heaps)),
    ]
    tables += [RECIPES.table(all_recipes(heaps))] if recipes else []
    rows = [row for row in found.options if all(part.way.kind == "make" for part in row.supply.parts)]
    notes = caution_notes(cautions_for(found, rows), sources)
    first, more = heap_headlines(heaps), heap_sentences(heaps)
    return report_of("heap", loaded, tables, sentences=more, answer=first, cautions=notes)
