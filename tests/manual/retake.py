"""Write anew what the commands of the manual print: of all pages, or of those named; what is left out stays so.

python tests/manual/retake.py [PAGE...]
"""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "shared"))

from console import BLOCK, PAGES, Folder, retaken_page


def retake(name: str) -> list[str]:
    """Write one page, and return the commands of which a line that was kept is not there any more."""
    page = PAGES[name]
    text = page.read_text("utf-8")
    if not BLOCK.search(text):
        return []
    with tempfile.TemporaryDirectory() as folder:
        now, unsure = retaken_page(text, Folder(Path(folder)))
    if now != text:
        page.write_text(now, "utf-8")
        print(f"{name}: written")
    return unsure


def main(names: list[str]) -> int:
    """Write the pages and say what wants a look; return 1 where anything does."""
    unknown = [name for name in names if name not in PAGES]
    if unknown:
        print(f"no page of the manual: {', '.join(unknown)}; pages are {', '.join(PAGES)}")
        return 2
    unsure = [(name, command) for name in names or PAGES for command in retake(name)]
    for name, command in unsure:
        print(f"{name}: not all that was kept is there, or it was not run; look at: {command}")
    return 1 if unsure else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
