"""Files an answer may not go to: told before anything is read or written."""

from __future__ import annotations

import os
import re
import sys
from itertools import combinations
from pathlib import Path
from unicodedata import normalize

from barrowful.cli.files import backup_of, check_writable
from barrowful.measures.problems import WrongUse

#: How much of a file is looked at to tell a site file, which may have any name.
HEAD = 65_536
NEEDED = re.compile(rb"^[ \t]*[\"']?(site|currency|start|places)[\"']?[ \t]*:", re.MULTILINE)


def check_targets(site: str | None, targets: dict[str, str | None]) -> None:
    """Refuse files to write that would cost the grower another: option -> file, ``-`` or nothing.

    None may be the site file, its backup or any other site file, whatever link or spelling leads there,
    and no two may be one file. One that cannot be written is refused too, as long as nothing is done.
    """
    written = {option: name for option, name in targets.items() if name and name != "-"}
    for option, name in written.items():
        if site and _same(name, site):
            raise WrongUse(f"{option} {name} is the site file itself; choose another file")
        if site and site != "-" and _same(name, backup_of(site)):
            raise WrongUse(f"{option} {name} is where the site file is kept as it was; choose another file")
        if _holds_a_site(Path(name)):
            raise WrongUse(f"{option} {name} holds a site file; choose another file, or move it away")
    _check_apart(written)
    for name in written.values():
        check_writable(Path(name))


def _check_apart(written: dict[str, str]) -> None:
    """Refuse two options with one file."""
    for (option, name), (other, its) in combinations(written.items(), 2):
        if _same(name, its):
            raise WrongUse(f"{option} {name} and {other} {its} are one file; give each a name of its own")


def _same(name: str, other: str | Path) -> bool:
    """Say whether two names are one file, or would be if they were there."""
    try:
        if other == "-":
            return os.path.samestat(os.stat(name), os.fstat(sys.stdin.fileno()))
        if os.path.exists(name) or os.path.exists(other):
            return os.path.samefile(name, other)
    except (OSError, ValueError):
        return False
    return _folded(name) == _folded(other)


def _folded(name: str | Path) -> str:
    """Return where a name leads, the same for names that some systems take for one."""
    return normalize("NFC", os.path.realpath(name)).casefold()


def _holds_a_site(file: Path) -> bool:
    """Say whether a file is there that looks like a site file, by its name or by its first lines."""
    if not file.is_file():
        return False
    if file.suffix.lower() in {".yaml", ".yml"}:
        return True
    try:
        with file.open("rb") as handle:
            head = handle.read(HEAD)
    except OSError:
        return False
    return not head.lstrip().startswith(b"{") and len(set(NEEDED.findall(head))) >= 3
