"""Each module by itself: its size, its words, and that it can be imported alone."""

from __future__ import annotations

import ast
import importlib
import inspect
import json
import os
import subprocess
import sys
from graphlib import TopologicalSorter
from pathlib import Path
from typing import Any

import barrowful

MOST_LINES, MOST_IN_A_FUNCTION = 300, 40
ROOT = Path(__file__).parents[2]


def test_modules_are_short(modules: list[Any]) -> None:
    """A module has at most 300 lines."""
    long = {
        one.where: len(one.source.splitlines())
        for one in modules
        if len(one.source.splitlines()) > MOST_LINES
    }
    assert long == {}


def code_lines(node: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Return the lines of a function from its def on, without its docstring."""
    assert node.end_lineno is not None
    lines = node.end_lineno - node.lineno + 1
    first = node.body[0]
    if ast.get_docstring(node) is not None:
        assert first.end_lineno is not None
        lines -= first.end_lineno - first.lineno + 1
    return lines


def test_functions_are_short(modules: list[Any]) -> None:
    """A function has at most 40 lines beside its docstring, and half of them at most 12."""
    sizes = {f"{one.where}: {node.name}": code_lines(node) for one in modules for node in one.functions()}
    assert {name: size for name, size in sizes.items() if size > MOST_IN_A_FUNCTION} == {}
    assert sorted(sizes.values())[len(sizes) // 2] <= 12


def test_everything_public_has_its_sentence(modules: list[Any]) -> None:
    """Every module, and every public class, function and method says in a sentence what it is for."""
    bare = []
    for one in modules:
        if one.where == "__main__.py":
            continue
        module = importlib.import_module(one.name)
        if not sentence(module.__doc__):
            bare.append(one.where)
        for name, value in vars(module).items():
            own = getattr(value, "__module__", None) == one.name
            if name.startswith("_") or not own or not (inspect.isclass(value) or callable(value)):
                continue
            if not sentence(inspect.getdoc(getattr(value, "callback", value))):
                bare.append(f"{one.where}: {name}")
            for method, inner in vars(value).items() if inspect.isclass(value) else ():
                code = inner.fget if isinstance(inner, property) else getattr(inner, "func", inner)
                if (
                    not method.startswith("_")
                    and inspect.isfunction(code)
                    and not described(value, method, code)
                ):
                    bare.append(f"{one.where}: {name}.{method}")
    assert bare == []


def described(owner: type, method: str, code: Any) -> bool:
    """Say whether a method has a sentence, its own or that of what it overrides; from outside none is due."""
    bases = [base for base in owner.__mro__[1:] if method in vars(base)]
    if any(not base.__module__.startswith("barrowful") for base in bases):
        return True
    inherited = [vars(base)[method] for base in bases]
    return any(sentence(inspect.getdoc(getattr(one, "fget", one))) for one in (code, *inherited))


def sentence(words: str | None) -> bool:
    """Say whether a docstring begins with a sentence."""
    if not words:
        return False
    first = words.strip().split("\n\n")[0]
    return first.rstrip().endswith((".", "?", ":")) and len(first) > 3


#: Imports modules one after another, and tells what each brings of the package that was not there before.
ONE_BY_ONE = """
import importlib, json, sys
there, brings = set(), {}
for name in json.loads(sys.argv[1]):
    importlib.import_module(name)
    now = {each for each in sys.modules if each.partition(".")[0] == "barrowful"}
    brings[name] = sorted(now - there)
    there = now
print(json.dumps(brings))
"""


def test_every_module_imports_alone(modules: list[Any]) -> None:
    """Each module can be the first of the package to be imported, with every warning an error.

    No module needs itself to be loaded, however far about; and loaded after what they need, each brings itself
    and nothing else. So none leans on another that happened to be there, nor on one that is not yet.
    """
    needs = {one.name: one.needs_to_load(modules) for one in modules if one.where != "__main__.py"}
    order = [*TopologicalSorter(needs).static_order()]
    assert len(order) > 50
    environment = {**os.environ, "PYTHONPATH": str(Path(barrowful.__file__).parents[1])}
    done = subprocess.run(
        [sys.executable, "-W", "error", "-c", ONE_BY_ONE, json.dumps(order)],
        env=environment, capture_output=True, text=True, timeout=600, check=False,
    )  # fmt: skip
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout) == {name: [name] for name in order}


def test_the_package_says_that_it_is_typed() -> None:
    """The marker for type checkers is there, beside the version."""
    assert (Path(barrowful.__file__).parent / "py.typed").exists()
    assert barrowful.__version__


def test_the_top_of_the_repository_holds_what_it_should() -> None:
    """Beside dotfiles and what building leaves, the top level holds the few names agreed."""
    wanted = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "src", "tests", "demo", "docs"}
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found - {"build", "dist", "__pycache__"} == wanted
