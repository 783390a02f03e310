"""The described fields laid out flat: every key path with its field, for manual, help and starter."""

from __future__ import annotations

from collections.abc import Iterator

from barrowful.measures.fixed import fixed
from barrowful.sitefile.keys.site import SITE
from barrowful.sitefile.language.containers import Field, Group
from barrowful.sitefile.language.kinds import Kind
from barrowful.sitefile.language.lists import ListOf, Named

#: Sections a hint names at most.
MOST_HOMES = 3


@fixed(kw_only=False, eq=True)
class Line:
    """A key by its path, such as ``places.NAME.needs.raise.depth``, and the group it stands in."""

    path: str
    field: Field
    group: Group


def inner(kind: Kind) -> tuple[Group | None, str]:
    """Return the group a kind leads to, and what stands between in a path."""
    if isinstance(kind, Group):
        return kind, ""
    if isinstance(kind, ListOf):
        group, between = inner(kind.kind)
        step = ".NAME" if kind.label else "" if group is not None and group.is_choice else ".N"
        return group, step + between
    if isinstance(kind, Named):
        group, between = inner(kind.kind)
        return group, ".NAME" + between
    return None, ""


def lines(group: Group = SITE, path: str = "") -> Iterator[Line]:
    """Yield every key of the site file in the order it is described."""
    for field in group.fields:
        here = f"{path}.{field.key}" if path else field.key
        yield Line(here, field, group)
        below, between = inner(field.kind)
        if below is not None:
            yield from lines(below, here + between)


def find(word: str) -> list[Line]:
    """Return the lines a word names: a whole path, or the end of one.

    Names in a path (of places, ways, materials) may stand as they are.

    >>> [line.path for line in find("buy.price")]
    ['ways.NAME.buy.price', 'ways.NAME.make.from.N.price']
    """
    wanted = word.split(".")
    exact, ending = [], []
    for line in lines():
        parts = line.path.split(".")
        if _fits(parts, wanted):
            exact.append(line)
        elif _fits(parts[-len(wanted) :], wanted):
            ending.append(line)
    return exact or ending


def at_home(key: str) -> str:
    """Return a hint in which sections a key stands; nothing where it is none, or stands in too many to tell.

    >>> print(at_home("by") + at_home("depth"))
    ; it is one under "needs.raise" and under the site's "limits"
    """
    homes = [line.path.split(".")[:-1] for line in find(key)] if key.isidentifier() else []
    if not 0 < len(homes) <= MOST_HOMES:
        return ""
    return f"; it is one {' and '.join(map(_home, homes))}"


def _home(path: list[str]) -> str:
    """Return where a section is, by its path; one of the site may have a namesake in a place."""
    if not path:
        return "at the top of the file"
    under = "under" if path[1:] else "under the site's"
    return f'{under} "{".".join(_named(path)[-2:])}"'


def _named(path: list[str]) -> list[str]:
    return [part for part in path if part not in ("NAME", "N")]


def _fits(parts: list[str], wanted: list[str]) -> bool:
    if len(parts) != len(wanted):
        return False
    return all(part in ("NAME", "N") or part == want for part, want in zip(parts, wanted, strict=True))
