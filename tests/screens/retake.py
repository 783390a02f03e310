"""Take every kept screen anew: ``python tests/screens/retake.py``, then read what ``git diff`` shows."""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "shared"))

from screens import COMMANDS, DEMOS, HEDGE, KEPT, file_of, kept_views, reports, text_of, typed_text


def main() -> None:
    """Write the file of each view, and take away those of views there are no more."""
    written = set()
    for demo in (*DEMOS, HEDGE):
        for view, make in kept_views(demo).items():
            file = file_of(demo, view)
            file.parent.mkdir(exist_ok=True)
            file.write_text(text_of(view, reports(demo, make)), encoding="utf-8")
            written.add(file)
            print(file.relative_to(KEPT))
    for view in COMMANDS:
        file = file_of("commands", view)
        file.parent.mkdir(exist_ok=True)
        file.write_text(typed_text(view), encoding="utf-8")
        written.add(file)
        print(file.relative_to(KEPT))
    for file in set(KEPT.glob("*/*.txt")) - written:
        file.unlink()


if __name__ == "__main__":
    main()
