"""The same bytes wherever it runs, and no more imported than a command needs."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from barrowful.tables.formats import FORMATS

Environment = Callable[..., dict[str, str]]
#: Runs commands one after another in a fresh process, all output in one stream.
MANY = """
import sys
from barrowful.cli.main import exit_code
for words in {words!r}:
    print('#', *words, exit_code(words), flush=True)
"""
COMMANDS = [
    ["--help"], ["check", "{demo}"], ["options", "{demo}"], ["options", "{demo}", "--format", "json",
    "--by", "place"],
    ["options", "{demo}", "--format", "markdown", "--all-cautions"], ["orders", "{demo}", "--format", "csv"],
    ["sizes", "{demo}", "--measures", "customary"], ["heap", "{demo}"],
    ["course", "{demo}", "--format", "json"], ["ledger", "{demo}", "--format", "plain"],
    ["whatif", "{demo}", "--set", "places.old apples.count=14", "--format", "json"], ["figures",
    "--format", "json"],
    ["begin"], ["explain", "collar"], ["check", "{spoilt}"], ["options", "{spoilt}"], ["orders",
    "{demo}", "--way", "x"],
]  # fmt: skip


@pytest.fixture(scope="module")
def output(
    environment: Environment, tmp_path_factory: pytest.TempPathFactory, demos: dict[str, Path]
) -> Callable[..., tuple[bytes, bytes]]:
    """Give a function that runs the commands under an environment and returns what both streams said."""
    folder = tmp_path_factory.mktemp("same")
    spoilt = folder / "spoilt.yaml"
    spoilt.write_text("site: café\nplases: []\ncurrency: EUR\nstart: morgen\nwyas: []\n", encoding="utf-8")
    known = {"{demo}": str(demos["crooked-ladle-orchard"]), "{spoilt}": str(spoilt)}
    words = [[known.get(word, word) for word in command] for command in COMMANDS]

    def run(**changes: str | None) -> tuple[bytes, bytes]:
        done = subprocess.run(
            [sys.executable, "-c", MANY.format(words=words)], env=environment(**changes), cwd=folder,
            stdin=subprocess.DEVNULL, capture_output=True, timeout=600, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr.decode("utf-8", "replace")
        return done.stdout, done.stderr

    return run


@pytest.fixture(scope="module")
def usual(output: Callable[..., tuple[bytes, bytes]]) -> tuple[bytes, bytes]:
    """Give what the commands say in a plain environment."""
    return output(
        PYTHONHASHSEED="0",
        LC_ALL="C.UTF-8",
        TZ="UTC",
        NO_COLOR=None,
        FORCE_COLOR=None,
        COLUMNS=None,
        PYTHONUTF8=None,
    )


ELSEWHERE: dict[str, dict[str, str | None]] = {
    "another order of hashes, colours wanted": {
        "PYTHONHASHSEED": "4242", "FORCE_COLOR": "1", "CLICOLOR_FORCE": "1", "TERM": "xterm-256color",
    },
    "no locale, ASCII streams, no colours": {
        "LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0", "NO_COLOR": "1", "TERM": "dumb",
    },
    "a locale with commas, far away, warnings are errors": {
        "LC_ALL": "de_DE.UTF-8", "LANG": "de_DE.UTF-8", "TZ": "Pacific/Kiritimati", "PYTHONWARNINGS": "error",
        "PYTHONWARNDEFAULTENCODING": "1",
    },
}  # fmt: skip


@pytest.mark.parametrize("changes", ELSEWHERE.values(), ids=ELSEWHERE)
def test_the_same_bytes(
    changes: dict[str, str | None], output: Callable[..., tuple[bytes, bytes]], usual: tuple[bytes, bytes]
) -> None:
    """Hash order, locale, time zone, colours and warnings change no byte of standard output."""
    out, err = output(**{"PYTHONHASHSEED": "1", **changes})
    assert out == usual[0]
    assert err.replace(b"caf\\xe9", "café".encode()) == usual[1]


def test_what_is_said_has_no_escape_codes(usual: tuple[bytes, bytes]) -> None:
    """No command sends escape codes, and the answers are all there."""
    assert b"\x1b" not in usual[0] + usual[1]
    codes = [line.split()[-1] for line in usual[0].decode().splitlines() if line.startswith("# ")]
    assert len(codes) >= len(COMMANDS)
    assert usual[0].count(b"\n# check") == 2
    assert b"caf\xc3\xa9" not in usual[1]


#: What draws tables for people.
DRAWING = ("tabulate", "wcwidth")
HEAVY = (*DRAWING, "pint", "yaml", "numpy", "tomllib", "matplotlib", "highspy", "jsonschema", "scipy")
LIGHT = """
import json, os, sys
from barrowful.cli.main import COMMANDS, exit_code
found = {}
def loaded(label):
    found[label] = [name for name in %r if name in sys.modules]
