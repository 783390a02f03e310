"""The lock under which a file is changed: one command at a time, and free again after a crash.

The lock is the system's own, on a small empty file beside the real file, whatever link led there. The
system lets it go when its holder ends, however that comes about. The empty file is taken away with the
lock; one that a crash left behind locks nothing, has a fixed name, and goes with the next change.
"""

from __future__ import annotations

import os
import stat
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import click

from barrowful.measures.problems import CannotReadWrite

#: A change takes a second or two: a lock that is not to be had in so many tries, so many seconds apart,
#: is not waited for any longer.
TRIES, PAUSE = 200, 0.1
#: Where a link of the lock's name leads is nobody's business here.
_FLAGS = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0)

if sys.platform == "win32":
    import msvcrt

    def _take(handle: int, path: Path) -> bool:
        """Lock an open file if nobody else has; here nobody can delete it while it is open."""
        try:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True

    def _give_back(handle: int, path: Path) -> None:
        """Unlock and close the file, and take it away unless another has opened it meanwhile."""
        ours = _is_ours(handle)
        msvcrt.locking(handle, msvcrt.LK_UNLCK, 1)
        os.close(handle)
        if ours:
            with suppress(OSError):
                path.unlink()

else:
    import fcntl

    def _take(handle: int, path: Path) -> bool:
        """Lock an open file if nobody else has, and if it has its name still.

        Whoever had the lock before took the name away with it; a file without one locks nothing.
        """
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            return os.path.samestat(os.fstat(handle), os.lstat(path))
        except (BlockingIOError, FileNotFoundError):
            return False

    def _give_back(handle: int, path: Path) -> None:
        """Take the file away while it is still locked, then unlock it by closing it."""
        if _is_ours(handle):
            path.unlink(missing_ok=True)
        os.close(handle)


@contextmanager
def locked(file: Path) -> Iterator[None]:
    """Hold the lock of a real file; :class:`CannotReadWrite` when it is not to be had."""
    path = file.with_name(f".{file.name}.barrowful-lock")
    try:
        handle = _wait_for(path, file)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        message = f"cannot write {file}: cannot lock it by {path.name} beside it: {reason}"
        raise CannotReadWrite(message) from None
    try:
        yield
    finally:
        _give_back(handle, path)


def pause() -> None:
    """Wait a moment before the next try."""
    time.sleep(PAUSE)


def _wait_for(path: Path, file: Path) -> int:
    """Return the open and locked file of a path."""
    for number in range(TRIES):
        if number:
            pause()
        handle = _try(path)
        if handle is not None:
            return handle
        if not number:
            click.echo(f"Waiting: another command is writing to {file}.", err=True)
    raise CannotReadWrite(
        f"cannot write {file}: another command has been writing to it for {TRIES * PAUSE:.0f} seconds;"
        " nothing was written, try again when it is done"
    )


def _try(path: Path) -> int | None:
    """Return the open and locked file of a path, or None when another has it."""
    handle = os.open(path, _FLAGS, 0o666)
    try:
        if not stat.S_ISREG(os.fstat(handle).st_mode):
            raise FileExistsError(0, "something else has that name")
        if _take(handle, path):
            return handle
    except BaseException:
        os.close(handle)
        raise
    os.close(handle)
    return None


def _is_ours(handle: int) -> bool:
    """Say whether the file may go: what we made is empty, anything else is somebody's."""
    return os.fstat(handle).st_size == 0
