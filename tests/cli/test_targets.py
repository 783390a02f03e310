"""Files an answer may not go to: refused before anything is written, by whatever name they go."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
Refused = Callable[..., str]
Start = Callable[..., "subprocess.Popen[bytes]"]


def test_a_chart_onto_the_site(small: Path, tmp_path: Path, refused: Refused) -> None:
    """--chart onto the site file is refused, and the answer is not written either."""
    link, twin = tmp_path / "link.svg", tmp_path / "twin.svg"
    link.symlink_to(small)
    os.link(small, twin)
    for chart in (small, link, twin, tmp_path / "." / small.name):
        said = refused("course", small, "--chart", chart, "-o", tmp_path / "out.txt")
        assert "--chart" in said
        assert "site file itself" in said


@pytest.mark.parametrize("there", ["neither", "one", "both"])
def test_a_chart_onto_the_answer(small: Path, tmp_path: Path, there: str, refused: Refused) -> None:
    """--chart and -o onto one file are refused, whether it is there, or only will be."""
    folder = tmp_path / "answers"
    folder.mkdir()
    chart, link = folder / "a.svg", tmp_path / "link.svg"
    if there != "neither":
        chart.write_bytes(b"old")
    link.symlink_to(chart)
    names = [chart, folder / ".." / "answers" / "a.svg", link]
    names += [folder / "A.SVG"] if there == "neither" else []
    if there == "both":
        twin = folder / "twin.svg"
        os.link(chart, twin)
        names.append(twin)
    for name in names:
        said = refused("course", small, "--chart", chart, "-o", name, folder=folder)
        assert "a name of its own" in said


def test_a_chart_beside_the_answer(call: Call, small: Path, tmp_path: Path) -> None:
    """Two files get what is theirs."""
    chart, out = tmp_path / "a.svg", tmp_path / "a.txt"
    assert call("course", small, "--chart", chart, "-o", out).code == 0
    assert b"<svg" in chart.read_bytes()
    assert out.read_bytes() == call("course", small).out


@pytest.mark.parametrize("option", ["-o", "--chart"])
@pytest.mark.parametrize("there", [False, True])
def test_onto_the_backup(small: Path, tmp_path: Path, option: str, there: bool, refused: Refused) -> None:
    """Neither may be where the log keeps the site file as it was, whether it has done so or not."""
    folder = tmp_path / "elsewhere"
    folder.mkdir()
    site, link, backup = folder / "site.yaml", folder / "link.svg", tmp_path / "small.yaml.bak"
    site.symlink_to(small)
    link.symlink_to(backup)
    if there:
        backup.write_bytes(b"as it was")
    for used in (small, site):
        for name in (backup, link, folder / ".." / backup.name):
            said = refused("course", used, option, name)
            assert "kept as it was" in said


@pytest.mark.parametrize("name", ["other.yaml", "other.YML", "other"])
@pytest.mark.parametrize("option", ["-o", "--chart"])
def test_onto_another_site_file(
    small: Path, tmp_path: Path, option: str, name: str, refused: Refused
) -> None:
    """A site file that is not the one in use is not written over either, with whatever name and links."""
    other, link = tmp_path / name, tmp_path / "link.svg"
    other.write_bytes(b"# other\n" + small.read_bytes())
    link.symlink_to(other)
    for target in (other, link):
        said = refused("course", small, option, target)
        assert "holds a site file" in said
    for words in (["figures"], ["explain"], ["check", small], ["whatif", small, "--set", "site=x"]):
        assert "holds a site file" in refused(*words, "-o", other)


def test_onto_a_file_that_only_a_name_makes_a_site(
    call: Call, small: Path, tmp_path: Path, refused: Refused
) -> None:
    """A file that ends in .yaml is taken for a site file whatever it holds; a new one of that name is not there yet."""
    other = tmp_path / "notes.yaml"
    other.write_bytes(b"- a list\n")
    refused("sizes", small, "-o", other)
    other.unlink()
    assert call("sizes", small, "-o", other).code == 0


@pytest.mark.parametrize("form", ["table", "csv", "json", "markdown"])
def test_onto_an_older_answer(call: Call, small: Path, tmp_path: Path, form: str) -> None:
    """An answer of before is written over, for it is no site file, whatever words it holds."""
    out = tmp_path / "out"
    for _ in range(2):
        assert call("options", small, "--format", form, "-o", out).code == 0
    out.write_bytes(b"site: this is where\nplaces: it is\n")
    assert call("sizes", small, "-o", out).code == 0


def test_the_site_on_standard_input(start: Start, small: Path) -> None:
    """A site that comes by standard input is not written over either."""
    before = small.read_bytes()
    twin = small.parent / "twin"
    os.link(small, twin)
    for target in (small, twin):
        with small.open("rb") as handle:
            process = start("sizes", "-", "-o", target, stdin=handle, stdout=subprocess.PIPE)
            said, wrong = process.communicate(timeout=600)
        assert (process.returncode, said) == (2, b"")
        assert "site file itself" in wrong.decode()
    assert small.read_bytes() == before


def test_a_device_is_written_to(call: Call, small: Path) -> None:
    """A device takes what it is given."""
    assert call("sizes", small, "-o", os.devnull).code == 0


def test_a_target_is_refused_before_the_site_is_read(tmp_path: Path, refused: Refused) -> None:
    """What is wrong with the target is told first: a site file with problems has not been looked at."""
    site = tmp_path / "site.yaml"
    site.write_bytes(b"colour: blue\n")
    assert "colour" not in refused("options", site, "-o", site)
