"""Console blocks of the manual: found on a page, run in a folder, compared with what stands there.

In a block a line after ``$ `` is a command, those after ``> `` carry it on, and what follows is what it
prints. Three dots alone on a line stand for any number of lines left out, within a line for any words.
"""

from __future__ import annotations

import os
import re
import shlex
import shutil
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import chdir
from difflib import get_close_matches
from pathlib import Path
from typing import NamedTuple

from click.testing import CliRunner

import barrowful
from barrowful.cli.main import exit_code

ROOT = Path(__file__).parents[2]
#: The pages of the manual by their paths.
PAGES = {
    path.relative_to(ROOT).as_posix(): path
    for path in (ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted((ROOT / "docs").glob("*.md")))
}
DOTS = "..."
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
NUMBER = re.compile(r"\d[\d.,-]*")
DAY = r"\b\d{4}-\d\d-\d\d\b"
#: The width of a screen that the pages show.
SCREEN = {"COLUMNS": "100"}
#: What a shell takes as it stands, and a call of ours, perhaps handed on: all else is for a shell.
QUOTED = re.compile(r"\"[^\"$`\\]*\"|'[^']*'")
OURS = re.compile(r"(barrowful [^|<>&;$*?`(){}\\#~\n]*(?<!\d))(?:[|>][^&;\n]*)?$")
#: Programs that a page may need and a machine may not have.
EXTRAS = ("jq",)


class Call(NamedTuple):
    """A command of a console block: the lines it stands on, the lines it is said to print."""

    written: tuple[str, ...]
    printed: tuple[str, ...]

    @property
    def command(self) -> str:
        """Return the command as a shell takes it."""
        return "\n".join(line[2:] for line in self.written)

    @property
    def missing(self) -> list[str]:
        """Return the programs it needs that are not on this machine."""
        return [name for name in EXTRAS if re.search(rf"\b{name}\b", self.command) and not shutil.which(name)]


def calls(block: str) -> Iterator[Call]:
    """Yield the commands of a block, each with what is said to come of it."""
    lines = block.splitlines()
    starts = [at for at, line in enumerate(lines) if line.startswith("$ ")]
    if lines and starts[:1] != [0]:
        raise ValueError(f'a console block begins with "$ ", not with "{lines[0]}"')
    for start, end in zip(starts, [*starts[1:], len(lines)], strict=True):
        after = start + 1
        while after < end and lines[after].startswith("> "):
            after += 1
        yield Call(tuple(lines[start:after]), tuple(lines[after:end]))


def page_calls(text: str) -> list[Call]:
    """Return all commands of a page, in order."""
    return [call for block in BLOCK.finditer(text) for call in calls(block[1])]


class Folder:
    """A folder that holds the demo sites, in which the commands of one page run one after another."""

    def __init__(self, path: Path) -> None:
        """Copy the demo sites, and put a command of the name beside them for other programs to start."""
        self.path, programs = path / "home", path / "bin"
        shutil.copytree(ROOT / "demo", self.path / "demo")
        programs.mkdir()
        command = programs / "barrowful"
        command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m barrowful "$@"\n', encoding="utf-8")
        command.chmod(0o755)
        source = str(Path(barrowful.__file__).parents[1])
        ours = {"PATH": f"{programs}{os.pathsep}{os.environ['PATH']}", "PYTHONPATH": source}
        self.environment = {**os.environ, **ours, **SCREEN, "LC_ALL": "C.UTF-8"}

    def run(self, command: str) -> list[str]:
        """Return the lines that a command prints, on both streams."""
        line = command.replace("\\\n", " ")
        bare = QUOTED.sub(lambda quoted: "_" * len(quoted[0]), line)
        ours = OURS.match(bare)
        if ours is None:
            return self._shell(command, b"").splitlines()
        words, on = line[: ours.end(1)], line[ours.end(1) :]
        with chdir(self.path), CliRunner().isolation(env=SCREEN) as (out, err, both):
            exit_code(shlex.split(words)[1:])
            sys.stdout.flush()
            said, passed = (err if on else both).getvalue().decode("utf-8"), out.getvalue()
        return (said + (self._shell(f"cat {on}", passed) if on else "")).splitlines()

    def _shell(self, command: str, given: bytes) -> str:
        """Return what bash prints, both streams in one."""
        done = subprocess.run(
            ["bash", "-c", command], input=given, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
            cwd=self.path, env=self.environment, timeout=300, check=False,
        )  # fmt: skip
        return done.stdout.decode("utf-8")


def agrees(printed: Sequence[str], now: Sequence[str]) -> bool:
    """Say whether what stands on a page is what is printed now, but for what is left out."""
    first, *others = _runs(printed)
    if not _match(first, now[: len(first)] if others else now):
        return False
    at = len(first)
    for run in others[:-1]:
        starts = range(at, len(now) - len(run) + 1)
        start = next((start for start in starts if _match(run, now[start : start + len(run)])), None)
        if start is None:
            return False
        at = start + len(run)
    return not others or _match(others[-1], now[max(at, len(now) - len(others[-1])) :])


