"""``barrowful whatif``: the whole site and its options again with some values changed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.common import (
    answer,
    load_site,
    output_options,
    report_of,
    settable_site,
    take_output,
)
from barrowful.cli.files import PATH, read_bytes
from barrowful.cli.targets import check_targets
from barrowful.measures.problems import WrongUse, printable

if TYPE_CHECKING:
    from barrowful.site.load import LoadedSite
    from barrowful.tables.report import Report

#: What is said where nothing is asked for.
HOW = (
    'say what to change, e.g. --set "places.young plums.count=14",'
    ' --vary "ways.yard compost.buy.price=40..60 EUR/m3:5" or --break-even "ways.yard compost.buy.price"'
)


@click.command("whatif")
@settable_site
@click.option(
    "--case",
    "cases",
    multiple=True,
    metavar="NAME:PATH=VALUE",
    help="Change a value in a case of its own; repeat for more values or cases.",
)
@click.option(
    "--vary",
    multiple=True,
    metavar="PATH=A..B:N",
    help="N cases, from A to B in equal steps, or PATH=a,b,c; several give every combination.",
)
@click.option(
    "--break-even",
    "searched",
    multiple=True,
    metavar="PATH[=A..B[:N]]",
    help="At which price, distance, depth or date the best ways of the whole site change.",
)
@click.option("--against", type=PATH, metavar="OTHER", help="Another site file, row by row.")
@click.option("--all-rows", is_flag=True, help="Rows that nothing changes too.")
@output_options()
def command(
    site: str | None,
    sets: tuple[str, ...],
    cases: tuple[str, ...],
    vary: tuple[str, ...],
    searched: tuple[str, ...],
    against: str | None,
    all_rows: bool,
    **options: Any,
) -> int:
    """What the whole site costs with some values changed, which ways change, and where.

    \b
    Examples:
      barrowful whatif mysite.yaml --set "places.young plums.count=14"
      barrowful whatif mysite.yaml --vary "ways.yard compost.buy.price=40..60 EUR/m3:5"
      barrowful whatif mysite.yaml --break-even "ways.yard compost.buy.price=30..90 EUR/m3"
      barrowful whatif mysite.yaml --against lastyear.yaml
    """
    _check_asked(bool(cases or vary), bool(searched), against, site, bool(sets))
    output = take_output(options, site)
    if against is not None:
        check_targets(against, {"-o": output.file})
        return answer(_against(load_site(site), against, all_rows), output)
    if searched:
        return answer(_break_evens(load_site(site, sets), searched), output)
    return answer(_cases(load_site(site), sets, cases, vary, all_rows), output)


def _check_asked(cases: bool, searched: bool, against: str | None, site: str | None, sets: bool) -> None:
    """Refuse nothing to change, and what does not go together."""
    if not (cases or searched or sets or against is not None):
        raise WrongUse(HOW)
    if searched and cases:
        raise WrongUse("--break-even goes with --set only; ask for --case and --vary by themselves")
    if against is not None and (cases or searched or sets):
        raise WrongUse(
            "--against compares two files as they stand; leave --set, --case, --vary and --break-even out"
        )
    if against == "-" and site == "-":
        raise WrongUse("only one of two files can be standard input; name the other one")


def _cases(
    loaded: LoadedSite, sets: tuple[str, ...], cases: tuple[str, ...], vary: tuple[str, ...], all_rows: bool
) -> Report:
    """Return the report of cases beside the file as it stands."""
    from barrowful.answers.case_warnings import CaseWarnings
    from barrowful.answers.cases import Standing
    from barrowful.answers.outlook import followed_outlook
    from barrowful.answers.whatif_told import Told, advice_of
    from barrowful.sitefile.text.cases import cases_of
    from barrowful.tables.whatif import WhatIfTables

    wanted = cases_of(sets, cases, vary, loaded.measures)
    standing = Standing(loaded)
    tables, told, warned = WhatIfTables(standing), list[Told](), CaseWarnings(standing)
    for of in wanted.cases:
        case = standing.with_changes(of)
        tables.add(case)
        told.append(Told(of.name, of.cells, followed_outlook(case)))
        warned.add(case)
    first = advice_of(followed_outlook(standing.case), told, wanted.varied)
    filled = tables.tables(wanted.varied, all_rows)
    return report_of("whatif", loaded, filled, warned.lines(), answer=first)


def _against(loaded: LoadedSite, other: str, all_rows: bool) -> Report:
    """Return the report of another file beside the file as it stands."""
    from barrowful.answers.case_warnings import CaseWarnings
    from barrowful.answers.cases import Standing
    from barrowful.answers.outlook import followed_outlook
    from barrowful.answers.whatif_told import Told, advice_of
    from barrowful.site.load import load
    from barrowful.tables.whatif import WhatIfTables

    data, name = read_bytes(other)
    beside = load(data, name)
    if beside.site.currency != loaded.site.currency:
        raise WrongUse(
            f"{name} is in {beside.site.currency}, the site in {loaded.site.currency}: their cash cannot be"
            " compared; give both in one currency"
        )
    standing = Standing(loaded)
    case = standing.beside(printable(Path(name).name), beside)
    tables, warned = WhatIfTables(standing), CaseWarnings(standing)
    tables.add(case)
    warned.add(case)
    told = [Told(case.name, (), followed_outlook(case))]
    first = advice_of(followed_outlook(standing.case), told, ())
    return report_of("whatif", loaded, tables.tables((), all_rows), warned.lines(), answer=first)


def _break_evens(loaded: LoadedSite, searched: tuple[str, ...]) -> Report:
    """Return the report of where the best ways change."""
    from barrowful.answers.break_even import break_evens
    from barrowful.answers.break_even_range import asked
    from barrowful.answers.break_even_told import break_even_advice, plan_not_followed
    from barrowful.answers.cases import Standing
    from barrowful.tables.break_even import break_even_table

    standing = Standing(loaded)
    wanted = [asked(standing, text) for text in searched]
    found = [break_evens(standing, of.scale, of.looks, of.why) for of in wanted]
    lines = [line for search in found for line in break_even_advice(search)]
    lines += plan_not_followed(loaded.site)
    return report_of("whatif", loaded, [break_even_table(found)], answer=tuple(lines))
