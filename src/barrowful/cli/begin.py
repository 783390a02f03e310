"""``barrowful begin``: a commented starter file, or the next season's from that of the one that is over."""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import click

from barrowful.cli.files import PATH, change, check_no_backup, create_file, put_text, read_bytes
from barrowful.measures.problems import NOWHERE, CannotReadWrite, ParseError, SiteProblems, WrongUse

#: The file that the first line of a starter names, beside it.
SCHEMA = "barrowful.schema.json"


@click.command("begin")
@click.option("-o", "--output", "file", default="-", type=PATH, help="File to write; - is standard output.")
@click.option(
    "--force", is_flag=True, help="Write over a file that is there already, which is kept as FILE.bak."
)
@click.option("--from", "source", type=PATH, metavar="SITE", help="Begin the next season of this site file.")
@click.option("--start", metavar="YYYY-MM-DD", help="Day the next season starts from; goes with --from.")
def command(file: str, force: bool, source: str | None, start: str | None) -> int:
    """Write a commented starter site file, or the next season's.

    The next season's file keeps the history, the comments and all that does not change. Its needs are what
    is left of them, its stocks what is left of those, and lines of a plan that are past are left out. The
    old file stays as it is. Example: barrowful begin -o mysite.yaml; a year later: barrowful begin --from
    mysite.yaml --start 2028-03-01 -o mysite-2028.yaml
    """
    if source is not None:
        return _next_season(source, start, file, force)
    if start is not None:
        raise WrongUse("--start is the day a next season starts from; name the file it follows with --from")
    return _starter(file, force)


def _starter(file: str, force: bool) -> int:
    from barrowful.sitefile.products.starter import starter

    if file == "-":
        put_text(starter(), file)
        return 0
    if Path(file).exists() and not force:
        raise CannotReadWrite(f"{file} is there already; --force writes over it")
    check_no_backup(file)
    kept = ""
    if Path(file).is_file():
        kept = f" The file as it was is {change(file, lambda _: starter().encode())}."
    elif os.path.lexists(file):  # a device, or a link that leads nowhere
        put_text(starter(), file)
    else:
        create_file(Path(file), starter().encode())
    click.echo(f"Wrote {file}.{kept} Edit it, then: barrowful options {file}", err=True)
    schema = Path(file).with_name(SCHEMA)
    if not schema.exists():
        click.echo(f"For help and checks in an editor: barrowful schema -o {schema}", err=True)
    return 0


def _next_season(source: str, start: str | None, file: str, force: bool) -> int:
    """Write the file of the next season, where there is none yet."""
    if start is None:
        raise WrongUse("give the day the next season starts from, such as --start 2028-03-01")
    if force or (file != "-" and os.path.lexists(file)):
        raise CannotReadWrite(
            f"{file} is there already; give the next season a file of its own with -o"
            if not force
            else "--force writes over a file, and a season is never lost; give the next one a file of its own"
        )
    if file != "-":
        check_no_backup(file)
    new, told = begun(*read_bytes(source), start)
    if file == "-":
        put_text(new.decode(), file)
    else:
        create_file(Path(file), new)
    for sentence in told:
        click.echo(f"note: {sentence}.", err=True)
    if file != "-":
        click.echo(f"Wrote {file}, from {start} on; {source} is as it was.", err=True)
    return 0


def begun(data: bytes, name: str, start: str) -> tuple[bytes, list[str]]:
    """Return the bytes of the next season's file, and what the grower should know of it."""
    from barrowful.answers.next_season import next_season
    from barrowful.site.load import build
    from barrowful.sitefile.language.kinds import Day
    from barrowful.sitefile.text.nodes import parse
    from barrowful.sitefile.text.revise import revised

    before = parse(data, name)
    loaded = build(before)
    try:
        day = Day().of_text(start, NOWHERE, loaded.context, "start")
    except ParseError as misread:
        raise WrongUse(f"--start: {misread}") from None

    def left() -> dict[tuple[str, str, str, date], float]:
        from barrowful.jobs.season import left_of_plan

        return left_of_plan(loaded.site, day)

    season = next_season(loaded.site, before, day, left)
    new, after = revised(data, before, season.edits)
    try:
        build(after)
    except SiteProblems as problems:
        raise WrongUse(f"the next season's file would not be sound: {problems.problems[0]}") from None
    return new, season.told
