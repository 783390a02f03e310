"""What the log refuses, and that a refusal or a failure leaves the folder as it was."""

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from barrowful.cli.log import command
from barrowful.cli.main import exit_code

Log = Callable[..., Any]


def untouched(found: Any, *codes: int) -> None:
    """Hold that nothing was written, a reason was given, and it was no bug."""
    assert found.code in codes, found.said
    assert found.after == found.before
    assert found.beside == []
    assert len(found.said.strip()) > 10


@pytest.mark.parametrize(
    "broken",
    [
        "site: Field\n",
        "history: {date: 2027-01-01}\n",
        "history: soon\n",
        "history:\n  - {date: 2027-01-01, place: nowhere}\n",
        "colour: blue\n",
        "places: [{name: a\n",
        "horizon: 4\n",
    ],
)
def test_a_file_with_problems(log: Log, head: str, broken: str) -> None:
    """A file with problems is not added to; the problems are listed."""
    untouched(log(head + broken), 1)


@pytest.mark.parametrize(
    "text", ["", "\n", "# nothing\n", "just words\n", "- a\n- list\n", "{}", "{ } # none\n"]
)
def test_a_file_that_is_no_site(log: Log, text: str) -> None:
    """Neither is a file that holds no site at all."""
    untouched(log(text), 1)


def test_a_file_that_is_not_utf8(log: Log, head: str) -> None:
    """Nor one in another encoding."""
    untouched(log(head.encode() + b"# caf\xe9\n"), 1)


def test_an_unknown_place(log: Log, head: str) -> None:
    """A place the file does not have is refused and the nearest is named."""
    found = log(
        head, "--date", "2027-04-12", "--place", "bedz", "--material", "straw", "--amount", "2 barrow"
    )
    untouched(found, 1, 2)
    assert "beds" in found.said


@pytest.mark.parametrize(
    "amount",
    ["18", "18 bucket", "-3 L", "0 L", "1,5 m3", "3 m", "3 m2", "many", "", " ", "1e999 m3", "nan m3", "3 h"],
)
def test_a_bad_amount(log: Log, head: str, amount: str) -> None:
    """A bare number, an unknown unit, nothing, less than nothing, or no volume and no mass is refused."""
    untouched(
        log(head, "--date", "2027-04-12", "--place", "beds", "--material", "straw", "--amount", amount), 1, 2
    )


@pytest.mark.parametrize(
    "words",
    [
        ["--date", "12.4.2027"],
        ["--date", "2027-02-30"],
        ["--material", "strow"],
        ["--hours", "5"],
        ["--hours", "-1 h"],
        ["--cash", "5 USD"],
        ["--cash", "5"],
        ["--cash", "-5 EUR"],
        ["--organic-matter", "2.4"],
        ["--organic-matter", "240 %"],
        ["--depth", "3 cm"],
        ["--note", "x" * 401],
        ["--note", "bell \x07"],
    ],
)
def test_other_bad_words(log: Log, head: str, entry: tuple[str, ...], words: list[str]) -> None:
    """So is a bad date, material, time, sum of money, share, both amount and depth, or too long a note."""
    untouched(log(head, *entry, *words), 1, 2)


def test_material_without_an_amount(log: Log, head: str) -> None:
    """Stuff without saying how much is refused."""
    untouched(log(head, "--date", "2027-04-12", "--place", "beds", "--material", "straw"), 1, 2)


@pytest.mark.parametrize("words", [["--date", "2027-04-12"], ["--place", "beds"], []])
def test_words_that_lack(log: Log, head: str, tmp_path: Path, words: list[str]) -> None:
    """Without a date or a place the command is used wrongly."""
    path = tmp_path / "field.yaml"
    path.write_text(head, encoding="utf-8")
    assert exit_code(["log", str(path), *words]) == 2
    assert path.read_text(encoding="utf-8") == head


def test_no_file_no_log(tmp_path: Path, entry: tuple[str, ...], capfd: pytest.CaptureFixture[str]) -> None:
    """A missing file cannot be read, a folder neither; standard input or a device is no file to write to."""
    assert exit_code(["log", os.devnull, *entry]) == 2
    assert exit_code(["log", str(tmp_path / "none.yaml"), *entry]) == 5
    assert exit_code(["log", str(tmp_path), *entry]) == 5
    assert exit_code(["log", "-", *entry]) == 2
    assert list(tmp_path.iterdir()) == []
    assert capfd.readouterr().out == ""


def test_there_is_one_backup(log: Log, head: str) -> None:
    """However many entries are added, one file beside the site holds it as it was before the last."""
    found = log(head)
    for _ in range(4):
        assert found.beside == ["field.yaml.bak"]
        assert (found.path.parent / "field.yaml.bak").read_bytes() == found.before
        found = log()


def test_a_file_of_that_name_is_written_over(log: Log, head: str, tmp_path: Path) -> None:
    """What stands under the backup's name gives way to the file as it was, as the help says."""
    (tmp_path / "field.yaml.bak").write_bytes(b"of last year")
    found = log(head)
    assert (found.code, found.beside) == (0, ["field.yaml.bak"])
    assert (tmp_path / "field.yaml.bak").read_bytes() == head.encode()
    assert "SITE.bak that is there already is written over" in " ".join(str(command.help).split())