loaded("the group itself")
sys.stdout = open(os.devnull, "w", encoding="utf-8")
for words in (["--help"], ["--version"], ["-h"], *([name, "--help"] for name in COMMANDS), ["nonsense"], []):
    exit_code(words)
    loaded(" ".join(words))
sys.stdout = sys.__stdout__
print(json.dumps(found))
"""


def test_help_loads_nothing_heavy(environment: Environment) -> None:
    """--help, --version and the help of every command start without units, tables, YAML or the catalogue."""
    done = subprocess.run(
        [sys.executable, "-c", LIGHT % (HEAVY,)],
        env=environment(),
        capture_output=True,
        timeout=600,
        check=True,
    )
    found = json.loads(done.stdout)
    assert len(found) > 10
    assert {label: names for label, names in found.items() if names} == {}


#: Answers in one format after another and tells after each what draws tables and is there.
FORM_BY_FORM = """
import json, os, sys
from barrowful.cli.main import exit_code
drawing, forms = json.loads(sys.argv[1])
found, sys.stdout = {}, open(os.devnull, "w", encoding="utf-8")
for form in forms:
    code = exit_code(["options", "--format", form])
    found[form] = [code, *(name for name in drawing if name in sys.modules)]
sys.__stdout__.write(json.dumps(found))
"""


def test_only_a_table_for_people_loads_what_draws_it(environment: Environment) -> None:
    """A table on a screen is drawn by tabulate; what machines read is written without it."""
    forms = sorted(FORMATS, key=lambda form: form == "table")
    done = subprocess.run(
        [sys.executable, "-c", FORM_BY_FORM, json.dumps([DRAWING, forms])],
        env=environment(), capture_output=True, check=True, text=True,
    )  # fmt: skip
    assert json.loads(done.stdout) == {form: [0, *(DRAWING if form == "table" else ())] for form in forms}


@pytest.mark.parametrize(
    ("typed", "offered"),
    [("barrowful o", {"options", "orders"}), ("barrowful options --format j", {"json"})],
)  # fmt: skip
def test_completion_is_light(typed: str, offered: set[str], environment: Environment) -> None:
    """Completing a word in the shell offers what fits and loads nothing heavy."""
    words = typed.split(" ")
    script = (
        "import sys\nfrom barrowful.cli.main import exit_code\ncode = exit_code([])\n"
        f"sys.stderr.write(','.join(name for name in {HEAVY!r} if name in sys.modules))\nsys.exit(code)"
    )
    done = subprocess.run(
        [sys.executable, "-c", script],
        env=environment(
            _BARROWFUL_COMPLETE="bash_complete", COMP_WORDS=typed, COMP_CWORD=str(len(words) - 1)
        ),
        capture_output=True, timeout=600, check=True, text=True,
    )  # fmt: skip
    assert offered <= {line.partition(",")[2] for line in done.stdout.splitlines()}
    assert done.stderr == ""
