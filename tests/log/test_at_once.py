"""Two who write at once: under the lock no entry is lost, and what another program wrote is left alone."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any

import pytest

import barrowful
from barrowful.cli import lock
from barrowful.cli.main import exit_code
from barrowful.site.load import load

Log = Callable[..., Any]
#: Writes an entry for each line of standard input, and says what came of it.
LOGGER = """
import sys
from barrowful.cli.main import exit_code
import barrowful.site.load, barrowful.cli.log
print("ready", flush=True)
for note in sys.stdin:
    words = ["--date", "2027-04-12", "--place", "beds", "--note", note.strip()]
    print(exit_code(["log", sys.argv[1], *words]), flush=True)
"""
#: Takes the lock, says so, and waits for its end.
HOLDER = """
import sys
from pathlib import Path
from barrowful.cli.lock import locked
with locked(Path(sys.argv[1])):
    print("ready", flush=True)
    sys.stdin.read()
"""


@contextmanager
def process(script: str, path: Path) -> Iterator[subprocess.Popen[str]]:
    """Give a process that runs a script with a path, once it has said that it is ready."""
    source = str(Path(barrowful.__file__).parents[1])
    with subprocess.Popen(
        [sys.executable, "-c", script, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        text=True,
        env={**os.environ, "PYTHONPATH": source},
    ) as started:
        try:
            assert answer(started) == "ready"
            yield started
        finally:
            started.kill()


def answer(started: subprocess.Popen[str]) -> str:
    """Return the next line a process says."""
    assert started.stdout is not None
    return started.stdout.readline().strip()


def tell(started: subprocess.Popen[str], line: str) -> None:
    """Say a line to a process."""
    assert started.stdin is not None
    started.stdin.write(line + "\n")
    started.stdin.flush()


def test_two_at_once_lose_nothing(head: str, tmp_path: Path) -> None:
    """Twenty times two processes add an entry at the same moment, one through a link: all forty are there."""
    (tmp_path / "kept").mkdir()
    real, link = tmp_path / "kept" / "field.yaml", tmp_path / "field.yaml"
    real.write_text(head, encoding="utf-8")
    link.symlink_to(real)
    with process(LOGGER, real) as one, process(LOGGER, link) as other:
        for number in range(20):
            tell(one, f"one {number}")
            tell(other, f"other {number}")
            assert [answer(one), answer(other)] == ["0", "0"]
    notes = sorted(done.note for done in load(real.read_bytes(), "field.yaml").site.history)
    assert notes == sorted(f"{who} {number}" for number in range(20) for who in ("one", "other"))
    assert sorted(path.name for path in real.parent.iterdir()) == ["field.yaml", "field.yaml.bak"]


def test_a_lock_that_is_not_to_be_had(
    log: Log, head: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While another writes, the command says that it waits, and gives up after so many tries: nothing lost."""
    pauses: list[int] = []
    monkeypatch.setattr(lock, "pause", lambda: pauses.append(1))
    with lock.locked(tmp_path / "field.yaml"):
        found = log(head)
    assert (found.code, found.after) == (5, found.before)
    assert len(pauses) == lock.TRIES - 1
    assert found.said.count("Waiting") == 1
    assert f"{lock.TRIES * lock.PAUSE:.0f} seconds" in found.said
    assert "nothing was written" in found.said
    assert sorted(path.name for path in tmp_path.iterdir()) == ["field.yaml"]


