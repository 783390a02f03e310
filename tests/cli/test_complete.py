"""Words completed for the shells: names of the site named, of the catalogue, keys; and never a complaint."""

from __future__ import annotations

import shlex
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from barrowful.cli.main import cli
from barrowful.cli.shells import ASKED, complete

Words = Callable[..., list[str]]
YARD = "odd-bucket-yard"


@pytest.fixture
def words(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Words:
    """Give a function that returns what a shell gets for the last of some words, with nothing else said."""

    def ask(*line: str, shell: str = "zsh") -> list[str]:
        here = ["barrowful", *line]
        monkeypatch.setenv(ASKED, f"{shell}_complete")
        monkeypatch.setenv("COMP_WORDS", "\n".join(map(shlex.quote, here)))
        monkeypatch.setenv("COMP_CWORD", shlex.quote(line[-1]) if shell == "fish" else str(len(line)))
        assert complete(cli) == 0
        out, err = capsys.readouterr()
        assert err == ""
        lines = out.splitlines()
        if shell == "bash" or (lines and "," in lines[0]):  # fish too, with older click
            return [text.partition(",")[2].partition("\t")[0] for text in lines]
        return lines[1::3]

    return ask


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_names_of_the_site_on_the_line(words: Words, demos: dict[str, Path], shell: str) -> None:
    """Ways and places are those of the file, or of the sample where none is named; in bash spaces are escaped."""
    yard, space = str(demos[YARD]), "\\ " if shell == "bash" else " "
    assert words("orders", yard, "--way", "depot", shell=shell) == [
        f"depot{space}topsoil",
        f"depot{space}compost",
    ]
    assert words("course", "--way", "lane", shell=shell) == [f"lane{space}chip"]
    assert words("log", yard, "--place", "new", shell=shell) == [f"new{space}frames"]
    counts = words("sizes", yard, "--set", "places.herb", shell=shell)
    assert f"places.herb{space}tubs.needs.dress.depth=" in counts
    assert f"places.herb{space}tubs.count=" in counts


def test_words_of_the_catalogue_and_keys(words: Words, demos: dict[str, Path]) -> None:
    """Tables, materials behind an amount, figures and keys are completed without a site."""
    assert words("options", "--table", "") == ["options", "whole_site", "growing", "choices", "drivers"]
    assert words("heap", "--of", "12 bucket coffee") == ["12 bucket coffee grounds"]
    assert words("heap", str(demos["dry-thimble-terraces"]), "--of", "goat") == ["goat manure"]
    assert "rates" in words("figures", "r")
    assert words("explain", "depth_p") == ["depth_per_year"]
    assert words("explain", "ways.NAME.buy.pri") == ["ways.NAME.buy.price"]


def test_nothing_is_said_where_nothing_is_known(words: Words, tmp_path: Path) -> None:
    """A file that is not there or not YAML, a command there is not, a closed list: no word, and no error."""
    broken = tmp_path / "broken.yaml"
    broken.write_text("places: [{name: a\n\t]: {", encoding="utf-8")
    odd = tmp_path / "odd.yaml"
    odd.write_text("ways: {a: b}\nplaces: 3\nmaterials: [x]\n", encoding="utf-8")
    for file in (str(tmp_path / "none.yaml"), str(broken), str(tmp_path), "-"):
        assert words("orders", file, "--way", "") == []
    assert words("log", str(odd), "--place", "") == []
    assert "--way" not in words("nonsense", "--way", "")
    assert words("orders", "--no-such", "x", "--way") == ["--way"]


def test_bash_takes_the_words_apart_as_meant(demos: dict[str, Path], tmp_path: Path) -> None:
    """The function that bash gets fills the reply with whole names, quoted or escaped, through a real bash."""
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("bash is not on this machine")
    program = tmp_path / "barrowful"
    program.write_text(f'#!/bin/sh\nexec {shlex.quote(sys.executable)} -m barrowful "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    script = f"""
        PATH={shlex.quote(str(tmp_path))}:$PATH
        eval "$(_BARROWFUL_COMPLETE=bash_source barrowful)"
        COMP_WORDS=(barrowful orders {shlex.quote(str(demos[YARD]))} --way 'street\\ t') COMP_CWORD=4
        _barrowful_completion barrowful
        printf '[%s]' "${{COMPREPLY[@]}}"
        COMP_WORDS[4]='"street t'
        _barrowful_completion barrowful
        printf '[%s]' "${{COMPREPLY[@]}}"
    """
    done = subprocess.run([bash, "--norc", "-c", script], capture_output=True, text=True, check=False)
    assert (done.stdout, done.stderr) == (r"[street\ tree\ chip][street tree chip]", "")
