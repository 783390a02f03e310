"""What the tests of the site file share: reading as an editor reads, and the problems of a text."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import yaml

from barrowful.measures.problems import Problem, SiteProblems
from barrowful.site.load import load

DEMO = Path(__file__).parents[2] / "demo"


class EditorLoader(yaml.SafeLoader):
    """YAML 1.2 as the servers behind editors read it: only these are not text."""

    yaml_implicit_resolvers: dict[str, list[tuple[str, re.Pattern[str]]]] = {}  # noqa: RUF012


for tag, pattern, firsts in (
    ("bool", r"true|True|TRUE|false|False|FALSE", "tTfF"),
    ("int", r"[-+]?[0-9]+", "-+0123456789"),
    ("float", r"[-+]?(\.[0-9]+|[0-9]+(\.[0-9]*)?)([eE][-+]?[0-9]+)?|[-+]?\.(inf|Inf|INF)|\.(nan|NaN|NAN)",
     "-+.0123456789"),
    ("null", r"null|Null|NULL|~|", "nN~"),
):  # fmt: skip
    EditorLoader.add_implicit_resolver(f"tag:yaml.org,2002:{tag}", re.compile(f"({pattern})$"), [*firsts, ""])


@pytest.fixture(scope="session")
def as_editor() -> Callable[[str], Any]:
    """Give a function that reads YAML as an editor does: whole numbers, numbers, true and false, and text."""

    def read(text: str) -> Any:
        return yaml.load(text, Loader=EditorLoader)

    return read


@pytest.fixture(scope="session")
def problems_of() -> Callable[[str], tuple[Problem, ...]]:
    """Give a function that loads a text and returns its problems: none for a sound one."""

    def load_it(text: str) -> tuple[Problem, ...]:
        try:
            load(text.encode("utf-8"), "field.yaml")
        except SiteProblems as found:
            return found.problems
        return ()

    return load_it


@pytest.fixture(scope="session")
def demos() -> dict[str, str]:
    """Give the text of every demo file by its name."""
    return {path.stem: path.read_text(encoding="utf-8") for path in sorted(DEMO.glob("*.yaml"))}
