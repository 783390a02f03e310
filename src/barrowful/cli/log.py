"""``barrowful log``: write down what was really done."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

import click

from barrowful.cli.complete import materials, places, ways
from barrowful.cli.files import PATH, change
from barrowful.measures.problems import Problem, SiteProblems, WrongUse
from barrowful.site.job_names import JOINT, number_of

if TYPE_CHECKING:
    from barrowful.jobs.job import Job
    from barrowful.site.records import Site

#: The keys of an entry, as they are written.
FIELDS = (
    *("date", "place", "way", "job", "material", "amount", "depth", "dug", "hours", "cash"),
    *("organic_matter", "temperature", "note"),
)
#: Parts of the name of a job that puts something on a place: job, place, need, way, number.
PARTS = 5
#: What is told where such a job is named, and no amount.
NO_AMOUNT = (
    "nothing says how much was put on: where no other entry does, season takes all of the job as done, and"
    " the next season nothing of it; log it with --done, which writes what was planned, or with --amount"
)
#: The need whose soil test finds organic matter, and what is told where no result of it is given.
RAISE = "raise"
NO_RESULT = "nothing says what the test found: give --organic-matter, so that all is reckoned from it on"
#: An entry without any of these says nothing.
DONE = {"job", "material", "amount", "depth", "hours", "cash", "organic_matter", "temperature", "note"}
#: What an entry is about: at least one of them.
ABOUT = {"place", "way", "job"}


@click.command("log")
@click.argument("site", type=PATH)
@click.option(
    "--done", metavar="NAME", help="A job of the season, by its name: it was done as it stands there."
)
@click.option("--date", required=True, metavar="YYYY-MM-DD", help="Day it was done.")
@click.option("--place", shell_complete=places, help="A place of the file, where something was put on one.")
@click.option("--way", shell_complete=ways, help="The way of the file it came by, or the heap.")
@click.option("--job", help="Which job it was; of a heap built or turned.")
@click.option("--material", shell_complete=materials, help="What was put on, where no way says it.")
@click.option("--amount", help="How much in all, e.g. '18 barrow' or, of a way, '4 load'.")
@click.option("--depth", help="Or how deep, as spread.")
@click.option("--dug/--on-top", "dug", default=None, help="Was it dug in?")
@click.option("--hours", help="Hours it took, e.g. '5 h'.")
@click.option("--cash", help="What it cost, e.g. '0 EUR'.")
@click.option("--organic-matter", help="A soil test's result, e.g. '2.4 %'.")
@click.option("--temperature", help="Of a heap's core, e.g. '58 degC'.")
@click.option("--note", help="Anything to remember.")
def command(site: str, done: str | None, dug: bool | None, **options: str | None) -> int:
    """Add an entry to the history of SITE, checked; nothing else in the file is touched.

    The file as it was before is kept beside it as SITE.bak; a SITE.bak that is there already is written
    over. A file with problems is refused, and one that another program changes meanwhile.
    Example: barrowful log mysite.yaml --date 2027-04-12 --place "young trees" --way "lane chip"
    --amount "1 load" --hours "5 h". A stock that was used or spoilt has no place: --way "barn leaves"
    --amount "2 barrow" --note "gone mouldy". A heap: --way "hot heap" --job built. A job of the season:
    --done "mulch, young trees, cover, lane chip, 1". A delivery of which nothing more comes: --done
    "delivery, lane chip, 1" --amount "0 m3".
    """
    if site == "-":
        raise WrongUse("log writes to the file; give its name")
    typed = {**options, "dug": None if dug is None else str(dug).lower()}
    entry = {key: str(typed[key]) for key in FIELDS if typed.get(key) is not None}
    if done is not None and "job" in entry:
        raise WrongUse("--done names the job; leave --job out")
    told: list[str] = []
    backup = change(site, adder(site, entry, done, told.append))
    click.echo(f"Added to {site}; the file as it was is {backup}.", err=True)
    for sentence in told:
        click.echo(sentence, err=True)
    return 0


def _as_planned(data: bytes, name: str, job: str, entry: dict[str, str]) -> tuple[Job, dict[str, str]]:
    """Return a job of the season and its entry as it was planned, with what is said otherwise."""
    from barrowful.jobs.entry import entry_of, job_named
    from barrowful.jobs.season import season
    from barrowful.site.load import load

    loaded = load(data, name)
    found = season(loaded.site)
    named = job_named([*found.jobs, *found.dropped], job)
    planned = entry_of(named, loaded.site.currency)
    for key, its in (("place", named.place), ("way", named.way), ("material", named.material)):
        if key in entry and entry[key] != its:
            told = f'is of the {key} "{its}"' if its else f"has no {key}"
            raise WrongUse(f'"{named.name}" {told}, not "{entry[key]}"; leave --{key} out, or --done')
    if "depth" in entry:
        planned.pop("amount", None)
    if entry.get("amount", "").split(" ")[0] == "0":  # what does not come is not paid for
        planned.pop("cash", None)
    return named, {**planned, **entry}


def _told_of(site: Site, job: Job, said: dict[str, str], entry: dict[str, str]) -> Iterator[str]:
    """Yield what was written of a job beside what was said, and how much of it is left to do."""
    from barrowful.jobs.parts import part_told
    from barrowful.jobs.season import season

    written = [f"{key} {text}" for key, text in entry.items() if key != "job" and key not in said]
    if written:
        yield f"Written as planned: {', '.join(written)}."
    if job.cash is not None and "cash" not in entry:
        yield "What it costs is written with what comes of it, unless you give --cash."
    if {"amount", "depth"} & set(said):
        yield from part_told(next(now for now in season(site).jobs if now.name == job.name), site)


def adder(
    name: str,
    said: dict[str, str],
    done: str | None = None,
    tell: Callable[[str], None] = lambda _: None,
) -> Callable[[bytes], bytes]:
    """Return what makes of a site file's bytes those with the entry; all it needs is loaded already.

    ``tell`` takes the sentences that the grower should know of a job that is ``done``.
    """
    from barrowful.site.load import build
    from barrowful.site.past import told_twice
    from barrowful.sitefile.text.append import unfit, with_entry, with_history
    from barrowful.sitefile.text.nodes import parse

    def added(data: bytes) -> bytes:
        before = with_history(parse(data, name))
        if before.problems:
            build(before)
        job, entry = (None, said) if done is None else _as_planned(data, name, done, said)
        try:
            _check_done(entry)
            _check_named(entry)
            new, after = with_entry(data, before, entry)
        except (SiteProblems, WrongUse) as refusal:
            build(before)  # what is wrong with the file itself goes first
            if isinstance(refusal, WrongUse):
                raise
            raise WrongUse(f"the entry cannot be added: {refusal.problems[0].message}") from None
        try:
            loaded = build(after)
        except SiteProblems as problems:
            build(before)
            raise unfit(after, problems, entry) from None
        twice = told_twice(loaded.warnings)
        if twice and len(twice) > len(told_twice(build(before).warnings)):
            raise WrongUse(f"the entry cannot be added: {twice[-1]}")
        for sentence in _told_of(loaded.site, job, said, entry) if job is not None else ():
            tell(sentence)
        for doubt in (*_doubts(entry, loaded.warnings), *_overtaken(entry, loaded.site)):
            tell(f"warning: {doubt}")
        return new

    return added


def _says_no_amount(entry: dict[str, str]) -> bool:
    """Say whether an entry names a job that puts something on a place, and not how much."""
    from barrowful.jobs.job import DIG

    job = entry.get("job", "")
    puts_on = number_of(job) and job.count(JOINT) >= PARTS - 1 and not job.startswith(DIG + JOINT)
    return bool(puts_on) and not {"amount", "depth"} & entry.keys()


def _says_no_result(entry: dict[str, str]) -> bool:
    """Say whether an entry names a test of the organic matter that a raise goes by, and not what it found."""
    from barrowful.jobs.errands import SOIL_TEST

    word, *of = entry.get("job", "").split(JOINT)
    return word.casefold() == SOIL_TEST and RAISE in of and "organic_matter" not in entry


def _doubts(entry: dict[str, str], warnings: Iterable[Problem]) -> Iterator[str]:
    """Yield what may be wrong with an entry: its day, and an amount or a result that it does not have."""
    from barrowful.site.past import FAR, OVER_BAY

    if _says_no_amount(entry):
        yield NO_AMOUNT
    if _says_no_result(entry):
        yield NO_RESULT
    for warning in warnings:
        of_it = f": {entry['date']} ", f" on {entry['date']} "
        if warning.code in {FAR, OVER_BAY} and any(day in warning.message for day in of_it):
            yield warning.message


def _overtaken(entry: dict[str, str], site: Site) -> Iterator[str]:
    """Yield that the history takes more of the way of an entry than there was, where it does."""
    from barrowful.supplies.registry import supplies

    if "way" in entry and (told := supplies(site)[entry["way"]].overtaken):
        yield told


def _check_named(entry: dict[str, str]) -> None:
    """Refuse an entry under the name of a job of the season that is of another place or way."""
    job = entry.get("job", "")
    if not number_of(job):
        return
    for key in ("place", "way"):
        if key in entry and f"{JOINT}{entry[key]}{JOINT}" not in job:
            raise WrongUse(
                f'"{job}" is not of the {key} "{entry[key]}"; leave --{key} out, or name another job'
            )


def _check_done(entry: dict[str, str]) -> None:
    """Refuse an entry that does not say what was done, or of what."""
    if not ABOUT & set(entry):
        raise WrongUse("say of what: --place, --way or --job")
    if "place" in entry and {"amount", "depth"} & set(entry) and not {"way", "material", "job"} & set(entry):
        raise WrongUse("say of what so much was put on: --way or --material")
    if not DONE & set(entry):
        raise WrongUse(
            "say what was done: --way or --material with --amount or --depth, --job, --hours, --cash, "
            "--organic-matter, --temperature or --note"
        )