def test_a_lock_that_comes_free(log: Log, head: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """When the other is done meanwhile, the entry is added."""
    with ExitStack() as held:
        held.enter_context(lock.locked(tmp_path / "field.yaml"))
        pauses: list[int] = []

        def pause() -> None:
            pauses.append(1)
            if len(pauses) == 3:
                held.close()

        monkeypatch.setattr(lock, "pause", pause)
        found = log(head)
    assert (found.code, len(pauses)) == (0, 3)
    assert "Added" in found.said
    assert found.beside == ["field.yaml.bak"]


def test_a_pause_is_short(monkeypatch: pytest.MonkeyPatch) -> None:
    """Between two tries a moment passes, and all of them together take no longer than a person waits."""
    slept: list[float] = []
    monkeypatch.setattr("time.sleep", slept.append)
    lock.pause()
    assert slept == [lock.PAUSE]
    assert lock.TRIES * lock.PAUSE <= 30


def test_a_lock_ends_with_its_holder(log: Log, head: str, tmp_path: Path) -> None:
    """A command that is killed while it writes keeps nobody out, and what it left goes with the next change."""
    with process(HOLDER, tmp_path / "field.yaml") as holder:
        assert [path.name for path in tmp_path.iterdir()] == [".field.yaml.barrowful-lock"]
        holder.kill()
        holder.wait()
        found = log(head)
    assert (found.code, found.beside) == (0, ["field.yaml.bak"])
    assert "Waiting" not in found.said


def test_a_file_of_the_lock_s_name_stays(log: Log, head: str, tmp_path: Path) -> None:
    """A file somebody wrote under the name of the lock is not taken away."""
    other = tmp_path / ".field.yaml.barrowful-lock"
    other.write_bytes(b"precious")
    assert log(head).code == 0
    assert other.read_bytes() == b"precious"


@pytest.mark.parametrize("kind", ["folder", "link", "pipe"])
def test_what_is_no_file_is_no_lock(log: Log, head: str, tmp_path: Path, kind: str) -> None:
    """A folder, a link or a pipe under the name of the lock is not used, followed or taken away."""
    other, target = tmp_path / ".field.yaml.barrowful-lock", tmp_path / "target"
    if kind == "folder":
        other.mkdir()
    elif kind == "link":
        other.symlink_to(target)
    else:
        os.mkfifo(other)
    found = log(head)
    assert (found.code, found.after, found.beside) == (5, found.before, [other.name])
    assert other.name in found.said
    assert not target.exists()


def test_a_folder_that_cannot_be_written(
    head: str,
    tmp_path: Path,
    entry: tuple[str, ...],
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    """Where the folder takes no new file, that is said."""
    path, whole = tmp_path / "field.yaml", os.open
    path.write_text(head, encoding="utf-8")

    def refuse(path: Any, flags: int, *more: Any, **how: Any) -> int:
        if flags & os.O_CREAT:
            raise PermissionError(errno.EACCES, "Permission denied")
        return whole(path, flags, *more, **how)

    with monkeypatch.context() as patched:
        patched.setattr(os, "open", refuse)
        code = exit_code(["log", str(path), *entry])
    said = capfd.readouterr().err
    assert (code, path.read_text("utf-8"), list(tmp_path.iterdir())) == (5, head, [path])
    assert "permission denied" in said
    assert str(path) in said


def test_a_file_that_is_write_protected(log: Log, head: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that may not be written is not replaced either, though its folder would allow it."""
    with monkeypatch.context() as patched:
        patched.setattr(os, "access", lambda _, mode: mode != os.W_OK)
        found = log(head)
    assert (found.code, found.after, found.beside) == (5, found.before, [])
    assert "write-protected" in found.said


@pytest.mark.parametrize("how", ["in its place", "by another file"])
def test_a_file_that_an_editor_changed_meanwhile(
    log: Log, head: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, how: str
) -> None:
    """What an editor saved between reading and replacing stays, no entry is added, and it is said."""
    saved = (head + "# edited\n").encode()
    during(monkeypatch, lambda: save(tmp_path / "field.yaml", saved, how))
    found = log(head)
    assert (found.code, found.after, found.beside) == (5, saved, [])
    assert "changed" in found.said
    assert "nothing was written" in found.said
    assert "Added" not in found.said


def test_a_file_that_went_meanwhile(
    head: str,
    tmp_path: Path,
    entry: tuple[str, ...],
    monkeypatch: pytest.MonkeyPatch,
    capfd: pytest.CaptureFixture[str],
) -> None:
    """A file that was taken away is not brought back with an entry."""
    path = tmp_path / "field.yaml"
    path.write_text(head, encoding="utf-8")
    during(monkeypatch, path.unlink)
    assert exit_code(["log", str(path), *entry]) == 5
    assert list(tmp_path.iterdir()) == []
    assert str(path) in capfd.readouterr().err


def during(monkeypatch: pytest.MonkeyPatch, do: Callable[[], object]) -> None:
    """Have something done while the command reckons."""
    from barrowful.sitefile import append

    whole = append.with_entry

    def with_entry(*words: Any) -> Any:
        do()
        return whole(*words)

    monkeypatch.setattr(append, "with_entry", with_entry)


def save(path: Path, data: bytes, how: str) -> None:
    """Save a file as editors do: written over, or replaced by a new one."""
    target = path if how == "in its place" else path.with_suffix(".new")
    target.write_bytes(data)
    target.replace(path)
