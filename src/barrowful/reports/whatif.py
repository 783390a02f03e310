"""The reports of a what-if: cases beside the file, another file beside it, and where the best ways change."""

from __future__ import annotations

from collections.abc import Iterable

from barrowful.answers import break_even
from barrowful.answers.break_even_range import asked
from barrowful.answers.break_even_told import break_even_advice, plan_not_followed
from barrowful.answers.case_warnings import CaseWarnings
from barrowful.answers.cases import Standing
from barrowful.answers.outlook import followed_outlook
from barrowful.answers.whatif_told import Told, advice_of
from barrowful.measures.problems import WrongUse
from barrowful.reports.shared import report_of
from barrowful.site.load import LoadedSite
from barrowful.sitefile.text.cases import Cases
from barrowful.tables.break_even import break_even_table
from barrowful.tables.report import Report
from barrowful.tables.whatif import WhatIfTables


def whatif(loaded: LoadedSite, wanted: Cases, every: bool = False) -> Report:
    """Return what changes in each case beside the file as it stands, or ``every`` row of each."""
    standing = Standing(loaded)
    tables, told, warned = WhatIfTables(standing), list[Told](), CaseWarnings(standing)
    for of in wanted.cases:
        case = standing.with_changes(of)
        tables.add(case)
        told.append(Told(of.name, of.cells, followed_outlook(case)))
        warned.add(case)
    first = advice_of(followed_outlook(standing.case), told, wanted.varied)
    return report_of(
        "whatif",
        loaded,
        tables.tables(wanted.varied, every),
        warned.lines(),
        sentences=list(first),
        answer=first,
    )


def against(loaded: LoadedSite, beside: LoadedSite, name: str, every: bool = False) -> Report:
    """Return what changes with another file, called by a name, in the place of a file."""
    if beside.site.currency != loaded.site.currency:
        raise WrongUse(
            f"{name} is in {beside.site.currency}, the site in {loaded.site.currency}: their cash cannot be"
            " compared; give both in one currency"
        )
    standing = Standing(loaded)
    case = standing.beside(name, beside)
    tables, warned = WhatIfTables(standing), CaseWarnings(standing)
    tables.add(case)
    warned.add(case)
    first = advice_of(followed_outlook(standing.case), [Told(case.name, (), followed_outlook(case))], ())
    filled = tables.tables((), every)
    return report_of("whatif", loaded, filled, warned.lines(), sentences=list(first), answer=first)


def break_evens(loaded: LoadedSite, searched: Iterable[str]) -> Report:
    """Return where the best ways change, for each path with a range that is asked for."""
    standing = Standing(loaded)
    wanted = [asked(standing, text) for text in searched]
    found = [break_even.break_evens(standing, of.scale, of.looks, of.why) for of in wanted]
    lines = [line for search in found for line in break_even_advice(search)]
    lines += plan_not_followed(loaded.site)
    return report_of("whatif", loaded, [break_even_table(found)], sentences=lines, answer=tuple(lines))
