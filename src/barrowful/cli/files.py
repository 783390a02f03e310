"""Files: reading with a limit, and writing whole or not at all."""

from __future__ import annotations

import errno
import os
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Protocol

import click

from barrowful.measures.problems import CannotReadWrite, WrongUse

#: A file named on the command line; whether it can be read is told by reading it.
PATH = click.Path(allow_dash=True, readable=False)
SAMPLE = "the sample site"
#: Bytes asked for at a time.
PIECE = 1_000_000


class Source(Protocol):
    """What bytes are read from; like a raw stream it may give less than was asked for."""

    def read(self, size: int, /) -> bytes | None:
        """Return at most so many bytes, none at the end."""


def read_bytes(site: str | None) -> tuple[bytes, str]:
    """Return a site file's bytes and the name messages use; the sample when none is given."""
    if site is None:
        from importlib.resources import files

        click.echo(f"No SITE given: using {SAMPLE} that comes with barrowful (invented).", err=True)
        return files("barrowful").joinpath("sample.yaml").read_bytes(), "sample.yaml"
    name = "<stdin>" if site == "-" else site
    try:
        if site == "-":
            return read_to_limit(getattr(sys.stdin.buffer, "raw", sys.stdin.buffer)), name
        with open(site, "rb", buffering=0) as source:
            return read_to_limit(source), name
    except OSError as error:
        raise CannotReadWrite(f"cannot read {name}: {reason(error)}") from None


def read_to_limit(source: Source) -> bytes:
    """Return all that a source gives, or one byte more than a site file may have: its reader refuses that."""
    from barrowful.sitefile.nodes import MOST_BYTES

    pieces: list[bytes] = []
    left = MOST_BYTES + 1
    while left:
        piece = source.read(min(left, PIECE))
        if piece is None:
            raise BlockingIOError(errno.EAGAIN, "it gave nothing, and does not wait")
        if not piece:
            break
        pieces.append(piece)
        left -= len(piece)
    return b"".join(pieces)


def reason(error: OSError) -> str:
    """Return what the system says of a failure."""
    return (error.strerror or str(error)).lower()


def check_target(file: str, site: str) -> None:
    """Refuse to write an answer onto the site file itself."""
    if site and os.path.exists(file) and os.path.exists(site) and os.path.samefile(file, site):
        raise WrongUse(f"{file} is the site file itself; choose another file for the answer")


def put_text(text: str, file: str) -> None:
    """Write text whole: to standard output when the file is ``-``, or to a file."""
    data = text.encode("utf-8", "backslashreplace")  # the name of a file need not be text
    if file == "-":
        _to_stdout(data)
    else:
        write_file(Path(file), data)


def _to_stdout(data: bytes) -> None:
    """Write bytes to standard output, all of them; a reader that went away is told by main."""
    try:
        sys.stdout.flush()
        rest = memoryview(data)
        while rest:  # without a buffer one call may take a part only
            rest = rest[sys.stdout.buffer.write(rest) :]
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise CannotReadWrite(f"cannot write the answer: {reason(error)}") from None


def write_file(target: Path, data: bytes, like: Path | None = None) -> None:
    """Replace a file's contents at once, or leave it as it was; a link, a pipe or a device stays one.

    A new file gets the rights of ``like``.
    """
    try:
        if target.exists() and not target.is_file():
            target.write_bytes(data)
            return
        real = Path(os.path.realpath(target))
        with _beside(real, data, like=like or real) as new:
            new.replace(real)
    except OSError as error:
        raise CannotReadWrite(f"cannot write {target}: {reason(error)}") from None


@contextmanager
def _beside(target: Path, data: bytes, like: Path) -> Iterator[Path]:
    """Give a new file with these bytes in the target's folder; whatever happens, no part of it is left.

    It gets the rights of ``like``. A target that may not be written is not replaced either.
    """
    if target.exists() and not os.access(target, os.W_OK):
        raise CannotReadWrite(f"{target} is write-protected")
    number, name = tempfile.mkstemp(dir=target.parent, prefix=".barrowful-")
    new = Path(name)
    try:
        with os.fdopen(number, "wb") as handle:
            handle.write(data)
            handle.flush()
            os.fsync(handle.fileno())
        new.chmod(_rights(new, like))
        yield new
    finally:
        new.unlink(missing_ok=True)


def _rights(new: Path, like: Path) -> int:
    """Return the rights for a new file: those of another, whose owner and group it gets where it may."""
    if not like.exists():
        return 0o666 & ~_umask()
    known = like.stat()
    for owner in (known.st_uid, -1):
        with suppress(OSError, AttributeError):
            os.chown(new, owner, known.st_gid)
            return known.st_mode & 0o777
    return known.st_mode & 0o707  # to another group nothing is opened


def _umask() -> int:
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
