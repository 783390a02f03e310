"""Where a site comes from and where an answer goes."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

Call = Callable[..., Any]
READING = ("options", "sizes", "orders", "heap", "course", "ledger")


@pytest.mark.parametrize("command", READING)
def test_a_site_may_come_from_standard_input(command: str, call: Call, demos: dict[str, Path]) -> None:
    """The sign - reads standard input and gives the same answer as the file."""
    path = demos["crooked-ladle-orchard"]
    done = call(command, "-", stdin=path.read_bytes())
    assert (done.code, done.out) == (0, call(command, path).out)


@pytest.mark.parametrize("command", ["options", "check"])
def test_standard_input_is_named_in_messages(command: str, call: Call, spoilt: Path) -> None:
    """Problems of a site that came by standard input say so in the place of the file's name."""
    done = call(command, "-", stdin=spoilt.read_bytes())
    assert done.code == 1
    assert "<stdin>:3:8: " in (done.text if command == "check" else done.err)


@pytest.mark.parametrize("command", READING)
def test_no_site_means_the_sample(command: str, call: Call, demos: dict[str, Path]) -> None:
    """Without SITE the sample answers, and standard error says that it is the sample."""
    done, sample = call(command), call(command, demos["crooked-ladle-orchard"])
    assert (done.code, done.out) == (0, sample.out)
    assert "sample" in done.err
    assert "sample" not in sample.err


@pytest.mark.parametrize("form", ["table", "plain", "csv", "tsv", "json", "markdown"])
def test_a_file_gets_what_standard_output_would(form: str, call: Call, small: Path, tmp_path: Path) -> None:
    """-o writes the same bytes to a file, and nothing to standard output."""
    target = tmp_path / "out"
    done = call("options", small, "--format", form, "-o", target)
    assert (done.code, done.out) == (0, b"")
    assert target.read_bytes() == call("options", small, "--format", form).out
    assert sorted(tmp_path.iterdir()) == [target, small]


def test_a_file_is_readable_by_others_as_any_new_file(call: Call, small: Path, tmp_path: Path) -> None:
    """A new file has the rights of any new file; one that is written over keeps its own."""
    target, other = tmp_path / "out", tmp_path / "other"
    other.touch()
    call("sizes", small, "-o", target)
    assert stat.S_IMODE(target.stat().st_mode) == stat.S_IMODE(other.stat().st_mode)
    target.chmod(0o640)
    call("sizes", small, "-o", target)
    assert stat.S_IMODE(target.stat().st_mode) == 0o640


@pytest.mark.parametrize("broken", ["os.fsync", "pathlib.Path.replace"])
@pytest.mark.parametrize("words", [["options"], ["check"], ["begin", "--force"]], ids=" ".join)
def test_a_failed_write_leaves_the_old_file(
    broken: str, words: list[str], monkeypatch: pytest.MonkeyPatch, call: Call, small: Path, tmp_path: Path
) -> None:
    """Where the last step fails, the old file stands as it was and nothing is left beside it."""
    target = tmp_path / "out"
    target.write_bytes(b"old")

    def fail(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(broken, fail)
    monkeypatch.setattr("os.replace", fail)
    site = [] if words[0] == "begin" else [small]
    done = call(*words, *site, "-o", target)
    assert (done.code, done.out) == (5, b"")
    assert "no space left on device" in done.err.lower()
    assert target.read_bytes() == b"old"
    assert sorted(tmp_path.iterdir()) == [target, small]


def test_an_interrupted_write_leaves_the_old_file(
    monkeypatch: pytest.MonkeyPatch, call: Call, small: Path, tmp_path: Path
) -> None:
    """Ctrl-C while a file is written leaves the old one, and nothing beside it."""
    target = tmp_path / "out"
    target.write_bytes(b"old")

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("os.fsync", stop)
    assert call("options", small, "-o", target).code == 130
    assert target.read_bytes() == b"old"
    assert sorted(tmp_path.iterdir()) == [target, small]


@pytest.mark.parametrize("command", ["options", "sizes", "orders", "check"])
def test_the_site_is_never_written_over(command: str, call: Call, small: Path, tmp_path: Path) -> None:
    """-o onto the site itself is refused, by whatever name it goes."""
    before = small.read_bytes()
    link, twin = tmp_path / "link.yaml", tmp_path / "twin.yaml"
    link.symlink_to(small)
    os.link(small, twin)
    for site, target in (
        (small, small),
        (small, link),
        (link, small),
        (small, twin),
        (small, tmp_path / "." / small.name),
    ):
        done = call(command, site, "-o", target)
        assert (done.code, done.out) == (2, b"")
        assert "site" in done.err
    assert small.read_bytes() == before


def test_the_site_of_figures_is_never_written_over(call: Call, small: Path) -> None:
    """The same holds where the site is an option."""
    before = small.read_bytes()
    assert call("figures", "green compost", "--site", small, "-o", small).code == 2
    assert small.read_bytes() == before


def test_a_pipe_as_target_stays_a_pipe(call: Call, small: Path, tmp_path: Path) -> None:
    """What is no plain file, such as a device or a pipe, is not replaced by one."""
    target = tmp_path / "pipe"
    os.mkfifo(target)
    reader = os.open(target, os.O_RDONLY | os.O_NONBLOCK)
    done = call("sizes", small, "-o", target)
    said = os.read(reader, 100_000)
    os.close(reader)
    assert stat.S_ISFIFO(target.lstat().st_mode)
    assert said == call("sizes", small).out or done.code in {2, 5}


def test_begin_does_not_write_over(call: Call, tmp_path: Path) -> None:
    """A starter is written once; a second time needs --force."""
    target = tmp_path / "mine.yaml"
    first = call("begin", "-o", target)
    assert (first.code, first.out) == (0, b"")
    assert str(target) in first.err
    starter = target.read_bytes()
    assert starter == call("begin").out
    target.write_bytes(b"my own work")
    again = call("begin", "-o", target)
    assert (again.code, again.out) == (5, b"")
    assert "--force" in again.err
    assert target.read_bytes() == b"my own work"
    assert call("begin", "-o", target, "--force").code == 0
    assert target.read_bytes() == starter


def test_begin_and_options_go_together(call: Call) -> None:
    """What begin prints, options answers: what to do first, and a table of what there is to choose from."""
    done = call("options", "-", stdin=call("begin").out)
    assert done.code == 0
    assert done.text.startswith("Do this")
    assert any(line.startswith("need ") for line in done.text.splitlines())


def test_a_name_that_is_no_text(call: Call, tmp_path: Path) -> None:
    """A file whose name is no UTF-8 is read, and its problems are told, like any other."""
    site = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.yaml"))
    site.write_bytes(b"site: x\n")
    for command in ("options", "check"):
        for form in ("table", "json", "csv"):
            done = call(command, site, "--format", form)
            assert done.code == 1, done.err
            assert "currency" in (done.text if command == "check" else done.err)
