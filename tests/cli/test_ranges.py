"""Ranges from outside: the same bytes for the same seed, and what is asked wrongly."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

import barrowful

Call = Callable[..., Any]
DEMO = Path(__file__).parents[2] / "demo"


def test_the_same_file_and_seed_give_the_same_bytes(ask: Call) -> None:
    """Asked twice the answer is the same to the byte; with another seed it is another."""
    path = DEMO / "odd-bucket-yard.yaml"
    words = ("options", path, "--ranges", "--draws", "150", "--format", "json")
    first, again, other = ask(*words), ask(*words, "--seed", "1"), ask(*words, "--seed", "2")
    assert first.out == again.out != other.out


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--draws", "200"), "--draws and --seed go with --ranges"),
        (("--ranges", "--draws", "5"), "100<=x<=100000"),
        (("--ranges", "--seed", "-1"), "0<=x<=4294967295"),
        (("--table", "drivers"), 'the table "drivers" is there with --ranges'),
    ],
)
def test_what_is_asked_wrongly_is_refused(words: tuple[str, ...], says: str, ask: Call) -> None:
    """Each is refused with exit code 2 and what would be right."""
    done = ask("options", *words)
    assert (done.code, done.out) == (2, b"")
    assert says in done.err


def test_without_numpy_it_says_what_to_install(tmp_path: Path) -> None:
    """Where numpy is missing there is one line with what installs it, and exit code 2."""
    (tmp_path / "numpy.py").write_text("raise ImportError('none here')\n", "utf-8")
    source = Path(barrowful.__file__).parents[1]
    environment = {**os.environ, "PYTHONPATH": os.pathsep.join([str(tmp_path), str(source)])}
    command = [sys.executable, "-m", "barrowful", "sizes", str(DEMO / "odd-bucket-yard.yaml"), "--ranges"]
    done = subprocess.run(command, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr == "barrowful: ranges need numpy: pip install 'barrowful[full]'\n"
