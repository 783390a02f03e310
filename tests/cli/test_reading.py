"""Reading stops a byte after the limit, whatever is read, and what cannot be read is told."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from barrowful.cli import files
from barrowful.sitefile.text.nodes import MOST_BYTES

Call = Callable[..., Any]
Start = Callable[..., "subprocess.Popen[bytes]"]
TOO_LARGE = "the file is larger than 16 MB"


class Endless:
    """A source that never ends, and counts what it was asked for and gave."""

    def __init__(self, most: int) -> None:
        self.given, self.most = 0, most

    def read(self, size: int, /) -> bytes:
        """Return some bytes, fewer than were asked for."""
        given = min(size, self.most)
        self.given += given
        return b"#" * given


@pytest.mark.parametrize("most", [65_536, 999_999, 10**9])
def test_no_more_is_read_than_the_limit_and_one(most: int) -> None:
    """Of a source without end just one byte more is taken than a site file may have."""
    source = Endless(most)
    assert len(files.read_to_limit(source)) == source.given == MOST_BYTES + 1


def test_standard_input_is_read_to_the_limit_and_one(start: Start, tmp_path: Path) -> None:
    """Of a gigabyte on standard input 16 MB and a byte are read, and it is refused for its size."""
    large = tmp_path / "large"
    large.touch()
    os.truncate(large, 2**30)
    with large.open("rb") as handle:
        process = start("check", "-", stdin=handle, stdout=subprocess.PIPE)
        said, _ = process.communicate(timeout=600)
        assert os.lseek(handle.fileno(), 0, os.SEEK_CUR) == MOST_BYTES + 1
    assert process.returncode == 1
    assert TOO_LARGE in said.decode()


@pytest.mark.parametrize("command", ["check", "options", "whatif --set site=x", "figures --site"])
def test_a_file_without_end(command: str, call: Call, tmp_path: Path) -> None:
    """A file larger than any memory, and a device without end, are refused for their size by every command."""
    large = tmp_path / "large.yaml"
    large.touch()
    os.truncate(large, 2**36)
    name, *more = command.split()
    for site in (large, Path("/dev/zero")):
        words = [name, *more, site] if name == "figures" else [name, site, *more]
        done = call(*words)
        assert done.code == 1
        assert TOO_LARGE in (done.text if name == "check" else done.err)


def test_a_file_too_large_is_not_logged_to(call: Call, tmp_path: Path) -> None:
    """Neither does the log write to such a file, or keep a part of it."""
    large = tmp_path / "large.yaml"
    large.touch()
    os.truncate(large, 2**30)
    done = call("log", large, "--date", "2027-03-01", "--place", "beds", "--note", "x")
    assert done.code == 1
    assert TOO_LARGE in done.err
    assert (large.stat().st_size, list(tmp_path.iterdir())) == (2**30, [large])


def test_just_16_mb_are_taken(call: Call, small: Path) -> None:
    """A file of exactly the limit is sound; one byte more is too much; the log does not make it so."""
    text = small.read_bytes() + b"#"
    small.write_bytes(text + b"x" * (MOST_BYTES - len(text)))
    assert call("check", small).code == 0
    done = call("log", small, "--date", "2027-03-01", "--place", "beds", "--note", "x")
    assert done.code == 2
    assert TOO_LARGE in done.err
    assert small.stat().st_size == MOST_BYTES
    assert list(small.parent.iterdir()) == [small]


@pytest.mark.parametrize("command", ["check", "sizes"])
def test_a_pipe_is_read(command: str, call: Call, small: Path, tmp_path: Path) -> None:
    """A site may come through a pipe that has a name."""
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    writer = Thread(target=pipe.write_bytes, args=[small.read_bytes()])
    writer.start()
    done = call(command, pipe)
    writer.join()
    assert (done.code, done.out) == (0, call(command, small).out)


def test_an_empty_device(call: Call) -> None:
    """What holds nothing is told to be empty."""
    done = call("options", os.devnull)
    assert done.code == 1
    assert "the file is empty" in done.err


def test_a_file_that_may_not_be_read(call: Call, small: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that others keep to themselves cannot be read, by whatever command."""

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(os, "access", lambda *_: False)
    monkeypatch.setattr(files, "open", refuse, raising=False)
    for words in (["check"], ["options"], ["log", "--date", "2027-03-01", "--place", "beds", "--note", "x"]):
        done = call(words[0], small, *words[1:])
        assert (done.code, done.out) == (5, b"")
        assert f"cannot read {small}: permission denied" in done.err


def test_standard_input_that_does_not_wait(start: Start) -> None:
    """A standard input that gives nothing and does not wait cannot be read; that is no bug."""
    reader, writer = os.pipe()
    os.set_blocking(reader, False)
    process = start("check", "-", stdin=reader, stdout=subprocess.PIPE)
    said, wrong = process.communicate(timeout=600)
    os.close(reader)
    os.close(writer)
    assert (process.returncode, said) == (5, b"")
    assert "cannot read <stdin>: it gave nothing" in wrong.decode()
