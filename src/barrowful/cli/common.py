"""What commands share: the SITE argument, output options, loading a site and writing the answer."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from shutil import get_terminal_size
from typing import TYPE_CHECKING, Any, NamedTuple, TypeVar

import click

from barrowful.cli.complete import ways
from barrowful.cli.files import PATH, put_pieces, read_bytes
from barrowful.cli.sets import load_with, set_option
from barrowful.cli.targets import check_targets
from barrowful.cli.which_table import TableOption, check_table, others_left, wanted_table
from barrowful.measures.problems import gathered
from barrowful.measures.telling import told_in
from barrowful.reports.limits import FEWEST_DRAWS, MOST_DRAWS, MOST_SEED, USUAL_DRAWS, USUAL_SEED
from barrowful.tables.formats import FORMATS

if TYPE_CHECKING:
    from barrowful.reports.ranges import RangesAsked
    from barrowful.site.load import LoadedSite, ReadSite
    from barrowful.tables.report import Look, Report

Command = TypeVar("Command", bound=Callable[..., Any])


class Output(NamedTuple):
    """How and where a report is written."""

    form: str
    file: str
    measures: str
    all_cautions: bool
    strict: bool
    table: str
    no_guard: bool

    @property
    def shows_sources(self) -> bool:
        """Say whether the sources of cautions will be read."""
        return self.all_cautions or FORMATS[self.form].sources

    @property
    def on_terminal(self) -> bool:
        """Say whether it is shown on a terminal."""
        return self.file == "-" and sys.stdout.isatty()

    @property
    def width(self) -> int:
        """Return the columns of the screen: what COLUMNS says, a terminal has, or else the usual."""
        from barrowful.tables.report import LEAST_WIDTH, USUAL_WIDTH

        if os.environ.get("COLUMNS") or self.on_terminal:
            return max(LEAST_WIDTH, get_terminal_size((USUAL_WIDTH, 0)).columns)
        return USUAL_WIDTH

    @property
    def has_braille(self) -> bool:
        """Say whether whoever reads it has letters for the dots of a drawing: a file does."""
        return self.file != "-" or (sys.stdout.encoding or "").lower().startswith("utf")

    @property
    def look(self) -> Look:
        """Return how people see it."""
        from barrowful.tables.report import Look

        guard = not self.no_guard
        return Look(self.measures, self.all_cautions, self.width, self.has_braille, guard)

    def only(self, first: str) -> bool:
        """Say whether nothing but the first table, by its name, will be written."""
        return FORMATS[self.form].one_table and self.table in {"", first}


def site_argument(command: Command) -> Command:
    """Add the SITE argument."""
    return click.argument("site", required=False, type=PATH)(command)


def settable_site(command: Command) -> Command:
    """Add the SITE argument, and --set for values that hold instead of the file's."""
    return site_argument(set_option(command))


FILE_OPTION = click.option(
    "-o", "--output", "file", default="-", type=PATH, help="File to write; - is standard output."
)
MEASURES_OPTION = click.option(
    "--measures",
    type=click.Choice(["metric", "customary"]),
    default="metric",
    show_default=True,
    help="Units people see; csv, tsv and json stay metric.",
)
WAY_OPTION = click.option(
    "--way",
    default="",
    metavar="NAME",
    shell_complete=ways,
    help="As if this way did everything it can serve.",
)
PARTIAL_OPTION = click.option(
    "--partial", is_flag=True, help="With what goes part of the way, where a need cannot be met."
)
STRICT_OPTION = click.option("--strict", is_flag=True, help="Leave with exit code 4 if there were warnings.")
#: The options of every command whose answer may have ranges.
RANGE_OPTIONS = (
    click.option(
        "--ranges", is_flag=True, help="How far it may come out otherwise, and which figures that goes by."
    ),
    click.option(
        "--draws",
        type=click.IntRange(FEWEST_DRAWS, MOST_DRAWS),
        help=f"Draws that ranges are made of; {USUAL_DRAWS} when left out.",
    ),
    click.option(
        "--seed", type=click.IntRange(0, MOST_SEED), help="Another number draws otherwise; 1 when left out."
    ),
)
#: The output options of every command, beside --format.
OUTPUT_OPTIONS = (
    FILE_OPTION,
    MEASURES_OPTION,
    click.option("--table", "table", default="", metavar="NAME", cls=TableOption, help="Only this table."),
    click.option("--all-cautions", is_flag=True, help="Print every caution, with its source."),
    click.option(
        "--no-guard",
        is_flag=True,
        help="In csv and tsv no apostrophe before text that a spreadsheet would run as a formula.",
    ),
    STRICT_OPTION,
)


