"""Write the generated pages of docs/ and the packaged sample; --check compares instead."""

from __future__ import annotations

import sys
import tomllib
from pathlib import Path
from typing import Any

from barrowful.catalogue.materials import material
from barrowful.catalogue.rates import rates
from barrowful.ground import decay
from barrowful.ground.climate import temperature_factor
from barrowful.sitefile.products import manual, schema
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


def kept(row: dict[str, Any], end: str) -> float:
    """Return what the model makes of a row: with humification at one end and humus loss at the other."""
    stuff = material(row["material"])
    assert stuff is not None
    warmth = temperature_factor(row["temperature"])
    opposite = {"low": "high", "likely": "likely", "high": "low"}[end]
    fresh, humus = stuff["decay"] * warmth, getattr(rates()["humus_rate"], opposite) * warmth
    share = getattr(stuff.figures["humus"], end)

    def left(years: float) -> float:
        old = decay.humus_formed(years, fresh, humus, share)
        return old if row["sort"] == "humus once" else old + decay.fresh_left(years, fresh)

    if row["sort"] in {"kept once", "humus once"}:
        return 100 * left(row["years"])
    ages = range(row.get("every", 1), row["years"] + 1, row.get("every", 1))
    if row["sort"] == "kept yearly":
        return 100 * sum(left(age) for age in ages) / row["years"]
    gain = row["pulse"] * sum(left(age) for age in ages)
    return gain / row["years"] if row["sort"] == "gain a year" else gain


def validation_page() -> str:
    """Return the page that holds the soil model against field results, misses and all."""
    written = tomllib.loads((ROOT / "docs" / "validation.toml").read_text("utf-8"))
    lines, inside, near = [], 0, 0
    for row in written["row"]:
        low, likely, high = (kept(row, end) for end in ("low", "likely", "high"))
        met = low <= row["high"] and high >= row["low"]
        inside += met
        seen = f"{row['low']:g}" if row["low"] == row["high"] else f"{row['low']:g} to {row['high']:g}"
        model = f"{likely:.3g} ({low:.3g} to {high:.3g})"
        nearest = min(max(likely, row["low"]), row["high"])
        off = likely / nearest - 1 if nearest else 0.0
        near += abs(off) <= 0.25
        miss = f"{off:+.0%}" if abs(off) > 0.005 else "-"
        meets = "yes" if met else "**no**"
        lines.append(f"| {row['name']} | {seen} | {model} | {meets} | {miss} | {row['source']} |\n")
    return str(written["head"]).format(inside=inside, near=near, count=len(written["row"])) + "".join(lines)


def wanted() -> dict[Path, str]:
    """Return every generated file with its text."""
    return {
        ROOT / "docs" / "site-file.md": manual.page(),
        ROOT / "docs" / "site.schema.json": schema.text(),
        ROOT / "docs" / "columns.md": columns_page(),
        ROOT / "docs" / "validation.md": validation_page(),
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
