"""What can be wrong with a request, as values and as the few exceptions that carry them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple


class Mark(NamedTuple):
    """A place in a file, counted from 1; line 0 means the file as a whole.

    What does not stand in the site file has the ``source`` it came from instead.
    """

    line: int = 0
    column: int = 0
    source: str = ""

    @property
    def where(self) -> str:
        """Return the place in words, to stand behind "stands" or "the name".

        >>> Mark(3, 1).where, Mark(source="--set").where
        ('on line 3', 'in --set')
        """
        return f"in {self.source}" if self.source else f"on line {self.line}"


NOWHERE = Mark()


class Problem(NamedTuple):
    """One thing wrong in a site file: where, what, and what would be right."""

    file: str
    line: int
    column: int
    code: str
    message: str

    @property
    def kind(self) -> tuple[str, str]:
        """Return what problems of one kind share: the code, and the key that they are about."""
        return self.code, self.message.partition(":")[0].rpartition(".")[2]

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}:{self.column}: " if self.line else f"{self.file}: "
        return f"{place}{self.message} [{self.code}]"


def gathered(problems: Iterable[Problem]) -> list[str]:
    """Return the first problem of each kind as a line, with how many more there are like it.

    >>> deep = [Problem("x", line, 1, "unusual", f"beds.{line}.depth: deep") for line in (3, 4, 9)]
    >>> gathered(deep)
    ['x:3:1: beds.3.depth: deep [unusual], and 2 more like it; "barrowful check" lists each']
    """
    kinds: dict[tuple[str, str], list[Problem]] = {}
    for problem in problems:
        kinds.setdefault(problem.kind, []).append(problem)
    more = ', and {} more like it; "barrowful check" lists each'
    return [f"{alike[0]}{more.format(len(alike) - 1) if alike[1:] else ''}" for alike in kinds.values()]


class BarrowfulError(Exception):
    """The base of everything this package raises on purpose; ``exit_code`` is for the shell."""

    exit_code = 70


class SiteProblems(BarrowfulError):
    """A site file that cannot be used; ``problems`` lists every reason, in file order."""

    exit_code = 1

    def __init__(self, problems: Iterable[Problem]) -> None:
        unlike = {(one.file, one.line, one.column, one.code, one.message): one for one in problems}
        self.problems = tuple(unlike[key] for key in sorted(unlike))
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


class ParseError(ValueError):
    """A piece of text that is not the measure it should be: ``code`` and a sentence."""

    def __init__(self, code: str, message: str) -> None:
        self.code = code
        super().__init__(message)


#: More known words than this are narrowed to those that start alike, or hints would take too long.
MANY = 200


#: How much of two words is to be alike, as a share, for one to be meant by the other.
ALIKE = 0.55


def did_you_mean(word: str, known: Iterable[str], alike: float = ALIKE, sorts: bool = False) -> str:
    """Return a hint naming the known word most like ``word``, or an empty string.

    A word that looks just like it is named with the letter that tells them apart. How much of both is to be
    ``alike`` is a share: names of things want more of it than keys, as another thing may be no help at all.
    Where names may be of ``sorts`` of the known, all those are named of which it may be one.

    >>> did_you_mean("depht", ["depth", "dose"])
    '; did you mean "depth"?'
    >>> did_you_mean("xyzzy", ["depth", "dose"])
    ''
    >>> did_you_mean("poultry manure pellets", ["pelleted poultry manure", "poultry litter"], 0.75)
    '; did you mean "pelleted poultry manure"?'
    >>> did_you_mean("dwarf beans", ["runner bean", "cabbage", "snap bean"], 0.75, sorts=True)
    '; did you mean "runner bean" or "snap bean"?'
    """
    from difflib import get_close_matches

    from barrowful.measures.letters import difference, twin

    words = list(known)
    same = twin(word, words)
    if same is not None:
        return f'; "{same}" looks the same, but {difference(word, same)}: write both alike'
    if len(words) > MANY:
        words = [one for one in words if one[:2].lower() == word[:2].lower()][:MANY]
    within = [one for one in words if len(word) > 3 and word.lower() in one.lower()]
    close = within[:1] or get_close_matches(word[:80], words, n=1, cutoff=alike)
    close = close or _of_same_words(word, words) or (_of_same_sort(word, words) if sorts else [])
    *others, last = [f'"{one}"' for one in close] or [""]
    before = f"{', '.join(others)} or " if others else ""
    return f"; did you mean {before}{last}?" if last else ""


def _of_same_words(name: str, known: Iterable[str]) -> list[str]:
    """Return the name that has most words of another, two or more, and few others, if there is one."""
    said = set(name.lower().split())
    shared = [(len(said & (words := set(one.lower().split()))), -len(words), one) for one in known]
    best = max(shared, default=(0, 0, ""))
    return [best[2]] if best[0] > 1 else []


def _of_same_sort(name: str, known: Iterable[str]) -> list[str]:
    """Return what a name of several words may be a sort of: what one of its words is, the last first.

    Else it is what the last word ends the name of. A plural is no other word.
    """
    names = list(known)
    said = [{word, word.removesuffix("s"), word.removesuffix("es")} for word in name.lower().split()]
    is_one = (one for words in reversed(said) for one in names if one in words)
    of_sort = [one for one in names if one.split()[-1] in said[-1]]
    return [first] if (first := next(is_one, "")) else of_sort


UNSEEN = re.compile(r"[\x00-\x1f\x7f-\x9f\u2028\u2029\u200e\u200f\u202a-\u202e\u2066-\u2069\ufffe\uffff]")


def printable(text: str) -> str:
    """Return text with every letter a terminal would obey, or an eye would miss, made a space."""
    return UNSEEN.sub(" ", text)
