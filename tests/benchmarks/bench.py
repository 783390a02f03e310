"""Show the speed beside what it is held against: the libraries alone, libyaml, plain NumPy.

Run with ``python tests/benchmarks/bench.py``, or with a number of places to leave larger sites out;
nothing here is asserted. Budgets are for a common two-core machine.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROUNDS = 7
LIBRARIES = "import click, yaml, tabulate, pint"
#: Sizes of sites, and seconds that each command may take with them.
PLACES = (100, 1_000, 10_000)
BUDGETS = {
    "options": {1_000: 2.0, 10_000: 15.0},
    "orders": {1_000: 2.0, 10_000: 15.0},
    "course": {1_000: 2.0, 10_000: 15.0},
    "ledger": {1_000: 2.0, 10_000: 15.0},
    "sizes": {10_000: 8.0},
    "sizes --format csv": {10_000: 4.0},
}
#: Memory that each command may take with the largest [MB].
MEMORY = 400
#: What a what-if varies on the sample.
VARIED = "ways.yard compost.buy.price=40..60 EUR/m3"
#: Plans: places, kinds of them, years, and the seconds that all aims may take.
PLANS = ((60, 12, 3, 10), (200, 25, 4, 60))
#: How long a plan's least cost takes to be settled, from the start of the command, and what is left open of it.
SETTLED = """
import sys, time
start = time.perf_counter()
from barrowful.answers.options import options
from barrowful.planning.plan import Limited, plan_of
from barrowful.site.load import load
after = []
answer = options(load(open(sys.argv[1], "rb").read(), sys.argv[1]).site)
step = lambda aim: after.append(time.perf_counter() - start) if aim == "least cost" else None
plan = plan_of(answer, Limited.of(answer), progress=step)
print(f"  least cost after {after[0]:.1f} s (at most 30), {'proven' if plan.proven else f'{plan.gap:.1%} open'}")
"""
DEMOS = Path(__file__).parents[2] / "demo"
#: Beside a sheet of places: libyaml on the file, and NumPy on areas, depths and masses of as many.
COMPOSE = "import sys, yaml; yaml.compose(open(sys.argv[1], 'rb').read(), Loader=yaml.CBaseLoader)"
NUMPY = (
    "import sys, numpy; n = int(sys.argv[1]); a = numpy.linspace(3, 9, n) * numpy.linspace(1, 2, n);"
    "print((a * 0.08 / 0.88 * 350).sum())"
)
HEAD = """site: Large
currency: EUR
start: 2027-03-01
horizon: 5 years
climate: {annual_mean: 11 degC}
soil: {organic_matter: 1.8 %, bulk_density: 1.35 g/cm3, clay: 24 %, tested: 2026-10-01}
ways:
  - name: yard compost
    buy: {material: green compost, price: 46 EUR/m3, step: 0.5 m3, minimum: 2 m3, delivery: 55 EUR, truck: 8 m3}
  - name: tree chip
    buy: {material: arborist chip, price: 9 EUR/m3, delivery: 40 EUR, truck: 10 m3}
  - name: straw
    buy: {material: straw, price: 20 EUR/m3}
  - name: hot heap
    make:
      {bays: 2, bay: 1 m3, from: [{way: tree chip}, {material: coffee grounds, weekly: 25 kg},
      {material: grass clippings, weekly: 40 kg}]}
  - name: comfrey patch
    grow: {plant: comfrey, start_with: 200, area: 140 m2}
  - name: old pile
    have: {material: leaf mould, amount: 40 m3}
