"""The ``barrowful`` command: a lazy group, and one place where errors become exit codes."""

from __future__ import annotations

import sys

try:
    import errno
    import gc
    import os
    from collections.abc import Iterator
    from contextlib import contextmanager, suppress
    from importlib import import_module
    from typing import Any

    import click

    from barrowful import __version__
    from barrowful.cli.repeats import check_repeats
    from barrowful.cli.streams import settle, stand_in
    from barrowful.measures.problems import BarrowfulError, SiteProblems
except KeyboardInterrupt:  # Ctrl-C while still starting
    sys.exit(130)

#: Command -> what its line in the overview says. The modules are imported only when run.
COMMANDS = {
    "options": "Ways side by side: cost against time. The main job.",
    "plan": "What to put where when at the least cost, proven; and the least for each day ready.",
    "sizes": "Area, depth, volume, mass and barrows for each place and need.",
    "orders": "The order sheet, in the sellers' own units.",
    "season": "Every job with its window: order, collect, build, turn, spread, cut; week by week.",
    "report": "All of it on one page of HTML, to read, print and tick.",
    "heap": "Recipes, water, yield and the dates of each batch; or a quick blend.",
    "course": "Year by year: mulch left, humus, soil organic matter, nitrogen.",
    "ledger": "Nutrients brought in, fixed, moved, harvested and lost; and what was done.",
    "whatif": "What changed values come to, and where the best ways change.",
    "log": "Add what was really done to the history of a site file.",
    "check": "Only the problems of a site file.",
    "figures": "The catalogue: every figure with its source.",
    "begin": "Write a commented starter site file, or the next season's.",
    "schema": "The JSON Schema of the site file, for editors.",
    "explain": "Help on one key of the site file.",
}

EPILOG = """\b
Examples:
  barrowful begin -o mysite.yaml
  barrowful check mysite.yaml
  barrowful options mysite.yaml
  barrowful options mysite.yaml --format csv > options.csv

Without SITE, reading commands use the sample site that comes with barrowful. Exit codes: 0 done,
1 problems in the site file, 2 wrong use, 3 nothing can be answered, 4 --strict and warnings,
5 cannot read or write, 70 a bug."""


class ReaderGone(BarrowfulError):
    """Whoever read our output went away; nothing is said."""

    exit_code = 141


@contextmanager
def _reader_may_go() -> Iterator[None]:
    """Tell a reader that went away in our own way; click would leave with another code."""
    try:
        yield
    except BrokenPipeError:
        raise ReaderGone("") from None


class Commands(click.Group):
    """A group whose commands live in modules of their own, named as they are."""

    def make_context(self, *args: Any, **extra: Any) -> click.Context:
        with _reader_may_go():
            return super().make_context(*args, **extra)

    def invoke(self, ctx: click.Context) -> Any:
        with _reader_may_go():
            return super().invoke(ctx)

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"barrowful.cli.{cmd_name}").command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        from barrowful.measures.problems import did_you_mean

        known = not args or args[0] in COMMANDS or args[0].startswith("-")
        if not known and not ctx.resilient_parsing:
            ctx.fail(f'there is no command "{args[0]}"{did_you_mean(args[0], COMMANDS)}')
        name, command, rest = super().resolve_command(ctx, args)
        if command is not None and not ctx.resilient_parsing:
            check_repeats(command, name or "", rest, ctx)
        return name, command, rest

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=Commands,
    epilog=EPILOG,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100},
)
@click.version_option(__version__, prog_name="barrowful")
@click.option("--debug", is_flag=True, help="Show the traceback of a bug.")
def cli(debug: bool) -> None:
    """What shall I put on this ground, how shall I come by it, when, and what will it cost me in
    money, hours and waiting?"""


def run(args: list[str] | None = None) -> None:
    """Run the command line and leave with its exit code."""
    words = sys.argv[1:] if args is None else args
    gc.disable()  # the process is short; collecting costs a large site a fifth of its time
    try:
        stand_in()
        code = _for_a_shell() if "_BARROWFUL_COMPLETE" in os.environ else exit_code(words)
        settle()
    except KeyboardInterrupt:  # once more, while the first was being answered
        code = 130
    gc.freeze()  # what there is goes with the process; going through it first takes as long as the search
    sys.exit(code)


def _for_a_shell() -> int:
    """Answer a shell that asks for words."""
    from barrowful.cli.shells import complete

    return complete(cli)


def exit_code(words: list[str]) -> int:
    """Run the command line and return its exit code; nothing but a bug's traceback ever escapes."""
    try:
        result = cli.main(words, prog_name="barrowful", standalone_mode=False)
        sys.stdout.flush()
        return result if isinstance(result, int) else 0
    except SiteProblems as problems:
        _say(f"{problems}\n{len(problems.problems)} problem(s); nothing was reckoned.")
        return problems.exit_code
    except BarrowfulError as error:
        _say(str(error) and f"barrowful: {error}")
        return error.exit_code
    except click.ClickException as wrong:
        with suppress(OSError):
            wrong.show()
        return 2
    except (click.Abort, KeyboardInterrupt):
        return 130
    except SystemExit as leaving:  # after completing a word for the shell
        return int(leaving.code or 0)
    except OSError as error:
        return _cut_off(error)
    except UnicodeEncodeError:
        _say("barrowful: a word of the command is not text")
        return 2
    except Exception as bug:
        if "--debug" in words:
            from traceback import format_exc

            _say(format_exc())
        _say(
            f"barrowful: this is a bug ({type(bug).__name__}: {bug}).\n"
            "Please report it with the site file; --debug before the command shows where it happened."
        )
        return 70


def _cut_off(error: OSError) -> int:
    """Return the exit code for a stream or file that failed: nothing is said where nobody reads."""
    if error.errno == errno.EPIPE:
        return 141
    what = f" {error.filename}" if error.filename else ""
    _say(f"barrowful: cannot read or write{what}: {(error.strerror or str(error)).lower()}")
    return 5


def _say(text: str) -> None:
    """Say something on standard error, where there is one."""
    if text:
        with suppress(OSError):
            click.echo(text, err=True)