def _runs(printed: Sequence[str]) -> list[list[str]]:
    """Return the lines that are kept between those left out; the first and last run may be empty."""
    runs: list[list[str]] = [[]]
    for line in printed:
        if line == DOTS:
            runs.append([])
        else:
            runs[-1].append(line)
    return runs


def _match(run: Sequence[str], lines: Sequence[str]) -> bool:
    """Say whether lines are a run, but for words left out within them."""
    patterns = (".*".join(map(re.escape, line.split(DOTS))) for line in run)
    return len(run) == len(lines) and all(map(re.fullmatch, patterns, lines))


class Taken(NamedTuple):
    """What is to stand on a page now; ``sure`` unless a line that was kept is not there any more."""

    lines: list[str]
    sure: bool = True


def retaken(printed: Sequence[str], now: Sequence[str]) -> Taken:
    """Return what is printed now with the same left out, as near as that can be told."""
    if set(printed) <= {DOTS}:
        return Taken(list(printed or now))
    kept: list[str] = []
    sure = True
    runs = _runs(printed)
    for order, run in enumerate(runs):
        kept += [DOTS] if order and kept[-1:] != [DOTS] else []
        if not run:
            continue
        first = _first_like(run, now) if order else (0, 0)
        if first is None:
            sure = False
            continue
        last = (0, len(now) - 1) if order == len(runs) - 1 else _last_like(run, now, first[1])
        sure = sure and not first[0] and not last[0]
        kept += [_shortened(line, run) for line in now[first[1] : last[1] + 1]]
        now = now[last[1] + 1 :]
    return Taken(kept, sure)


def _first_like(run: Sequence[str], now: Sequence[str]) -> tuple[int, int] | None:
    """Return how many lines of a run are not there any more, and where the first that is stands now."""
    for lost, line in enumerate(run):
        at = _like(line, now, run[lost:])
        if at is not None:
            return lost, at
    return None


def _last_like(run: Sequence[str], now: Sequence[str], start: int) -> tuple[int, int]:
    """Return how many lines at the end of a run are not there any more, and where the last that is stands."""
    for lost, line in enumerate(reversed(run[1:])):
        at = _like(line, now[start:], [line], len(run) - 1 - lost)
        if at is not None:
            return lost, start + at
    return len(run) - 1, start


def _like(line: str, lines: Sequence[str], run: Sequence[str], near: int = 0) -> int | None:
    """Return which of the lines is the line but for its numbers or a few words, best followed by the run."""
    if DOTS in line:
        return next((at for at, other in enumerate(lines) if _shortened(other, [line]) != other), None)
    if line in lines:
        return min((at for at, other in enumerate(lines) if other == line), key=lambda at: abs(at - near))
    for shape in (_but_for_numbers, _but_for_days):
        shapes, wanted = [*map(shape, lines)], [*map(shape, run)]
        there = [at for at, other in enumerate(shapes) if other == shape(line)]
        if there:
            agreeing = {at: sum(map(str.__eq__, wanted, shapes[at:])) for at in there}
            return min(there, key=lambda at: (-agreeing[at], abs(at - near)))
    close = get_close_matches(_but_for_days(line), shapes, n=1)
    return shapes.index(close[0]) if close else None


def _but_for_numbers(line: str) -> str:
    """Return a line with all numbers alike, and all room between words, but with its days."""
    parts = re.split(f"({DAY})", re.sub("-{3,}", "--", line))
    return " ".join(
        "".join(NUMBER.sub("0", part) if at % 2 == 0 else part for at, part in enumerate(parts)).split()
    )


def _but_for_days(line: str) -> str:
    """Return a line with all numbers alike, and all room between words."""
    return " ".join(NUMBER.sub("0", re.sub("-{3,}", "--", line)).split())


def _shortened(line: str, run: Sequence[str]) -> str:
    """Return a line with the words left out that were left out of the line like it, whatever its numbers."""
    for old in run:
        if DOTS in old:
            parts = (NUMBER.pattern.join(map(re.escape, NUMBER.split(part))) for part in old.split(DOTS))
            if match := re.fullmatch(".*".join(f"({part})" for part in parts), line):
                return DOTS.join(match.groups())
    return line


def retaken_page(text: str, folder: Folder) -> tuple[str, list[str]]:
    """Return a page with what its commands print now, and the commands whose lines want a look."""
    unsure: list[str] = []

    def block(match: re.Match[str]) -> str:
        lines: list[str] = []
        for call in calls(match[1]):
            taken = Taken([*call.printed], False)
            if not call.missing:
                taken = retaken(call.printed, folder.run(call.command))
            unsure.extend([] if taken.sure else [call.command])
            lines += [*call.written, *taken.lines]
        return "```console\n" + "".join(f"{line}\n" for line in lines) + "```"

    return BLOCK.sub(block, text), unsure
