"""``barrowful whatif``: the whole site and its options again with some values changed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.common import answer, open_site, output_options, settable_site, take_output
from barrowful.cli.complete import paths
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
    help="Change a value in a case of its own, or take it out: none; repeat for more values or cases.",
)
@click.option(
    "--vary",
    multiple=True,
    metavar="PATH=A..B:N",
    shell_complete=paths,
    help="N cases, from A to B in equal steps, or PATH=a,b,c; several give every combination.",
)
@click.option(
    "--break-even",
    "searched",
    multiple=True,
    metavar="PATH[=A..B[:N]]",
    shell_complete=paths,
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
      barrowful whatif mysite.yaml --vary "ways.bark.buy.price=40..60 EUR/m3:5"
      barrowful whatif mysite.yaml --case "no heap:ways.two-bay heap=none"
      barrowful whatif mysite.yaml --break-even "ways.yard compost.buy.price"
      barrowful whatif mysite.yaml --against lastyear.yaml
    """
    from barrowful.reports.whatif import break_evens, whatif
    from barrowful.sitefile.text.cases import cases_of

    _check_asked(bool(cases or vary), bool(searched), against, site, bool(sets))
    output = take_output(options, site)
    if against is not None:
        check_targets(against, {"-o": output.file})
        return answer(_against(open_site(site), against, all_rows), output)
    if searched:
        return answer(break_evens(open_site(site, sets), searched), output)
    loaded = open_site(site)
    return answer(whatif(loaded, cases_of(sets, cases, vary, loaded.measures), all_rows), output)


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


def _against(loaded: LoadedSite, other: str, all_rows: bool) -> Report:
    """Return the report of another file beside the file as it stands."""
    from barrowful.reports.whatif import against
    from barrowful.site.load import load

    data, name = read_bytes(other)
    return against(loaded, load(data, name), printable(Path(name).name), all_rows)
