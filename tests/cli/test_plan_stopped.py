"""A plan that is stopped by Ctrl-C: the best so far is printed, nothing is written, and the exit code says so."""

from __future__ import annotations

from itertools import count
from pathlib import Path
from typing import Any

import pytest

highspy = pytest.importorskip("highspy")
SCARCE = Path(__file__).parent / "sites" / "scarce.yaml"


def test_the_best_so_far_is_printed_and_not_written(
    call: Any, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """With its bound, on standard output; the file stays as it was."""
    times, wait = count(1), highspy.Highs.wait

    def stopped(solver: object, timeout: float) -> object:
        if next(times) == 2:
            raise KeyboardInterrupt
        return wait(solver, timeout)

    monkeypatch.setattr(highspy.Highs, "wait", stopped)
    site = tmp_path / "site.yaml"
    site.write_bytes(SCARCE.read_bytes())
    done = call("plan", site, "--write")
    assert done.code == 130
    assert done.text.startswith("Do this: ")
    assert "the search stopped before it was proven" in " ".join(done.text.split())
    assert "Stopped: this is the best plan so far" in done.err
    assert site.read_bytes() == SCARCE.read_bytes()
    assert list(tmp_path.iterdir()) == [site]
