"""A figure: low, likely and high, with unit, basis, source, place and grade."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

from barrowful.measures.text import read_number, read_unit
from barrowful.measures.units import scale

GRADES = ("read", "second-hand", "from memory", "derived", "judgement")
SITE_GRADE = "stated"


class CatalogueError(ValueError):
    """A catalogue file that breaks its own rules; a bug in the package, not in a site file."""


class Figure(NamedTuple):
    """One figure; ``low``, ``likely`` and ``high`` are SI floats of ``dimension``.

    ``settled_by`` is what would settle one that is judged, where that is not plain from what it is.
    """

    dimension: str
    low: float
    likely: float
    high: float
    texts: tuple[str, str, str]
    unit: str
    basis: str
    sources: tuple[str, ...]
    place: str
    grade: str
    note: str = ""
    settled_by: str = ""

    @property
    def typed(self) -> str:
        """Return the likely value as a grower would type it."""
        return f"{self.texts[1]} {self.unit}"


def read_figure(entry: Mapping[str, Any], dimension: str, where: str) -> Figure:
    """Return the figure of one catalogue table; raise where a source or another part is missing."""
    lacking = [
        key for key in ("low", "likely", "high", "unit", "source", "place", "grade") if not entry.get(key)
    ]
    if lacking:
        raise CatalogueError(f"{where}: lacks {', '.join(lacking)}")
    if entry["grade"] not in GRADES:
        raise CatalogueError(f"{where}: grade {entry['grade']!r} is not one of {GRADES}")
    texts = (entry["low"], entry["likely"], entry["high"])
    size, unit = read_unit(entry["unit"], {})
    factor, offset = scale(unit, dimension)
    low, middle, high = (read_number(text) * size * factor + offset for text in texts)
    if not low <= middle <= high:
        raise CatalogueError(f"{where}: low, likely and high are out of order")
    source = entry["source"]
    return Figure(
        dimension=dimension,
        low=low,
        likely=middle,
        high=high,
        texts=texts,
        unit=entry["unit"],
        basis=entry.get("basis", ""),
        sources=(source,) if isinstance(source, str) else tuple(source),
        place=entry["place"],
        grade=entry["grade"],
        note=entry.get("note", ""),
        settled_by=entry.get("settled_by", ""),
    )


#: The basis of what the tool itself reckoned.
RECKONED = "reckoned from the site file"


def computed(name: str, dimension: str, value: float) -> Figure:
    """Return a figure the tool itself reckoned, such as the nitrogen of a heap from its recipe."""
    text = f"{value:.4g}"
    return Figure(
        dimension=dimension,
        low=value,
        likely=value,
        high=value,
        texts=(text, text, text),
        unit="",
        basis=RECKONED,
        sources=(),
        place=f"mass balance of {name}",
        grade="derived",
    )


#: Every file of the catalogue on a line: its name, a tab, and what it holds as JSON. docs/catalogue.py writes
#: it, as reading the files themselves takes a command ten times as long.
COMPILED = "compiled.txt"


@cache
def _lines() -> dict[str, str]:
    """Return what each file holds, as JSON, by its name."""
    text = Path(__file__).with_name(COMPILED).read_text(encoding="utf-8")
    parted = (line.partition("\t") for line in text.split("\n") if line)
    return {name: held for name, _, held in parted}


def load(name: str) -> dict[str, Any]:
    """Return one file of the catalogue, such as ``rates.toml`` or ``materials/straw.toml``."""
    held: dict[str, Any] = json.loads(_lines()[name])
    return held


@cache
def files_in(folder: str) -> tuple[str, ...]:
    """Return the files of a folder of the catalogue, in the order of their names."""
    return tuple(name for name in _lines() if name.startswith(f"{folder}/"))


@cache
def names_in(kind: str) -> tuple[str, ...]:
    """Return the names of the materials, plants or crops, which have a file each."""
    stems = (name.partition("/")[2].removesuffix(".toml") for name in files_in(kind))
    return tuple(sorted(stem.replace("-", " ") for stem in stems))


def load_named(kind: str, name: str) -> dict[str, Any] | None:
    """Return the file of a material, plant or crop, or None when there is none of that name."""
    return load(f"{kind}/{name.replace(' ', '-')}.toml") if name in names_in(kind) else None


class Source(NamedTuple):
    """A book, bulletin, paper or page."""

    key: str
    author: str
    year: str
    title: str
    publisher: str
    address: str

    def __str__(self) -> str:
        year = f" ({self.year})" if self.year else ""
        parts = [f"{self.author}{year}", self.title, self.publisher, self.address]
        return ". ".join(part for part in parts if part)


PARTS = ("author", "year", "title", "publisher", "address")


@cache
def _sources_of(file: str) -> dict[str, Source]:
    entries = load(file).items()
    return {key: Source(key=key, **{part: entry.get(part, "") for part in PARTS}) for key, entry in entries}


@cache
def sources() -> dict[str, Source]:
    """Return every source by its key."""
    found: dict[str, Source] = {}
    for file in files_in("sources"):
        twice = found.keys() & _sources_of(file).keys()
        if twice:
            raise CatalogueError(f"sources {sorted(twice)} stand twice")
        found |= _sources_of(file)
    return found


def caution_sources(cited: Iterable[str]) -> dict[str, Source]:
    """Return the sources that cautions cite, without loading others where none is cited."""
    known = _sources_of("sources/cautions.toml")
    return known if known.keys() >= set(cited) else sources()


def question_sources() -> dict[str, Source]:
    """Return every source that a question may cite, without loading the others."""
    return _sources_of("sources/cautions.toml") | _sources_of("sources/questions.toml")
