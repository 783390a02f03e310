"""Print the lowest versions that pyproject.toml declares, as constraints for pip; extras by name."""

from __future__ import annotations

import re
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

PROJECT = Path(__file__).resolve().parent.parent / "pyproject.toml"
REQUIREMENT = re.compile(r"(?P<name>[\w.-]+)(\[[\w.,-]+\])? *>= *(?P<version>[\d.]+)(, *<[\d.]+)?")


def requirements(project: dict[str, Any], extras: list[str]) -> Iterator[str]:
    """Yield what building, running and the extras need; an extra that names others brings theirs."""
    yield from project["build-system"]["requires"]
    yield from project["project"]["dependencies"]
    for extra in extras:
        for line in project["project"]["optional-dependencies"][extra]:
            inner = re.fullmatch(rf"{project['project']['name']}\[(.+)\]", line)
            if inner:
                yield from requirements(project, inner[1].split(","))
            else:
                yield line


def lowest(requirement: str) -> str:
    """Return the constraint for a requirement's lowest version, such as ``ruff==0.17``."""
    match = REQUIREMENT.fullmatch(requirement)
    if match is None:
        sys.exit(f'"{requirement}" in pyproject.toml does not say "name>=version"')
    return f"{match['name']}=={match['version']}"


if __name__ == "__main__":
    declared = requirements(tomllib.loads(PROJECT.read_text("utf-8")), sys.argv[1:])
    print("\n".join(dict.fromkeys(map(lowest, declared))))
