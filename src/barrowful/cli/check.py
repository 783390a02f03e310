"""``barrowful check``: only the problems, and what a plan in the file breaks or leaves undone."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from barrowful import __version__
from barrowful.cli.common import Output, chosen, output_options, settable_site, take_output
from barrowful.cli.files import put_text, read_bytes
from barrowful.cli.sets import build_with
from barrowful.measures.problems import Problem, SiteProblems
from barrowful.tables.formats import FORMATS

if TYPE_CHECKING:
    from barrowful.site.load import LoadedSite
    from barrowful.tables.report import Report


@click.command("check")
@settable_site
@output_options()
def command(site: str | None, sets: tuple[str, ...], **options: Any) -> int:
    """List every problem of a site file with its line, column and what would be right.

    A plan in it is followed too, and what it breaks or leaves undone is warned of.

    Example: barrowful check mysite.yaml
    """
    output = take_output(options, site)
    data, name = read_bytes(site)
    problems: tuple[Problem, ...] = ()
    warnings: tuple[Problem, ...] = ()
    try:
        warnings = _warnings(build_with(data, name, sets))
    except SiteProblems as found:
        problems = found.problems
    put_text(_text(problems, warnings, output), output.file)
    for warning in warnings:
        click.echo(f"warning: {warning}", err=True)
    if not problems:
        click.echo(f"{name}: no problems.", err=True)
    return 1 if problems else 4 if output.strict and warnings else 0


def _warnings(loaded: LoadedSite) -> tuple[Problem, ...]:
    """Return what is hardly meant, and what following the plan in the file warns of, if it has one."""
    if not loaded.site.plan:
        return loaded.warnings
    from barrowful.reports.check import plan_problems

    return (*loaded.warnings, *plan_problems(loaded))


def _text(problems: tuple[Problem, ...], warnings: tuple[Problem, ...], output: Output) -> str:
    """Return problems, a line each, for people; and problems and warnings for machines."""
    if output.form == "table" and output.on_terminal:
        from barrowful.tables.writers.widths import wrapped

        lines = (line for problem in problems for line in wrapped(str(problem), output.width, rest="  "))
        return "".join(f"{line}\n" for line in lines)
    if output.form in {"table", "plain"}:
        return "".join(f"{problem}\n" for problem in problems)
    from barrowful.tables.check import CHECK, WARNINGS
    from barrowful.tables.report import Report

    report = Report("check", "", "", [CHECK.table(problems), WARNINGS.table(warnings)])
    if output.form == "json":
        return _json(report)
    return FORMATS[output.form].write(chosen(report, output), output.look)


def _json(report: Report) -> str:
    """Return the object of a check: with which version of what it was checked, and what was found."""
    from barrowful.catalogue import CATALOGUE_VERSION
    from barrowful.tables.writers.json import FORMAT_VERSION, to_json

    return to_json(
        {
            "format_version": FORMAT_VERSION,
            "command": report.command,
            "version": __version__,
            "catalogue_version": CATALOGUE_VERSION,
            "problems": report.table("check").rows,
            "warnings": report.table("warnings").rows,
        }
    )
