"""The three standard streams: what stands in for a closed one, and how they are left."""

from __future__ import annotations

import os
import sys
from typing import Any

#: A closed stream gets one that fails when it is used; what is said to no one is dropped.
STAND_INS = (("stdin", "r", os.O_WRONLY), ("stdout", "w", os.O_RDONLY), ("stderr", "w", os.O_WRONLY))


def stand_in() -> None:
    """Put a stream in the place of each that was closed when the process began."""
    for name, mode, way in STAND_INS:
        if getattr(sys, name) is None:
            setattr(sys, name, os.fdopen(os.open(os.devnull, way), mode, encoding="utf-8", closefd=False))


def settle() -> None:
    """Empty the streams; one that cannot be emptied is let go, or it would fail again at the very end."""
    for stream in (sys.stdout, sys.__stdout__, sys.stderr, sys.__stderr__):
        try:
            if stream is not None:
                stream.flush()
        except OSError:
            _let_go(stream)


def _let_go(stream: Any) -> None:
    """Send what is left in a stream to nowhere."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, stream.fileno())
    os.close(nowhere)
