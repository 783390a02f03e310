"""A starter over a file that is there: what it was is kept, or it stays."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
Refused = Callable[..., str]
Contents = Callable[[Path], dict[str, bytes | None]]


def test_begin_keeps_what_it_writes_over(call: Call, small: Path, contents: Contents) -> None:
    """With --force the file as it was is kept beside it, and that is said."""
    before = small.read_bytes()
    done = call("begin", "--force", "-o", small)
    backup = small.parent / "small.yaml.bak"
    assert (done.code, done.out) == (0, b"")
    assert str(backup) in done.err
    assert contents(small.parent) == {"small.yaml": call("begin").out, "small.yaml.bak": before}


def test_begin_through_a_link(call: Call, small: Path, tmp_path: Path) -> None:
    """Written over through a link, the file it leads to is kept beside that file."""
    (tmp_path / "elsewhere").mkdir()
    link = tmp_path / "elsewhere" / "link.yaml"
    link.symlink_to(small)
    before = small.read_bytes()
    assert call("begin", "--force", "-o", link).code == 0
    assert link.is_symlink()
    assert list((tmp_path / "elsewhere").iterdir()) == [link]
    assert (tmp_path / "small.yaml.bak").read_bytes() == before


@pytest.mark.parametrize("there", [False, True])
def test_begin_onto_a_backup(call: Call, small: Path, tmp_path: Path, there: bool, refused: Refused) -> None:
    """A starter in the place of a backup would be gone with the next change: it is refused."""
    backup = tmp_path / "small.yaml.bak"
    if there:
        backup.write_bytes(b"as it was")
    said = refused("begin", "--force", "-o", backup)
    assert "small.yaml is kept as it was" in said
    small.unlink()
    assert call("begin", "--force", "-o", backup).code == 0


def test_begin_onto_what_it_cannot_keep(call: Call, small: Path, tmp_path: Path, contents: Contents) -> None:
    """A file too large to keep, and one whose backup's name a folder has, stay as they are; a device takes it."""
    large = tmp_path / "large"
    large.touch()
    os.truncate(large, 16_000_001)
    (tmp_path / "small.yaml.bak").mkdir()
    for target, reason in ((large, "larger than 16 MB"), (small, "a folder")):
        before = contents(tmp_path)
        done = call("begin", "--force", "-o", target)
        assert (done.code, done.out) == (5, b"")
        assert reason in done.err
        assert contents(tmp_path) == before
    assert call("begin", "--force", "-o", os.devnull).code == 0


def test_a_starter_names_the_schema_beside_it(call: Call, tmp_path: Path) -> None:
    """The first line names a file for editors, which one command writes there; said until it is there."""
    file, schema = tmp_path / "mine.yaml", tmp_path / "barrowful.schema.json"
    told = f"barrowful schema -o {schema}"
    assert told in call("begin", "-o", file).err
    assert file.read_text("utf-8").splitlines()[0] == f"# yaml-language-server: $schema={schema.name}"
    done = call("schema", "-o", schema)
    assert (done.code, done.out) == (0, b"")
    assert schema.read_bytes() == call("schema").out
    assert told not in call("begin", "--force", "-o", file).err
    assert call("schema", "-o", file).code == 2