places:
"""
PLANNED_HEAD = """site: Planned
currency: EUR
start: 2027-03-01
horizon: {years} years
climate: {{annual_mean: 11 degC}}
soil: {{organic_matter: 1.8 %, bulk_density: 1.35 g/cm3, clay: 24 %, tested: 2026-10-01}}
labour: {{hours_per_week: 40 h}}
ways:
  - name: yard compost
    buy:
      {{material: green compost, price: 46 EUR/m3, step: 0.5 m3, minimum: 2 m3, delivery: 55 EUR, truck: 8 m3,
      lead: 2 weeks}}
  - name: tree chip
    buy: {{material: arborist chip, price: 9 EUR/m3, delivery: 40 EUR, truck: 10 m3, lead: 1 month}}
  - name: straw
    buy: {{material: straw, price: 20 EUR/m3}}
  - name: hot heap
    make:
      {{bays: 2, bay: 1 m3, from: [{{way: tree chip}}, {{material: coffee grounds, weekly: 25 kg}},
      {{material: grass clippings, weekly: 40 kg}}]}}
  - name: comfrey patch
    grow: {{plant: comfrey, start_with: 200, area: 140 m2}}
  - name: feather
    buy: {{material: feather meal, price: 40 EUR/bag, bag: 20 kg}}
