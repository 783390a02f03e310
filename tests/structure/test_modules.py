"""Each module by itself: its size, its words, and that it can be imported alone."""

from __future__ import annotations

import ast
import importlib
import inspect
import json
import os
import subprocess
import sys
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


#: Forks before anything of the package is loaded, so that each module is imported into a process of its
#: own that has seen no other. What comes from outside is loaded once, before the forks, and compiled
#: code is kept in a folder of the test's.
ALONE = """
import importlib, json, os, sys, traceback
for name in ("click", "pint", "yaml", "tabulate", "tomllib"):
    importlib.import_module(name)
assert not [name for name in sys.modules if name.startswith("barrowful")]
failed = {}
sys.pycache_prefix, sys.dont_write_bytecode = sys.argv[2], False
for name in json.loads(sys.argv[1]):
    reader, writer = os.pipe()
    child = os.fork()
    if not child:
        try:
            importlib.import_module(name)
        except BaseException:
            os.write(writer, traceback.format_exc()[-2000:].encode())
        os._exit(0)
    os.close(writer)
    with os.fdopen(reader, "rb") as said:
        wrong = said.read().decode()
    _, status = os.waitpid(child, 0)
    if wrong or status:
        failed[name] = wrong or f"status {status}"
print(json.dumps(failed))
"""


def test_every_module_imports_alone(modules: list[Any], tmp_path: Path) -> None:
    """Each module can be the first of the package to be imported, with every warning an error."""
    names = [one.name for one in modules if one.where not in {"__main__.py", "tables/chart.py"}]
    assert len(names) > 50
    source = str(Path(barrowful.__file__).parents[1])
    still = dict.fromkeys(("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS"), "1")
    halves = [
        subprocess.Popen(
            [sys.executable, "-W", "error", "-c", ALONE, json.dumps(names[first::2]), str(tmp_path)],
            env={**os.environ, "PYTHONPATH": source, **still},
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )
        for first in (0, 1)
    ]  # fmt: skip
    for half in halves:
        said, wrong = half.communicate(timeout=600)
        assert (half.returncode, wrong) == (0, "")
        assert json.loads(said) == {}


def test_the_package_says_that_it_is_typed() -> None:
    """The marker for type checkers is there, beside the version."""
    assert (Path(barrowful.__file__).parent / "py.typed").exists()
    assert barrowful.__version__


def test_the_top_of_the_repository_holds_what_it_should() -> None:
    """Beside dotfiles and what building leaves, the top level holds the few names agreed."""
    wanted = {"README.md", "DEVELOPERS.md", "pyproject.toml", "LICENSE", "src", "tests", "demo", "docs"}
    found = {path.name for path in ROOT.iterdir() if not path.name.startswith(".")}
    assert found - {"build", "dist", "__pycache__"} == wanted
