"""Write the catalogue as it is read: every file of it on a line, as JSON; docs/generate.py checks it.

It needs nothing of what it writes, so it can begin from nothing.
"""

from __future__ import annotations

import json
import tomllib
from pathlib import Path

FOLDER = Path(__file__).resolve().parent.parent / "src" / "barrowful" / "catalogue"
PATH = FOLDER / "compiled.txt"


def text() -> str:
    """Return a line for each file, in the order of their names."""
    files = {path.relative_to(FOLDER).as_posix(): path for path in FOLDER.rglob("*.toml")}
    held = {name: tomllib.loads(files[name].read_text("utf-8")) for name in sorted(files)}
    lines = (
        f"{name}\t{json.dumps(of, ensure_ascii=False, separators=(',', ':'))}" for name, of in held.items()
    )
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    PATH.write_text(text(), "utf-8")
