"""Saying what is being worked on, on standard error, once it takes longer than a moment."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Lock, Timer
from typing import Any

import click

#: Seconds after which whoever waits is told what for.
A_MOMENT = 1.0
Say = Callable[[str], None]


class Waiting:
    """What is being worked on: kept for itself at first, and said once it takes longer than a moment."""

    def __init__(self, say: Say) -> None:
        self._say, self._lock, self._now, self._begun = say, Lock(), "", False

    def __call__(self, what: str) -> None:
        """Take note of what is being worked on now."""
        with self._lock:
            self._now = what
            if self._begun:
                self._say(what)

    def begin(self) -> None:
        """Say what is being worked on, and from now on each that comes next."""
        with self._lock:
            self._begun = True
            if self._now:
                self._say(self._now)


def to_terminal() -> Say | None:
    """Return what says it on standard error where that is a terminal, else nothing."""
    if not sys.stderr.isatty():
        return None
    return lambda what: click.echo(f"barrowful: looking for {what} ...", err=True)


@contextmanager
def progress(say: Say | None, timer: Callable[..., Any] = Timer) -> Iterator[Say]:
    """Give what takes note of each step; ``say`` hears of them from a moment on, until all is done."""
    if say is None:
        yield lambda what: None
        return
    waiting = Waiting(say)
    clock = timer(A_MOMENT, waiting.begin)
    clock.daemon = True
    clock.start()
    try:
        yield waiting
    finally:
        clock.cancel()
