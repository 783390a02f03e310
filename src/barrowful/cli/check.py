"""``barrowful check``: only the problems."""

from __future__ import annotations

from typing import Any

import click

from barrowful.cli.common import output_options, settable_site, take_output
from barrowful.cli.files import put_text, read_bytes
from barrowful.cli.sets import build_with
from barrowful.measures.problems import Problem, SiteProblems


@click.command("check")
@settable_site
@output_options()
def command(site: str | None, sets: tuple[str, ...], **options: Any) -> int:
    """List every problem of a site file with its line, column and what would be right.

    Example: barrowful check mysite.yaml
    """
    output = take_output(options, site)
    data, name = read_bytes(site)
    problems: tuple[Problem, ...] = ()
    warnings: tuple[Problem, ...] = ()
    try:
        warnings = build_with(data, name, sets).warnings
    except SiteProblems as found:
        problems = found.problems
    put_text(_text(problems, output.form), output.file)
    for warning in warnings:
        click.echo(f"warning: {warning}", err=True)
    if not problems:
        click.echo(f"{name}: no problems.", err=True)
    return 1 if problems else 4 if output.strict and warnings else 0


def _text(problems: tuple[Problem, ...], form: str) -> str:
    if form in {"table", "plain"}:
        return "".join(f"{problem}\n" for problem in problems)
    from barrowful.tables.check import CHECK
    from barrowful.tables.formats import FORMATS
    from barrowful.tables.report import Look, Report
    from barrowful.tables.writers.json import to_json

    found = CHECK.table(problems)
    if form == "json":
        return to_json({"problems": found.rows})
    return FORMATS[form].write(Report("check", "", "", [found]), Look())
