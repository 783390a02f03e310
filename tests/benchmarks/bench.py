"""Show the speed: start-up against the libraries alone, the sample, and ten thousand places.

Run with ``python tests/benchmarks/bench.py``; nothing here is asserted.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

import yaml

ROUNDS = 7
LIBRARIES = "import click, yaml, tabulate, pint"


def best(command: list[str], rounds: int = ROUNDS) -> float:
    """Return the best time of some runs [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        subprocess.run(command, check=True, capture_output=True)
        times.append(time.perf_counter() - start)
    return min(times)


def large_site(places: int) -> str:
    """Return a site file with many places, two needs each."""
    head = (
        "site: Large\ncurrency: EUR\nstart: 2027-03-01\nclimate: {annual_mean: 12 degC}\nways:\n"
        "  - name: chip\n    buy: {material: arborist chip, price: 9 EUR/m3}\nplaces:\n"
    )
    one = (
        "  - name: bed {}\n    kind: bed\n    shape: {{rectangle: [9 m, 1.2 m]}}\n    count: 2\n"
        "    needs:\n      - cover: {{depth: 8 cm}}\n      - dress: {{depth: 1 cm}}\n"
    )
    return head + "".join(one.format(index) for index in range(places))


def main() -> None:
    """Print the timings."""
    python, tool = sys.executable, [sys.executable, "-m", "barrowful"]
    libraries = best([python, "-c", LIBRARIES])
    print(f"libraries alone    {libraries:.3f} s")
    for words in (["--help"], ["check"], ["sizes"], ["options"], ["heap"], ["course"]):
        taken = best([*tool, *words])
        print(f"{words[0]:<18} {taken:.3f} s   {taken / libraries:.2f} x libraries")
    with tempfile.TemporaryDirectory() as folder:
        for places in (1_000, 5_000, 10_000):
            path = Path(folder) / "large.yaml"
            path.write_text(large_site(places), "utf-8")
            start = time.perf_counter()
            yaml.compose(path.read_bytes(), Loader=yaml.CBaseLoader)
            composed = time.perf_counter() - start
            taken = best([*tool, "sizes", str(path), "--format", "csv"], rounds=2)
            print(f"{places:>6} places       {taken:.2f} s   libyaml composes in {composed:.2f} s")


if __name__ == "__main__":
    main()
