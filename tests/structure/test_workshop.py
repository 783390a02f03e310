"""The workshop: one version number, dependencies declared as they are used, the same checks everywhere."""

from __future__ import annotations

import re
import runpy
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest
import yaml

import barrowful

ROOT = Path(__file__).parents[2]
#: What is imported under another name than it is installed by.
INSTALLED_AS = {"yaml": "pyyaml"}


@pytest.fixture(scope="module")
def project() -> dict[str, Any]:
    """Give pyproject.toml."""
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def lowest() -> dict[str, Any]:
    """Give what .ci/lowest.py defines."""
    return runpy.run_path(str(ROOT / ".ci" / "lowest.py"))


def names(requirements: list[str]) -> set[str]:
    """Return the names of what is required."""
    return {re.split(r"[^\w.-]", line)[0] for line in requirements}


def test_the_version_stands_in_one_place(project: dict[str, Any], modules: list[Any]) -> None:
    """The build reads the version from the package, where it stands once, and the changelog knows it."""
    assert "version" not in project["project"]
    assert project["project"]["dynamic"] == ["version"]
    assert project["tool"]["hatch"]["version"] == {"path": "src/barrowful/__init__.py"}
    assert [one.where for one in modules if "__version__ =" in one.source] == ["__init__.py"]
    changelog = (ROOT / "docs" / "changelog.md").read_text(encoding="utf-8")
    releases = re.findall(r"^## ([0-9.]+)\b", changelog, re.MULTILINE)
    assert barrowful.__version__ == releases[0]


def test_what_is_imported_is_declared(project: dict[str, Any], modules: list[Any]) -> None:
    """The package imports what it declares, for itself and for charts, and declares nothing else."""
    known = {*sys.stdlib_module_names, "barrowful"}
    imported = {name.split(".")[0] for one in modules for name, _ in one.imports()} - known
    declared = names(project["project"]["dependencies"])
    extra = names(project["project"]["optional-dependencies"]["full"])
    assert {INSTALLED_AS.get(name, name) for name in imported} == declared | extra
    assert declared == {"click", "pint", "pyyaml", "tabulate", "wcwidth"}


def test_every_dependency_has_a_lowest_version(project: dict[str, Any], lowest: dict[str, Any]) -> None:
    """What is built, run, tested and checked with has a lowest version, and no two different ones."""
    extras = project["project"]["optional-dependencies"]
    declared = list(lowest["requirements"](project, list(extras)))
    constraints = {lowest["lowest"](line) for line in declared}
    everything = [*project["build-system"]["requires"], *project["project"]["dependencies"]]
    everything += [line for lines in extras.values() for line in lines]
    assert {line.split("==")[0] for line in constraints} == names(everything) - {"barrowful"}
    assert len(constraints) == len({line.split("==")[0] for line in constraints})
    assert lowest["lowest"]("tool>=0.17,<0.18") == "tool==0.17"
    assert lowest["lowest"]("tool[more]>=0.17") == "tool==0.17"


@pytest.mark.parametrize("line", ["tool", "tool==1.0", "tool<2", "tool>=1.0; python_version < '3.12'"])
def test_a_dependency_without_a_lowest_version_is_refused(line: str, lowest: dict[str, Any]) -> None:
    """A requirement that is not "name>=version" stops the script, which names it."""
    with pytest.raises(SystemExit, match=re.escape(line)):
        lowest["lowest"](line)


def test_the_pythons_named_begin_with_the_lowest(project: dict[str, Any]) -> None:
    """The classifiers name minor versions without a gap from the one that is required; .ci/run knows it."""
    lines = "\n".join(project["project"]["classifiers"])
    minors = [int(minor) for minor in re.findall(r":: Python :: 3\.([0-9]+)$", lines, re.MULTILINE)]
    assert project["project"]["requires-python"] == f">=3.{minors[0]}"
    assert minors == list(range(minors[0], minors[-1] + 1))
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert f"sys.version_info < (3, {minors[0]})" in script
    assert f'[ "$oldest" = 3.{minors[0]} ]' in script


def test_how_many_cases_are_drawn_is_said_in_one_place() -> None:
    """No test counts its drawn cases by itself, so that all of them follow what the run asks for."""
    counting = [
        path.name
        for path in sorted((ROOT / "tests").rglob("*.py"))
        if re.search(r"max_examples *=", path.read_text(encoding="utf-8"))
    ]
    assert counting == ["draws.py"]


def test_the_same_checks_everywhere() -> None:
    """The checks that .ci/run runs are those that git runs before a commit and that developers are told of."""
    script = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    listed = re.search(r"^checks=\(\n(.*?)^\)$", script, re.MULTILINE | re.DOTALL)
    doctests = re.search(r'^doctests="(.*)"$', script, re.MULTILINE)
    assert listed is not None
    assert doctests is not None
    checks = re.findall(r'^    "(.*)"$', listed[1], re.MULTILINE)
    assert len(checks) >= 4
    (hooks,) = yaml.safe_load((ROOT / ".pre-commit-config.yaml").read_text(encoding="utf-8"))["repos"]
    assert [hook["entry"] for hook in hooks["hooks"]] == checks
    told = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    blocks = "\n".join(re.findall(r"^```sh\n(.*?)^```$", told, re.MULTILINE | re.DOTALL))
    commands = [command.strip() for command in re.split(r"&&|\n", blocks)]
    assert {*checks, doctests[1], "python -m pytest"} <= set(commands)