places:
"""


def planned_site(places: int, kinds: int, years: int) -> str:
    """Return a site file with six ways and places of so many kinds, no two of one size."""
    text = PLANNED_HEAD.format(years=years)
    for index in range(places):
        kind = index % kinds
        depth, soil, by = 3 + kind * 3 % 6, 10 + kind * 5 % 11, f"{2028 + kind % 2}-{1 + kind % 9:02d}-15"
        needs = [
            [f"cover: {{depth: {depth} cm}}", f"feed: {{nitrogen: {8 + kind % 5} g/m2}}"],
            [f"raise: {{organic_matter: {2 + kind * 7 % 5 / 10:.1f} %, depth: {soil} cm, by: {by}}}"],
            [f"dress: {{depth: {min(2.4, depth / 3):.2f} cm}}", f"feed: {{nitrogen: {6 + kind % 4} g/m2}}"],
            [f"cover: {{depth: {depth + kind * 0.1:.1f} cm, keep: 60 %}}"],
        ][kind % 4]
        text += f"  - name: bed {index}\n    kind: bed\n"
        text += f"    shape: {{rectangle: [{3 + index * 0.013:.3f} m, {1 + index % 7 * 0.1:.1f} m]}}\n    needs:\n"
        text += "".join(f"      - {need}\n" for need in needs)
    return text


def large_site(places: int, own_soils: bool = False) -> str:
    """Return a site file with six ways and many places, no two alike, half of them to be raised.

    Each may have a soil test of its own.
    """
    text = HEAD
    for index in range(places):
        depth, soil = 3 + index * 3 % 6, 10 + index * 5 % 11
        by = f"{2028 + index % 2}-{1 + index % 9:02d}-15"
        raises = f"raise: {{organic_matter: {2 + index * 7 % 13 / 10:.1f} %, depth: {soil} cm, by: {by}}}"
        needs = [
            [f"cover: {{depth: {depth} cm}}", f"feed: {{nitrogen: {8 + index % 5} g/m2}}"],
            [raises],
            [f"dress: {{depth: {depth / 2} cm}}", raises],
            [f"dress: {{depth: {depth / 3:.2f} cm}}", f"cover: {{depth: {depth} cm, keep: 60 %}}"],
        ][index % 4]
        length, width = 3 + index * 0.013, 1 + index % 7 * 0.1
        text += f"  - name: bed {index}\n    kind: bed\n"
        if own_soils:
            text += (
                f"    soil: {{organic_matter: {1.2 + index % 37 * 0.04:.2f} %, clay: {10 + index % 23} %}}\n"
            )
        text += f"    shape: {{rectangle: [{length:.3f} m, {width:.1f} m]}}\n    needs:\n"
        text += "".join(f"      - {need}\n" for need in needs)
    return text


def best(command: list[str], rounds: int = ROUNDS) -> float:
    """Return the best time of some runs [s]."""
    return min(run(command)[0] for _ in range(rounds))


def run(command: list[str]) -> tuple[float, float]:
    """Return the time of a run [s] and its memory [MB], with compiled modules kept as they are for a user."""
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}
    quiet, start = subprocess.DEVNULL, time.perf_counter()
    with subprocess.Popen(command, stdout=quiet, stderr=quiet, env=environment) as process:
        _, status, used = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        taken = time.perf_counter() - start
    if process.returncode:
        raise subprocess.CalledProcessError(process.returncode, command)
    return taken, used.ru_maxrss / 1024


def main() -> None:
    """Print the timings."""
    python, tool = sys.executable, [sys.executable, "-m", "barrowful"]
    most = int(sys.argv[1]) if len(sys.argv) > 1 else PLACES[-1]
    libraries = best([python, "-c", LIBRARIES])
    print(f"libraries alone      {libraries:.3f} s")
    for words in (
        ["--help"],
        ["check"],
        ["sizes"],
        ["options"],
        ["orders"],
        ["heap"],
        ["course"],
        ["ledger"],
        ["season"],
    ):
        taken = best([*tool, *words])
        allowed = {"--help": "  (at most 0.35)", "options": "  (at most 1.40)"}.get(words[0], "")
        print(f"{words[0]:<20} {taken:.3f} s   {taken / libraries:.2f} x libraries{allowed}")
    taken = best([*tool, "whatif", "--vary", f"{VARIED}:200", "--format", "csv"], rounds=2)
    print(f"whatif, 200 cases    {taken:.2f} s   (wanted: 3)")
    plain, ranged = (best([*tool, "options", *more], rounds=3) for more in ([], ["--ranges"]))
    print(f"options --ranges     {ranged:.2f} s   {ranged - plain:.2f} s more than without (at most 1)")
    print("\nplans, all aims")
    for demo in sorted(DEMOS.glob("*.yaml")):
        print(f"{demo.stem:<24} {best([*tool, 'plan', str(demo)], rounds=2):.2f} s   (at most 3)")
    with tempfile.TemporaryDirectory() as folder:
        for places, kinds, years, allowed_for in PLANS if most >= PLACES[1] else PLANS[:1]:
            path = Path(folder) / "planned.yaml"
            path.write_text(planned_site(places, kinds, years), "utf-8")
            taken = best([*tool, "plan", str(path)], rounds=1)
            print(f"{places} places of {kinds} kinds    {taken:.2f} s   (at most {allowed_for})")
            subprocess.run([python, "-c", SETTLED, str(path)], check=True)
        before: dict[str, float] = {}
        if most >= PLACES[1]:
            path = Path(folder) / "soils.yaml"
            path.write_text(large_site(PLACES[1], own_soils=True), "utf-8")
            print(f"\n{PLACES[1]:,} places with a soil test each")
            for command in ("options", "orders", "course", "ledger"):
                taken = best([*tool, command, str(path), "--format", "json"], rounds=2)
                print(f"{command:<20} {taken:.2f} s   (at most {BUDGETS[command][PLACES[1]]:.0f})")
        for places in (size for size in PLACES if size <= most):
            path = Path(folder) / "large.yaml"
            path.write_text(large_site(places), "utf-8")
            composed = best([python, "-c", COMPOSE, str(path)], rounds=2)
            summed = best([python, "-c", NUMPY, str(places)], rounds=2)
            print(f"\n{places:,} places: libyaml composes in {composed:.2f} s, NumPy's sums {summed:.2f} s")
            for words, allowed_by in BUDGETS.items():
                command, *more = words.split()
                form = more or ["--format", "json"]
                runs = [
                    run([*tool, command, str(path), *form]) for _ in range(2 if places < PLACES[-1] else 1)
                ]
                taken, memory = min(runs)
                budget = f"   (at most {allowed_by[places]:.0f})" if places in allowed_by else ""
                growth = f"   {taken / before[words]:.1f} x the last" if words in before else ""
                room = f"   {memory:.0f} MB (at most {MEMORY})" if places == PLACES[-1] else ""
                print(f"{words:<20} {taken:.2f} s{budget}{growth}{room}")
                before[words] = taken


if __name__ == "__main__":
    main()
