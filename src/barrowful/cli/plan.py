"""``barrowful plan``: the least-cost way to meet every need, proven."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from barrowful.cli.common import (
    Output,
    answer,
    load_site,
    output_options,
    report_of,
    settable_site,
    take_output,
)
from barrowful.cli.files import change, write_file
from barrowful.cli.limits import read_limit, with_limits
from barrowful.cli.planner import entry_of, planner
from barrowful.cli.progress import Say, progress, to_terminal
from barrowful.measures.problems import CannotMeet, WrongUse, printable

if TYPE_CHECKING:
    from datetime import date
    from decimal import Decimal

    from barrowful.answers.choices import WholeSite
    from barrowful.answers.options import Answer
    from barrowful.planning.bindings import Binding
    from barrowful.planning.clashes import Clash
    from barrowful.planning.frontier import FrontierPoint
    from barrowful.planning.plan import Plan
    from barrowful.planning.programme import Limited
    from barrowful.site.load import LoadedSite
    from barrowful.site.records import Site
    from barrowful.tables.report import Report, Table

#: What --chart says where the drawing goes under the tables.
ON_SCREEN = "-"
#: Most days of each year that can be looked at.
MOST_DAYS_A_YEAR = 12
#: Exit code of what the grower stops.
INTERRUPTED = 130


@dataclass(frozen=True, kw_only=True, eq=False)
class Asked:
    """What is asked for beside the plan."""

    days: int
    frontier: bool
    binds: bool
    chart: str | None


@dataclass(frozen=True, kw_only=True, eq=False)
class Found:
    """A plan, what it is looked for in, and what is asked for beside it."""

    answer: Answer
    limited: Limited
    plan: Plan
    clashes: list[Clash]
    frontier: list[FrontierPoint] | None
    binds: list[Binding] | None


@click.command("plan")
@settable_site
@click.option("--by", metavar="DATE", help="Everything is to be ready by this day; instead of limits.by.")
@click.option(
    "--cash", metavar="MONEY", help="The most money to spend, e.g. '400 EUR'; instead of limits.cash."
)
@click.option(
    "--cash-first-year", metavar="MONEY", help="The most money to spend in the first twelve months."
)
@click.option(
    "--hours", metavar="HOURS", help="The most hours to spend, e.g. '60 h'; instead of limits.hours."
)
@click.option(
    "--days",
    type=click.IntRange(1, MOST_DAYS_A_YEAR),
    default=4,
    show_default=True,
    help="Days of each year to look at, beside those on which something comes.",
)
@click.option("--frontier", is_flag=True, help="The least cash for each day everything may be ready too.")
@click.option("--binds", is_flag=True, help="What a little more of each limit would save too.")
@click.option(
    "--chart",
    metavar="[FILE.svg]",
    is_flag=False,
    flag_value=ON_SCREEN,
    help="Draw the frontier: under the tables, or as FILE.svg.",
)
@click.option("--write", is_flag=True, help="Put the plan into SITE; the file before is kept as SITE.bak.")
@output_options()
def command(
    site: str | None,
    sets: tuple[str, ...],
    by: str | None,
    cash: str | None,
    cash_first_year: str | None,
    hours: str | None,
    days: int,
    frontier: bool,
    binds: bool,
    chart: str | None,
    write: bool,
    **options: Any,
) -> int:
    """What to put where, of what, when: every need met that can be, at the least cost, and that is proven.

    What stands under plan: in the file is left out. Needs the extra full. Long searches say what they look
    for on a terminal.
    Example: barrowful plan mysite.yaml --by 2029-03-01 --cash "400 EUR" --write
    """
    _check_chart(chart, options["form"])
    output = take_output(options, site, None if chart == ON_SCREEN else chart)
    _check_write(write, site, sets)
    asked = Asked(days=days, frontier=frontier or chart is not None, binds=binds, chart=chart)
    loaded = load_site(site, sets)
    limited = replace(with_limits(loaded, by, cash, hours), plan=())
    most = None
    if cash_first_year is not None:
        most = read_limit(loaded, "--cash-first-year", "cash", cash_first_year)
    with progress(to_terminal()) as step:
        found = _found(limited, most, asked, step)
    stopped = isinstance(found, Found) and found.plan.interrupted
    if stopped:
        click.echo("Stopped: this is the best plan so far; it is not written anywhere.", err=True)
    elif isinstance(found, Found) and write:
        _write_down(found.plan, loaded, str(site))
    code = answer(_report(found, loaded, output, asked), output)
    return INTERRUPTED if stopped else code


def _check_chart(chart: str | None, form: str) -> None:
    """Refuse a drawing that is no .svg, or one on the screen beside rows for machines."""
    if chart == ON_SCREEN and form != "table":
        raise WrongUse(f"--chart draws under the tables; with --format {form} write --chart FILE.svg")
    if chart not in {None, ON_SCREEN} and not str(chart).lower().endswith(".svg"):
        raise WrongUse(
            f'--chart "{printable(str(chart))}" is no .svg; write --chart FILE.svg, or --chart as the last'
            " word to draw under the tables"
        )


def _check_write(write: bool, site: str | None, sets: tuple[str, ...]) -> None:
    """Refuse to write a plan where there is no file for it, or one that the plan is not made for."""
    if write and site in {None, "-"}:
        raise WrongUse("--write puts the plan into a site file; give its name")
    if write and sets:
        raise WrongUse(
            "--write puts the plan into the file as it is; leave --set out, or change the file first"
        )


def _found(site: Site, cash_first_year: Decimal | None, asked: Asked, step: Say) -> Found | WholeSite:
    """Return the plan and what is asked for beside it, or what is there where nothing is to be done."""
    from barrowful.answers.options import options
    from barrowful.planning.bindings import binding_limits
    from barrowful.planning.clashes import clashes_of
    from barrowful.planning.frontier import frontier_of
    from barrowful.planning.plan import plan_of
    from barrowful.planning.programme import Limited
    from barrowful.planning.solver import check_solver

    check_solver()
    reckoned = options(site)
    limited = replace(Limited.of(reckoned), cash_first_year=cash_first_year)
    plan = plan_of(reckoned, limited, asked.days, step)
    if plan is None:
        return _nothing_to_do(reckoned, limited, asked.days, step)
    if plan.interrupted:
        return Found(answer=reckoned, limited=limited, plan=plan, clashes=[], frontier=None, binds=None)
    step("what would let the rest be met")
    clashes = clashes_of(reckoned, limited, plan, asked.days)
    frontier = frontier_of(reckoned, limited, plan, asked.days, step) if asked.frontier else None
    step("what a little more of each limit saves")
    return Found(
        answer=reckoned,
        limited=limited,
        plan=plan,
        clashes=clashes,
        frontier=frontier,
        binds=binding_limits(reckoned, limited, plan, asked.days) if asked.binds else None,
    )


def _nothing_to_do(reckoned: Answer, limited: Limited, days: int, step: Say) -> WholeSite:
    """Return what is there where every need is met already; where none can be, say why."""
    from barrowful.answers.choices import cheapest
    from barrowful.planning.clashes import clashes_of
    from barrowful.planning.told import needs_there, why_nothing

    there = cheapest(reckoned)
    if there.count < needs_there(reckoned.site):
        step("what would let any need be met")
        raise CannotMeet(why_nothing(clashes_of(reckoned, limited, None, days)))
    return there


def _write_down(plan: Plan, loaded: LoadedSite, site: str) -> None:
    """Put a plan into the site file it was made for."""
    lines = [entry_of(line) for line in plan.lines]
    backup = change(site, planner(site, lines, made_for=loaded.document))
    click.echo(f"Wrote {len(lines)} lines under plan: in {site}; the file as it was is {backup}.", err=True)


def _report(found: Found | WholeSite, loaded: LoadedSite, output: Output, asked: Asked) -> Report:
    """Return the report of a plan, its drawing written where it goes to a file."""
    from barrowful.answers.advice import advice
    from barrowful.answers.cautions import cautions_for
    from barrowful.planning.told import LEAST_COST, gains, nothing_to_do, proof_of, saving, ways_out
    from barrowful.tables.cautions import caution_notes
    from barrowful.tables.plan import PLAN
    from barrowful.tables.plan_totals import PLAN_TOTALS

    if not isinstance(found, Found):
        tables = [PLAN.table([]), PLAN_TOTALS.table([nothing_to_do(found)])]
        return report_of("plan", loaded, tables, answer=advice(found))
    plan = found.plan
    words = [
        *advice(replace(plan.whole, title=LEAST_COST)),
        *ways_out(found.clashes),
        saving(found.answer, found.limited, plan),
        proof_of(plan),
    ]
    notes = caution_notes(cautions_for(found.answer, plan.whole.together.options()), output.shows_sources)
    report = report_of(
        "plan",
        loaded,
        _tables(found, loaded.site.start),
        sentences=gains(plan),
        answer=tuple(words),
        cautions=notes,
    )
    return _with_chart(report, found, asked.chart)


def _tables(found: Found, start: date) -> list[Table]:
    """Return the tables of a plan."""
    from barrowful.planning.sharing import line_costs
    from barrowful.planning.told import stage_lines, totals_of
    from barrowful.tables.binds import BINDS
    from barrowful.tables.clash import CLASH
    from barrowful.tables.frontier import FRONTIER
    from barrowful.tables.plan import PLAN, head_of, in_order
    from barrowful.tables.plan_stages import PLAN_STAGES
    from barrowful.tables.plan_totals import PLAN_TOTALS

    lines = in_order(line_costs(found.plan.whole))
    tables = [replace(PLAN.table(lines), head=head_of(lines, start))]
    tables += [] if found.frontier is None else [FRONTIER.table(found.frontier)]
    tables += [] if found.binds is None else [BINDS.table(found.binds)]
    tables += [CLASH.table(found.clashes)] if found.clashes else []
    return [*tables, PLAN_TOTALS.table([totals_of(found.plan)]), PLAN_STAGES.table(stage_lines(found.plan))]


def _with_chart(report: Report, found: Found, chart: str | None) -> Report:
    """Return a report with the drawing of the frontier under its tables, or that drawing in its file."""
    if chart is None:
        return report
    from barrowful.tables.pictures import frontier_chart

    points = [(point.change, point.ready_on, point.cash) for point in found.frontier or ()]
    drawn = frontier_chart(report.site, report.currency, points)
    if chart == ON_SCREEN:
        return replace(report, chart=drawn)
    from barrowful.tables.writers.svg import svg

    write_file(Path(chart), svg(drawn).encode())
    click.echo(f"Wrote {chart}.", err=True)
    return report
