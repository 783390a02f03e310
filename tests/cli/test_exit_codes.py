"""Exit codes: one meaning each, and data on standard output only."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from barrowful.cli.main import COMMANDS

Call = Callable[..., Any]
Start = Callable[..., subprocess.Popen[bytes]]
READING = ("options", "sizes", "orders")


@pytest.mark.parametrize("command", READING)
def test_0_done(command: str, call: Call, small: Path) -> None:
    """A sound file is answered on standard output, with nothing on standard error that is not a caution."""
    done = call(command, small)
    assert done.code == 0
    assert done.out
    assert done.err == ""


def test_0_when_a_row_cannot_be_met(call: Call, small: Path) -> None:
    """A table with a need that nothing meets in time is still an answer."""
    bought = "buy: {material: arborist chip, price: 46 EUR/m3}"
    text = small.read_text("utf-8")
    assert bought in text
    small.write_text(text.replace(bought, "have: {material: arborist chip, amount: 10 L}"), "utf-8")
    done = call("options", small, "--format", "json")
    assert done.code == 0
    assert [row["feasible"] for row in done.json["tables"][0]["rows"]] == [False]


@pytest.mark.parametrize("command", READING)
def test_1_problems_go_to_standard_error(command: str, call: Call, spoilt: Path) -> None:
    """Problems keep a reading command from answering; all of them are told aside."""
    done = call(command, spoilt)
    assert (done.code, done.out) == (1, b"")
    assert f"{spoilt}:3:" in done.err
    assert f"{spoilt}:9:" in done.err
    assert "Traceback" not in done.err


def test_1_check_prints_problems_as_its_data(call: Call, spoilt: Path) -> None:
    """What check was asked for are the problems: one a line, on standard output."""
    done = call("check", spoilt)
    assert done.code == 1
    assert [line.partition(": ")[0] for line in done.text.splitlines()] == [f"{spoilt}:3:8", f"{spoilt}:9:30"]


@pytest.mark.parametrize(
    "words",
    [
        [], ["nonsense"], ["optoins"], ["options", "--nonsense"], ["options", "a", "b"],
        ["options", "--format", "xml"], ["options", "--format"], ["options", "--measures", "imperial"],
        ["options", "--table", "nonsense"], ["explain", "nonsense"], ["whatif"],
        ["whatif", "--set", "site"], ["whatif", "--vary", "a=1..2"], ["whatif", "--case", "a=1"], ["log"],
        ["log", "-", "--date", "2027-03-01", "--place", "beds"],
    ],
    ids=" ".join,
)  # fmt: skip
def test_2_wrong_use(words: list[str], call: Call) -> None:
    """A command that cannot be understood says so on standard error."""
    done = call(*words)
    assert (done.code, done.out) == (2, b"")
    assert done.err
    assert "Traceback" not in done.err


@pytest.mark.parametrize(
    ("words", "hint"),
    [
        (["optoins"], "options"), (["explain", "colar"], "collar"), (["options", "--fromat", "csv"],
        "--format"),
        (["figures", "green compst"], "green compost"),
    ],
)  # fmt: skip
def test_a_near_miss_gets_a_hint(words: list[str], hint: str, call: Call) -> None:
    """The nearest thing there is is named."""
    done = call(*words)
    assert done.code in {2, 3}
    assert hint in done.err


@pytest.mark.parametrize("words", [["orders", "--way", "nobody"], ["figures", "nonsense"]], ids=" ".join)
def test_3_nothing_can_be_answered(words: list[str], call: Call) -> None:
    """A sound request about what is not there is told apart from wrong use."""
    done = call(*words)
    assert (done.code, done.out) == (3, b"")
    assert words[-1] in done.err


@pytest.mark.parametrize("command", [*READING, "check"])
def test_4_strict_and_a_warning(command: str, call: Call, small: Path, unusual: Path) -> None:
    """With --strict a warning changes the code and nothing else; without a warning it changes nothing."""
    plain, strict = call(command, unusual), call(command, unusual, "--strict")
    assert (plain.code, strict.code) == (0, 4)
    assert "warning: " in strict.err
    assert (plain.out, plain.err) == (strict.out, strict.err)
    assert call(command, small, "--strict").code == 0


def test_cautions_are_not_warnings(call: Call, small: Path) -> None:
    """A site that calls for cautions only passes --strict."""
    done = call("options", small, "--strict", "--format", "json")
    assert done.json["cautions"]
    assert done.json["warnings"] == []
    assert done.code == 0


def test_5_cannot_read(call: Call, tmp_path: Path) -> None:
    """A missing file, a folder and a file in a folder that is none are told with their path and why."""
    (tmp_path / "file").write_text("x", encoding="utf-8")
    for path in (tmp_path / "none.yaml", tmp_path, tmp_path / "file" / "none.yaml"):
        for command in (*READING, "check"):
            done = call(command, path)
            assert (done.code, done.out) == (5, b"")
            assert str(path) in done.err
            assert "Errno" not in done.err


def test_5_cannot_write(call: Call, small: Path, tmp_path: Path) -> None:
    """A folder as target, a folder that is missing and a file in a file are told with their path."""
    for path in (tmp_path, tmp_path / "none" / "out.csv", small / "out.csv"):
        for words in (["options", small], ["check", small], ["begin"], ["figures"], ["explain"]):
            done = call(*words, "-o", path)
            assert (done.code, done.out) == (5, b""), words
            assert str(path) in done.err
    assert sorted(tmp_path.iterdir()) == [small]


def test_70_a_bug(monkeypatch: pytest.MonkeyPatch, call: Call, small: Path) -> None:
    """A bug is said to be one, in a sentence, with how to report it; --debug shows where it happened first."""

    def fail(*_: object) -> None:
        raise RuntimeError("the barrow has no wheel")

    monkeypatch.setattr("barrowful.site.load.load", fail)
    done = call("sizes", small)
    assert (done.code, done.out) == (70, b"")
    assert "bug" in done.err
    assert "the barrow has no wheel" in done.err
    assert "report" in done.err
    assert "Traceback" not in done.err
    told = call("--debug", "sizes", small)
    assert (told.code, told.out) == (70, b"")
    assert told.err.startswith("Traceback")
    assert done.err in told.err


def test_130_when_interrupted_here(monkeypatch: pytest.MonkeyPatch, call: Call, small: Path) -> None:
    """Ctrl-C inside a command leaves with 130 and says nothing of a traceback."""

    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("barrowful.site.load.load", stop)
    done = call("sizes", small)
    assert (done.code, done.out) == (130, b"")
    assert "Traceback" not in done.err


def test_130_when_interrupted_by_a_signal(environment: Callable[..., dict[str, str]], tmp_path: Path) -> None:
    """A process that waits for its site file and gets the signal leaves with 130 and writes no file."""
    pipe, out = tmp_path / "pipe", tmp_path / "out.csv"
    os.mkfifo(pipe)
    script = (
        "import signal, sys; signal.signal(signal.SIGINT, signal.default_int_handler)\n"
        "from barrowful.cli.main import run; run(sys.argv[1:])"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", script, "sizes", str(pipe), "-o", str(out)],
        stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment(),
    )  # fmt: skip
    writer = os.open(pipe, os.O_WRONLY)  # This waits until the process reads; only then is the signal sent.
    process.send_signal(signal.SIGINT)
    os.close(writer)  # Should the signal come before the read, the read ends here and the signal is heeded.
    said, wrong = process.communicate()
    assert (process.returncode, said) == (130, b"")
    assert b"Traceback" not in wrong
    assert sorted(tmp_path.iterdir()) == [pipe]


GONE = {
    "an answer": ["sizes", "--format", "json"],
    "starter": ["begin"],
    "help": ["--help"],
    "version": ["--version"],
}


@pytest.mark.parametrize("words", GONE.values(), ids=GONE)
def test_141_when_nobody_reads(words: list[str], start: Start) -> None:
    """Output into a closed pipe leaves with 141 and without a traceback."""
    reader, writer = os.pipe()
    os.close(reader)
    process = start(*words, stdout=writer)
    os.close(writer)
    _, wrong = process.communicate(timeout=600)
    assert process.returncode == 141, wrong.decode()
    for word in (b"Traceback", b"rror", b"Exception", b"pipe"):
        assert word not in wrong


@pytest.mark.parametrize("unbuffered", [None, "1"])
def test_141_as_head_does_it(
    unbuffered: str | None, start: Start, environment: Callable[..., dict[str, str]]
) -> None:
    """A reader that takes one line of many and goes away leaves nothing on standard error."""
    words = ("figures", "materials", "--format", "csv")
    with start(*words, stdout=subprocess.PIPE, env=environment(PYTHONUNBUFFERED=unbuffered)) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        assert process.stdout.readline().startswith(b"of,figure,low")
        process.stdout.close()
        wrong = process.stderr.read()
    assert (process.returncode, wrong) == (141, b"")


@pytest.mark.parametrize("words", [["sizes"], ["--help"], ["begin"]], ids=" ".join)
def test_5_when_standard_output_cannot_be_written(words: list[str], start: Start, tmp_path: Path) -> None:
    """Output that cannot be written, as on a full disk, is a failure to write and no bug."""
    file = tmp_path / "read only"
    file.touch()
    with file.open("rb") as handle:
        process = start(*words, stdout=handle)
        _, wrong = process.communicate(timeout=600)
    assert process.returncode == 5, wrong.decode()
    assert b"Traceback" not in wrong


@pytest.mark.parametrize("sign", [">&-", "<&-"])
def test_5_when_a_stream_is_closed(sign: str, environment: Callable[..., dict[str, str]]) -> None:
    """Standard output or input that is not there at all is a failure to read or write and no bug."""
    words = "check -" if sign == "<&-" else "sizes"
    done = subprocess.run(
        ["/bin/sh", "-c", f'"$0" -m barrowful {words} {sign}', sys.executable],
        capture_output=True, env=environment(), timeout=600, check=False,
    )  # fmt: skip
    assert done.returncode == 5, done.stderr.decode()
    assert b"Traceback" not in done.stderr


def test_every_command_explains_itself(call: Call) -> None:
    """Each command of the overview has help with an example, on standard output, 80 columns wide."""
    overview = call("--help")
    assert (overview.code, overview.err) == (0, "")
    for command in COMMANDS:
        assert f"\n  {command} " in overview.text
        for word in ("--help", "-h"):
            done = call(command, word)
            assert (done.code, done.err) == (0, "")
            assert done.text.startswith(f"Usage: barrowful {command}")
            assert max(map(len, done.text.splitlines())) <= 80
            assert "Example" in done.text


def test_version_is_the_packages(call: Call) -> None:
    """--version says the version of the package."""
    from barrowful import __version__

    done = call("--version")
    assert (done.code, done.text) == (0, f"barrowful, version {__version__}\n")
