"""The report of the options: ways side by side, and what is best for the whole site."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from barrowful.answers.advice import advice, all_advice
from barrowful.answers.begun_plan import begun
from barrowful.answers.cautions import CautionInForce, cautions_for
from barrowful.answers.choices import WholeSite, choices, choices_told, followed, plan_hint, whole_site
from barrowful.answers.done import planned_again
from barrowful.answers.growing import growing_lines
from barrowful.answers.lines import option_lines, whole_lines
from barrowful.answers.options import Answer
from barrowful.answers.options import options as reckon
from barrowful.answers.plan_warnings import plan_warnings
from barrowful.jobs.later import later_told
from barrowful.reports.ranges import RangesAsked, table_of, with_drivers
from barrowful.reports.shared import report_of
from barrowful.site.load import ReadSite
from barrowful.soil.present import how_kept
from barrowful.tables.cautions import caution_notes
from barrowful.tables.choices import CHOICES
from barrowful.tables.growing import GROWING
from barrowful.tables.options import BY_PLACE, OPTIONS
from barrowful.tables.report import Report, Table
from barrowful.tables.whole_site import WHOLE_SITE

if TYPE_CHECKING:
    from barrowful.planning.ranges.answers import Ranges


def options(
    loaded: ReadSite, *, by_place: bool = False, sources: bool = True, asked: RangesAsked | None = None
) -> Report:
    """Return each way applied to the needs it can serve, by way or by way and place; with ranges if asked."""
    found = reckon(begun(loaded.site), by_place=by_place)
    return of_options(loaded, found, by_place=by_place, sources=sources, asked=asked)


def of_options(
    loaded: ReadSite,
    found: Answer,
    *,
    by_place: bool,
    sources: bool,
    asked: RangesAsked | None = None,
) -> Report:
    """Return the report of options that are reckoned."""
    rows = [] if by_place else whole_site(found)
    whole = None if by_place else followed(found)
    ranges = None if asked is None else _ranges(asked, found, rows, whole)
    layout = BY_PLACE if by_place else OPTIONS
    tables = [table_of(layout, option_lines(found), ranges, found.site.currency)]
    sentences: list[str] = []
    first: tuple[str, ...] = ()
    warnings: list[str] = []
    calling: list[CautionInForce] = []
    if by_place:
        everywhere = followed(reckon(found.site))
        first = advice(everywhere, later_told(everywhere))
    if whole is not None:
        beside, sentences = _whole_site(found, rows, ranges, whole)
        first, more = all_advice(whole, later_told(whole))
        tables, sentences = tables + beside, [*more, *plan_hint(whole), *sentences]
        warnings = plan_warnings(whole)
        calling = cautions_for(found, whole.together.options())
    sentences += how_kept(place for place in loaded.site.places if place.need("raise"))
    told = {each.caution.key for each in calling}  # what is followed is what is done: its cautions come first
    calling += [each for each in cautions_for(found) if each.caution.key not in told]
    notes = caution_notes(calling, sources)
    first = (*planned_again(loaded.site), *first)
    report = report_of("options", loaded, tables, warnings, sentences=sentences, answer=first, cautions=notes)
    return with_drivers(report, ranges)


def _ranges(asked: RangesAsked, found: Answer, rows: Sequence[WholeSite], whole: WholeSite | None) -> Ranges:
    """Return the ranges of options, and of the whole site where it is shown."""
    from barrowful.planning.ranges.answers import of_options
    from barrowful.planning.ranges.figures import Draws

    return of_options(Draws(*asked), found, rows, whole)


def _whole_site(
    found: Answer, rows: list[WholeSite], ranges: Ranges | None, whole: WholeSite
) -> tuple[list[Table], list[str]]:
    """Return the tables beside the options, and what is said under them."""
    plain = choices(found)
    tables = [
        table_of(WHOLE_SITE, whole_lines(found.site, rows), ranges, found.site.currency),
        GROWING.table(growing_lines(found.supplies.values())),
        CHOICES.table(plain),
    ]
    return tables, choices_told(whole, plain)
