"""What commands share: the SITE argument, output options, reading and writing."""

from __future__ import annotations

import os
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from barrowful.measures.problems import CannotReadWrite, WrongUse
from barrowful.tables.formats import FORMATS

if TYPE_CHECKING:
    from barrowful.site.load import LoadedSite
    from barrowful.tables.report import Report, Table

Command = TypeVar("Command", bound=Callable[..., Any])
SAMPLE = "the sample site"


@dataclass(frozen=True)
class Output:
    """How and where a report is written."""

    form: str
    file: str
    measures: str
    all_cautions: bool
    strict: bool
    table: str
    site_file: str = ""

    @property
    def shows_sources(self) -> bool:
        """Say whether the sources of cautions will be read."""
        return self.all_cautions or FORMATS[self.form].sources

    def only(self, first: str) -> bool:
        """Say whether nothing but the first table, by its name, will be written."""
        return FORMATS[self.form].one_table and self.table in {"", first}


def site_argument(command: Command) -> Command:
    """Add the SITE argument."""
    return click.argument("site", required=False, type=click.Path(allow_dash=True))(command)


#: The output options of every command, beside --format.
OUTPUT_OPTIONS = (
    click.option(
        "-o",
        "--output",
        "file",
        default="-",
        type=click.Path(allow_dash=True),
        help="File to write; - is standard output.",
    ),
    click.option(
        "--measures",
        type=click.Choice(["metric", "customary"]),
        default="metric",
        show_default=True,
        help="Units people see; csv, tsv and json stay metric.",
    ),
    click.option("--table", "table", default="", metavar="NAME", help="Only this table."),
    click.option("--all-cautions", is_flag=True, help="Print every caution, with its source."),
    click.option("--strict", is_flag=True, help="Leave with exit code 4 if there were warnings."),
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


def take_output(options: dict[str, Any], site: str | None) -> Output:
    """Return the output options of a command's keyword arguments, taking them out."""
    keys = ("form", "file", "measures", "all_cautions", "strict", "table")
    return Output(**{key: options.pop(key) for key in keys}, site_file=site or "")


def read_bytes(site: str | None) -> tuple[bytes, str]:
    """Return a site file's bytes and the name messages use; the sample when none is given."""
    if site is None:
        from importlib.resources import files

        click.echo(f"No SITE given: using {SAMPLE} that comes with barrowful (invented).", err=True)
        return files("barrowful").joinpath("sample.yaml").read_bytes(), "sample.yaml"
    name = "<stdin>" if site == "-" else site
    try:
        return (sys.stdin.buffer.read() if site == "-" else Path(site).read_bytes()), name
    except OSError as error:
        raise CannotReadWrite(f"cannot read {name}: {_reason(error)}") from None


def load_site(site: str | None) -> LoadedSite:
    """Return the site of a file; its warnings go to standard error."""
    from barrowful.site.load import load

    loaded = load(*read_bytes(site))
    for warning in loaded.warnings:
        click.echo(f"warning: {warning}", err=True)
    return loaded


def _reason(error: OSError) -> str:
    return (error.strerror or str(error)).lower()


def answer(report: Report, output: Output) -> int:
    """Write a report and return the exit code."""
    from barrowful.tables.report import Look

    if output.table:
        names = [table.name for table in report.tables]
        if output.table not in names:
            raise WrongUse(f'there is no table "{output.table}"; there are {", ".join(names)}')
        report = report.only(output.table)
    form = FORMATS[output.form]
    put(form.write(report, Look(output.measures, output.all_cautions)), output)
    if form.rows_only:
        _cautions_aside(report, output)
    return 4 if output.strict and report.warnings else 0


def _cautions_aside(report: Report, output: Output) -> None:
    """Say cautions on standard error where standard output carries rows only."""
    for note in report.gravest(output.all_cautions):
        click.echo(f"Caution ({note.about}): {note.text}", err=True)


def put(text: str, output: Output) -> None:
    """Write text whole: to standard output, or to a file by way of a temporary one beside it."""
    data = text.encode("utf-8", "backslashreplace")  # the name of a file need not be text
    if output.file == "-":
        _to_stdout(data)
        return
    target = Path(output.file)
    site = Path(output.site_file)
    if output.site_file and target.exists() and site.exists() and target.samefile(site):
        raise WrongUse(f"{target} is the site file itself; choose another file for the answer")
    write_file(target, data)


def _to_stdout(data: bytes) -> None:
    """Write bytes to standard output, all of them; a reader that went away is told by main."""
    try:
        sys.stdout.flush()
        rest = memoryview(data)
        while rest:  # without a buffer one call may take a part only
            rest = rest[sys.stdout.buffer.write(rest) :]
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise CannotReadWrite(f"cannot write the answer: {_reason(error)}") from None


def write_file(target: Path, data: bytes, like: Path | None = None) -> None:
    """Replace a file's contents at once, or leave it as it was; a link, a pipe or a device stays one.

    A new file gets the rights of ``like``.
    """
    try:
        if target.exists() and not target.is_file():
            target.write_bytes(data)
        else:
            real = Path(os.path.realpath(target))
            _replace(real, data, like or real)
    except OSError as error:
        raise CannotReadWrite(f"cannot write {target}: {_reason(error)}") from None


def _replace(target: Path, data: bytes, like: Path) -> None:
    """Put a new file in the place of an old one; whatever happens, no half of it is left."""
    number, name = tempfile.mkstemp(dir=target.parent, prefix=".barrowful-")
    temporary = Path(name)
    try:
        with os.fdopen(number, "wb") as handle:
            handle.write(data)
            handle.flush()
            os.fsync(handle.fileno())
        temporary.chmod(_rights(temporary, like))
        temporary.replace(target)
    except BaseException:
        temporary.unlink(missing_ok=True)
        raise


def _rights(new: Path, like: Path) -> int:
    """Return the rights for a new file: those of another, whose owner and group it gets where it may."""
    if not like.exists():
        return 0o666 & ~_umask()
    known = like.stat()
    for owner in (known.st_uid, -1):
        with suppress(OSError, AttributeError):
            os.chown(new, owner, known.st_gid)
            return known.st_mode & 0o777
    return known.st_mode & 0o707  # to another group nothing is opened


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask


def report_of(
    command: str, loaded: LoadedSite, tables: list[Table], more_warnings: list[str] | None = None, **more: Any
) -> Report:
    """Return a report about a loaded site; further warnings go to standard error too."""
    from barrowful.tables.report import Report

    for warning in more_warnings or ():
        click.echo(f"warning: {warning}.", err=True)
    warnings = [*(str(warning) for warning in loaded.warnings), *(more_warnings or ())]
    return Report(command, loaded.site.name, loaded.site.currency, tables, warnings=warnings, **more)