def output_options(*more: str) -> Callable[[Command], Command]:
    """Add the output options; ``more`` are further formats a command knows."""
    form = click.option(
        "--format",
        "form",
        type=click.Choice([*FORMATS, *more]),
        default="table",
        show_default=True,
        help="How the answer is written.",
    )

    def add(command: Command) -> Command:
        for option in reversed((form, *OUTPUT_OPTIONS)):
            command = option(command)
        return command

    return add


def range_options(command: Command) -> Command:
    """Add the options of ranges."""
    for option in reversed(RANGE_OPTIONS):
        command = option(command)
    return command


def take_ranges(options: dict[str, Any]) -> RangesAsked | None:
    """Return the ranges that a command's keyword arguments ask for, taking them out; None without any."""
    asked, draws, seed = (options.pop(key) for key in ("ranges", "draws", "seed"))
    if not asked and (draws, seed) != (None, None):
        raise click.UsageError("--draws and --seed go with --ranges")
    if not asked:
        return None
    from barrowful.reports.ranges import RangesAsked

    return RangesAsked(USUAL_DRAWS if draws is None else draws, USUAL_SEED if seed is None else seed)


def take_output(options: dict[str, Any], site: str | None, chart: str | None = None) -> Output:
    """Return the output options of a command's keyword arguments, taking them out.

    A table that is not there and files that may not or cannot be written are refused here, before anything
    is read.
    """
    keys = ("form", "file", "measures", "all_cautions", "strict", "table", "no_guard")
    output = Output(**{key: options.pop(key) for key in keys})
    tell_in("metric" if output.form in FORMATS and FORMATS[output.form].metric else output.measures)
    check_table(click.get_current_context(), output.table)
    check_targets(site, {"-o": output.file, "--chart": chart})
    return output


def tell_in(measures: str) -> None:
    """Tell every sentence of the command that runs in metric or customary units."""
    click.get_current_context().with_resource(told_in(measures))


def load_site(site: str | None, sets: Sequence[str] = ()) -> ReadSite:
    """Return the site of a file, with what --set says; its warnings go to standard error."""
    return open_site(site, sets).alone


def open_site(site: str | None, sets: Sequence[str] = ()) -> LoadedSite:
    """Return it with what it was read from, for what reads it again with other values or writes to it."""
    loaded = load_with(*read_bytes(site), sets)
    for warning in gathered(loaded.warnings):
        click.echo(f"warning: {warning}", err=True)
    return loaded


def answer(report: Report, output: Output) -> int:
    """Write a report and return the exit code."""
    for warning in report.reckoned:
        click.echo(f"warning: {warning}.", err=True)
    form = FORMATS[output.form]
    report = chosen(report, output)
    put_pieces(form.pieces(report, output.look), output.file)
    if form.rows_only:
        _cautions_aside(report, output)
    return 4 if output.strict and report.warnings else 0


def chosen(report: Report, output: Output) -> Report:
    """Return a report with the table that is asked for; where there is room for one, say which are left."""
    if output.table:
        return report.only(wanted_table(report, output.table))
    if FORMATS[output.form].one_table and (told := others_left(report)):
        click.echo(told, err=True)
    return report


def _cautions_aside(report: Report, output: Output) -> None:
    """Say cautions on standard error where standard output carries rows only."""
    for line in report.caution_lines(output.all_cautions, with_sources=False):
        click.echo(line, err=True)