@pytest.mark.parametrize("kind", ["folder", "link", "link to nowhere", "pipe"])
def test_a_backup_that_is_no_file(log: Log, head: str, tmp_path: Path, kind: str) -> None:
    """Where a folder, a link or a pipe has the backup's name, nothing is written and it stays."""
    backup, other = tmp_path / "field.yaml.bak", tmp_path / "other"
    if kind == "folder":
        backup.mkdir()
    elif kind == "pipe":
        os.mkfifo(backup)
    else:
        backup.symlink_to(other)
    if kind == "link":
        other.write_bytes(b"precious")
    mode = backup.lstat().st_mode
    found = log(head)
    assert (found.code, found.after) == (5, found.before)
    assert str(backup) in found.said
    assert backup.lstat().st_mode == mode
    assert found.beside == sorted(["field.yaml.bak", *(["other"] if kind == "link" else [])])
    assert kind != "link" or other.read_bytes() == b"precious"


def test_a_backup_is_not_logged_to(log: Log, head: str, tmp_path: Path, entry: tuple[str, ...]) -> None:
    """An entry in a backup would be gone with the next change of its file: it is refused."""
    log(head)
    log()
    names = sorted(tmp_path.iterdir())
    before = [path.read_bytes() for path in names]
    assert exit_code(["log", str(tmp_path / "field.yaml.bak"), *entry]) == 2
    assert [path.read_bytes() for path in sorted(tmp_path.iterdir())] == before
    (tmp_path / "field.yaml").unlink()
    assert exit_code(["log", str(tmp_path / "field.yaml.bak"), *entry]) == 0


@pytest.mark.parametrize("error", [OSError(errno.EACCES, "denied"), KeyboardInterrupt()])
@pytest.mark.parametrize("failing", ["field.yaml", "field.yaml.bak"])
def test_a_failing_replace_leaves_both_files_as_they_were(
    log: Log, head: str, monkeypatch: pytest.MonkeyPatch, failing: str, error: BaseException
) -> None:
    """When the file or its backup cannot be put in place, both are as they were and nothing is left over."""
    first = log(head)
    kept = (first.path.parent / "field.yaml.bak").read_bytes()
    whole = Path.replace

    def replace(self: Path, target: Any) -> Path:
        if Path(target).name == failing:
            raise error
        return whole(self, target)

    monkeypatch.setattr(Path, "replace", replace)
    found = log()
    assert found.code == (130 if isinstance(error, KeyboardInterrupt) else 5), found.said
    assert found.after == found.before == first.after
    assert found.beside == ["field.yaml.bak"]
    assert (found.path.parent / "field.yaml.bak").read_bytes() == kept == first.before


def test_a_full_disk_leaves_the_file_as_it_was(log: Log, head: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """When writing fails half way, the file is as it was and nothing half-written is left."""

    def fsync(_: int) -> None:
        raise OSError(errno.ENOSPC, "no space left")

    monkeypatch.setattr(os, "fsync", fsync)
    found = log(head)
    assert found.code == 5
    assert found.after == found.before
    assert found.beside == []


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664])
def test_who_may_read_it_stays(log: Log, head: str, tmp_path: Path, mode: int) -> None:
    """The file keeps its permissions, and its backup is open to nobody the file was closed to."""
    path = tmp_path / "field.yaml"
    path.write_text(head, encoding="utf-8")
    path.chmod(mode)
    found = log()
    assert found.code == 0
    assert stat.S_IMODE(path.stat().st_mode) == mode
    assert stat.S_IMODE((tmp_path / "field.yaml.bak").stat().st_mode) & ~mode == 0


def test_a_link_stays_a_link(
    head: str, tmp_path: Path, entry: tuple[str, ...], capfd: pytest.CaptureFixture[str]
) -> None:
    """Logged through a link, the entry goes into the file the link leads to, and the backup beside that."""
    (tmp_path / "kept").mkdir()
    real, link = tmp_path / "kept" / "field.yaml", tmp_path / "field.yaml"
    real.write_text(head, encoding="utf-8")
    link.symlink_to(real)
    assert exit_code(["log", str(link), *entry]) == 0
    assert link.is_symlink()
    assert "2027-04-12" in real.read_text(encoding="utf-8")
    assert (tmp_path / "kept" / "field.yaml.bak").read_text(encoding="utf-8") == head
    assert sorted(tmp_path.iterdir()) == [link, tmp_path / "kept"]
    assert str(tmp_path / "kept" / "field.yaml.bak") in capfd.readouterr().err


def test_what_is_said(log: Log, head: str) -> None:
    """The command says which file it added to and where the file as it was is kept."""
    found = log(head)
    assert (found.code, found.beside) == (0, ["field.yaml.bak"])
    assert "Added to" in found.said
    assert str(found.path) in found.said
    assert "field.yaml.bak" in found.said
