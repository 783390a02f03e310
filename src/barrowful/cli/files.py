"""Files: reading with a limit, writing whole or not at all, and changing a file in its place."""

from __future__ import annotations

import errno
import os
import stat
import sys
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Protocol

import click

from barrowful.cli.lock import locked
from barrowful.measures.problems import CannotReadWrite, WrongUse

#: A file named on the command line; whether it can be read is told by reading it.
PATH = click.Path(allow_dash=True, readable=False)
SAMPLE = "the sample site"
#: Bytes, or letters, passed on at a time.
PIECE = 1_000_000


class Source(Protocol):
    """What bytes are read from; like a raw stream it may give less than was asked for."""

    def read(self, size: int, /) -> bytes | None:
        """Return at most so many bytes, none at the end."""


def read_bytes(site: str | None) -> tuple[bytes, str]:
    """Return a site file's bytes and the name messages use; the sample when none is given."""
    if site is None:
        click.echo(f"No SITE given: using {SAMPLE} that comes with barrowful (invented).", err=True)
        return Path(__file__).parent.with_name("sample.yaml").read_bytes(), "sample.yaml"
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
    from barrowful.sitefile.text.nodes import MOST_BYTES

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


def put_text(text: str, file: str) -> None:
    """Write text whole: to standard output when the file is ``-``, or to a file."""
    put_pieces([text], file)


def put_pieces(pieces: Iterable[str], file: str) -> None:
    """Write text in pieces: as they come to standard output when the file is ``-``, or a file whole."""
    if file == "-":
        _to_stdout(pieces)
    else:
        write_file(Path(file), b"".join(map(_encoded, _larger(pieces))))


def _larger(pieces: Iterable[str]) -> Iterator[str]:
    """Yield text that comes in small pieces in larger ones."""
    small, size = list[str](), 0
    for piece in pieces:
        small.append(piece)
        size += len(piece)
        if size >= PIECE:
            yield "".join(small)
            small, size = [], 0
    yield "".join(small)


def _encoded(text: str) -> bytes:
    return text.encode("utf-8", "backslashreplace")  # the name of a file need not be text


def _to_stdout(pieces: Iterable[str]) -> None:
    """Write text to standard output, all of it, piece by piece; a reader that went away is told by main."""
    try:
        sys.stdout.flush()
        for text in _larger(pieces):
            for start in range(0, len(text), PIECE):
                rest = memoryview(_encoded(text[start : start + PIECE]))
                while rest:  # without a buffer one call may take a part only
                    rest = rest[sys.stdout.buffer.write(rest) :]
        sys.stdout.buffer.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise CannotReadWrite(f"cannot write the answer: {reason(error)}") from None


def write_file(target: Path, data: bytes) -> None:
    """Replace a file's contents at once, or leave it as it was; a link, a pipe or a device stays one."""
    try:
        if target.exists() and not target.is_file():
            target.write_bytes(data)
            return
        real = Path(os.path.realpath(target))
        with _beside(real, data, like=real) as new:
            new.replace(real)
    except OSError as error:
        raise CannotReadWrite(f"cannot write {target}: {reason(error)}") from None


def check_writable(target: Path) -> None:
    """Refuse a file that :func:`write_file` could not write; nothing of the try is left."""
    try:
        if target.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
        if target.is_file() or not target.exists():
            real = Path(os.path.realpath(target))
            with _beside(real, b"", like=real):
                pass
    except OSError as error:
        raise CannotReadWrite(f"cannot write {target}: {reason(error)}") from None


def create_file(target: Path, data: bytes) -> None:
    """Write a file that is not there yet, whole; one that came meanwhile stays as it is."""
    try:
        with _beside(target, data, like=target) as new:
            os.link(new, target)
    except FileExistsError:
        raise CannotReadWrite(f"{target} is there already; give another name") from None
    except OSError as error:
        raise CannotReadWrite(f"cannot write {target}: {reason(error)}") from None


def backup_of(site: str | Path) -> Path:
    """Return where a file is kept as it was before its last change: beside the file any link leads to."""
    real = Path(os.path.realpath(site))
    return real.with_name(real.name + ".bak")


def check_no_backup(site: str | Path) -> None:
    """Refuse the backup of a file that is there: whatever were written to it would soon be gone."""
    real = Path(os.path.realpath(site))
    if real.suffix == ".bak" and (file := real.with_suffix("")).exists():
        raise WrongUse(f"{site} is where {file.name} is kept as it was; give another name")


def change(site: str, make: Callable[[bytes], bytes]) -> Path:
    """Replace a file by what ``make`` makes of it, and return where it is kept as it was.

    Nobody else who uses this function changes the file meanwhile. A file that was changed in another
    way between reading and replacing is left alone, with :class:`CannotReadWrite`. If anything fails,
    the file and its backup are what they were.
    """
    check_changeable(site)
    real, backup = Path(os.path.realpath(site)), backup_of(site)
    with locked(real):
        old, _ = read_bytes(site)
        new = make(old)
        _check_size(site, old)
        try:
            with _beside(backup, old, like=real) as kept, _beside(real, new, like=real) as fresh:
                _check_unchanged(site, old)
                _swap(fresh, real, kept, backup)
        except OSError as error:
            raise CannotReadWrite(f"cannot write {site}: {reason(error)}") from None
    return backup if Path(site).is_symlink() else Path(f"{site}.bak")


def check_changeable(site: str) -> None:
    """Refuse what is no plain file, a backup, and a file whose backup could not be kept."""
    try:
        mode = os.stat(site).st_mode
    except OSError as error:
        raise CannotReadWrite(f"cannot read {site}: {reason(error)}") from None
    if stat.S_ISDIR(mode):
        raise CannotReadWrite(f"cannot read {site}: it is a folder")
    if not stat.S_ISREG(mode):
        raise WrongUse(f"{site} is a pipe or a device; give the name of a file, in which the change can stay")
    check_no_backup(site)
    backup = backup_of(site)
    if os.path.lexists(backup) and not stat.S_ISREG(backup.lstat().st_mode):
        raise CannotReadWrite(
            f"cannot keep {site} as it was: {backup} is a folder, a link or a device; move it away"
        )


def _check_size(site: str, old: bytes) -> None:
    """Refuse to keep a part of a file for the whole."""
    from barrowful.sitefile.text.nodes import MOST_BYTES

    if len(old) > MOST_BYTES:
        raise CannotReadWrite(f"{site} is larger than {MOST_BYTES // 1_000_000} MB, so it is no site file")


def _check_unchanged(site: str, old: bytes) -> None:
    """Refuse to replace a file that is not any more what was read."""
    if read_bytes(site)[0] != old:
        raise CannotReadWrite(
            f"{site} was changed by another program meanwhile; nothing was written, run the command again"
        )


def _swap(fresh: Path, real: Path, kept: Path, backup: Path) -> None:
    """Put the new file and the backup in their places: both of them, or neither."""
    try:
        fresh.replace(real)
        kept.replace(backup)
    except BaseException:
        if kept.exists() and not fresh.exists():
            kept.replace(real)
        raise


@contextmanager
def _beside(target: Path, data: bytes, like: Path) -> Iterator[Path]:
    """Give a new file with these bytes in the target's folder; whatever happens, no part of it is left.

    It gets the rights of ``like``. A target that may not be written is not replaced either.
    """
    import tempfile

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
