"""Write the generated pages of docs/ and the packaged sample; --check compares instead."""

from __future__ import annotations

import sys
from pathlib import Path

from barrowful.sitefile import manual, schema
from barrowful.tables.columns import COLUMNS

ROOT = Path(__file__).resolve().parent.parent


def columns_page() -> str:
    """Return the page of every column key."""
    head = (
        "# Columns\n\nThis page is generated. Keys are stable; columns may be added, never renamed. Machine\n"
        "formats (csv, tsv, json) are always in these units; money is in the site's currency.\n\n"
        "| key | unit | meaning |\n| --- | --- | --- |\n"
    )
    rows = [
        f"| `{column.key}` | {'currency' if column.kind == 'money' else column.unit} | {column.meaning} |\n"
        for column in COLUMNS.values()
    ]
    return head + "".join(rows)


def wanted() -> dict[Path, str]:
    """Return every generated file with its text."""
    return {
        ROOT / "docs" / "site-file.md": manual.page(),
        ROOT / "docs" / "site.schema.json": schema.text(),
        ROOT / "docs" / "columns.md": columns_page(),
        ROOT / "src" / "barrowful" / "sample.yaml": (ROOT / "demo" / "quarry-bank.yaml").read_text("utf-8"),
    }


def main() -> int:
    """Write or check the files; return 1 when a check fails."""
    stale = []
    for path, text in wanted().items():
        if "--check" in sys.argv:
            if not path.exists() or path.read_text("utf-8") != text:
                stale.append(path)
        else:
            path.write_text(text, "utf-8")
    for path in stale:
        print(f"{path.relative_to(ROOT)} is stale: run python docs/generate.py")
    return 1 if stale else 0


if __name__ == "__main__":
    sys.exit(main())
