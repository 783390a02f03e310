"""What can be wrong with a request, as values and as the few exceptions that carry them."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, order=True)
class Mark:
    """A place in a file, counted from 1; line 0 means the file as a whole."""

    line: int = 0
    column: int = 0


NOWHERE = Mark()


@dataclass(frozen=True, order=True)
class Problem:
    """One thing wrong in a site file: where, what, and what would be right."""

    file: str
    line: int
    column: int
    code: str
    message: str

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}: " if self.line else f"{self.file}: "
        return f"{place}{self.message} [{self.code}]"


class BarrowfulError(Exception):
    """The base of everything this package raises on purpose; ``exit_code`` is for the shell."""

    exit_code = 70


class SiteProblems(BarrowfulError):
    """A site file that cannot be used; ``problems`` lists every reason, in file order."""

    exit_code = 1

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(sorted(set(problems)))
        super().__init__("\n".join(str(problem) for problem in self.problems))


class WrongUse(BarrowfulError):
    """The command was asked in a way it cannot take, or lacks an optional package."""

    exit_code = 2


class CannotMeet(BarrowfulError):
    """The request is sound but nothing can answer it."""

    exit_code = 3


class CannotReadWrite(BarrowfulError):
    """A file could not be read or written."""

    exit_code = 5


class Misread(ValueError):
    """A piece of text that is not the measure it should be: ``code`` and a sentence."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        super().__init__(message)


def nearest(word: str, known: Iterable[str]) -> str:
    """Return a hint naming the known word most like ``word``, or an empty string.

    >>> nearest("depht", ["depth", "dose"])
    '; did you mean "depth"?'
    >>> nearest("xyzzy", ["depth", "dose"])
    ''
    """
    close = difflib.get_close_matches(word, list(known), n=1, cutoff=0.6)
    return f'; did you mean "{close[0]}"?' if close else ""
