"""The layers: data flows one way, and each folder imports only itself and what lies below it."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from typing import Any

#: From the bottom up.
LAYERS = (
    "measures",
    "ground",
    "catalogue",
    "sitefile",
    "site",
    "costs",
    "soil",
    "supplies",
    "needs",
    "answers",
    "planning",
    "jobs",
    "tables",
    "reports",
    "cli",
)
#: Layers that may import less than all that lies below them.
ONLY = {"ground": {"measures"}, "measures": set(), "sitefile": {"measures", "ground", "catalogue"}}

#: The modules beside the layers, and what each opens.
DOORS: dict[str, set[str]] = {
    "__init__.py": set(),
    "__main__.py": {"cli"},
    "library.py": set(LAYERS) - {"cli"},
    "relations.py": {"ground", "measures"},
}

#: Packages from outside -> where in the package they may be imported.
OUTSIDE = {
    "click": ("cli/",),
    "tabulate": ("tables/writers/text.py",),
    "wcwidth": ("tables/writers/widths.py",),
    "yaml": ("sitefile/text/",),
    "pint": ("measures/quantities.py",),
    "numpy": ("measures/", "planning/solver.py", "tables/"),
    "highspy": ("planning/engine.py", "planning/solver.py"),
    "matplotlib": ("tables/",),
}
#: What a module that reckons may not know: files, clocks, luck, the environment, other processes.
WORLD = {
    "os",
    "sys",
    "io",
    "time",
    "pathlib",
    "shutil",
    "tempfile",
    "subprocess",
    "random",
    "secrets",
    "logging",
    "platform",
    "getpass",
    "threading",
    "signal",
    "glob",
}
#: Layers that read the catalogue or files, or write to a screen.
SEE_THE_WORLD = {"measures", "catalogue", "sitefile", "tables", "cli"}
NEVER = {
    "socket",
    "ssl",
    "urllib",
    "http",
    "ftplib",
    "smtplib",
    "asyncio",
    "requests",
    "webbrowser",
    "xmlrpc",
    "pickle",
    "marshal",
    "shelve",
    "locale",
    "ctypes",
    "multiprocessing",
}


def layer_of(name: str) -> str:
    """Return the layer of a module of the package by its dotted name, nothing for the package itself."""
    parts = name.split(".")
    return parts[1] if len(parts) > 1 and parts[1] in LAYERS else ""


def test_every_folder_is_a_layer(modules: list[Any]) -> None:
    """No folder of the package stands outside the order, and no layer is empty."""
    assert {one.layer for one in modules} - {""} == set(LAYERS)
    assert {one.where for one in modules if not one.layer} == set(DOORS)


def test_imports_go_down(modules: list[Any]) -> None:
    """A module imports its own layer and those below, wherever in it the import stands."""
    wrong = []
    for one in modules:
        allowed = set(LAYERS[: LAYERS.index(one.layer) + 1]) if one.layer else DOORS[one.where]
        allowed = ONLY.get(one.layer, allowed) | {one.layer}
        for name, line in one.imports():
            if name.split(".")[0] == "barrowful" and layer_of(name) and layer_of(name) not in allowed:
                wrong.append(f"{one.where}:{line}: {name}")
    assert sorted(set(wrong)) == []


def test_only_needs_and_supplies_bring_ground_and_costs_together(modules: list[Any]) -> None:
    """What a thing does to the ground and what it costs meet where ways serve needs, nowhere else."""
    both = [
        one.where
        for one in modules
        if one.layer not in {"supplies", "needs", "answers"}
        and {"ground", "costs"} <= {layer_of(name) for name, _ in one.imports()}
    ]
    assert both == []


def test_packages_from_outside_stay_in_their_place(modules: list[Any]) -> None:
    """Each package from outside is imported only where it belongs."""
    wrong = [
        f"{one.where}:{line}: {name}"
        for one in modules
        for name, line in one.imports()
        if name.split(".")[0] in OUTSIDE and not one.where.startswith(OUTSIDE[name.split(".")[0]])
    ]
    assert sorted(set(wrong)) == []


def test_records_know_nothing_of_files(modules: list[Any]) -> None:
    """The records of a site import neither the site file nor YAML, and each of them is frozen."""
    found = [one for one in modules if one.where in {"site/records.py", "site/needs.py", "site/ways.py"}]
    for one in found:
        assert not [name for name, _ in one.imports() if layer_of(name) == "sitefile" or "yaml" in name]
    classes = [node for one in found for node in one.tree.body if isinstance(node, ast.ClassDef)]
    assert len(classes) > 20
    for node in classes:
        decorators = [ast.unparse(one) for one in node.decorator_list]
        assert any("fixed" in one and "frozen=True" in one for one in decorators), node.name


def test_no_network_and_no_hidden_state(modules: list[Any]) -> None:
    """No module of the package imports what opens a connection, sets a locale or runs stored code."""
    wrong = [
        f"{one.where}:{line}: {name}"
        for one in modules
        for name, line in one.imports()
        if name.split(".")[0] in NEVER
    ]
    assert sorted(set(wrong)) == []


def calls(tree: ast.Module) -> Iterator[tuple[str, int]]:
    """Yield the dotted name of everything that is called, with its line."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call):
            yield ast.unparse(node.func), node.lineno


def test_nothing_is_evaluated(modules: list[Any]) -> None:
    """No text is ever run: no eval, exec or compile, and no import by a name that came from outside."""
    wrong = [
        f"{one.where}:{line}: {name}"
        for one in modules
        for name, line in calls(one.tree)
        if name in {"eval", "exec", "compile", "__import__"}
        or (
            name in {"import_module", "importlib.import_module"}
            and one.where not in {"cli/main.py", "relations.py"}
        )
    ]
    assert wrong == []


def test_what_reckons_sees_no_world(modules: list[Any]) -> None:
    """What reckons opens no file, prints nothing, and asks neither clock nor environment."""
    wrong = []
    for one in modules:
        if one.layer not in set(LAYERS) - SEE_THE_WORLD:
            continue
        if one.where == "planning/engine.py":
            continue  # the solver greets on standard output when it is first made: it is kept quiet
        wrong += [
            f"{one.where}:{line}: {name}" for name, line in one.imports() if name.split(".")[0] in WORLD
        ]
        for name, line in calls(one.tree):
            last = name.rpartition(".")[2]
            if name in {"open", "print", "input"} or last in {
                "today",
                "now",
                "utcnow",
                "getenv",
                "read_text",
            }:
                wrong.append(f"{one.where}:{line}: {name}")
    assert sorted(set(wrong)) == []


def test_the_clock_is_asked_nowhere(modules: list[Any]) -> None:
    """Days are arguments: no module asks what day it is."""
    wrong = [
        f"{one.where}:{line}: {name}"
        for one in modules
        for name, line in calls(one.tree)
        if name.rpartition(".")[2] in {"today", "now", "utcnow", "localtime", "gmtime", "time_ns"}
    ]
    assert wrong == []


def test_commands_touch_files_in_one_place(modules: list[Any]) -> None:
    """What a grower names is opened, read and written by the modules that do so safely, and by no command."""
    safe = {"cli/files.py", "cli/lock.py", "cli/targets.py", "cli/streams.py"}
    touching = {"open", "fdopen", "read_text", "write_text", "write_bytes", "unlink", "rename", "mkdir"}
    wrong = [
        f"{one.where}:{line}: {name}"
        for one in modules
        if one.layer in {"cli", "tables"} and one.where not in safe
        for name, line in calls(one.tree)
        if name.rpartition(".")[2] in touching
    ]
    assert wrong == []
