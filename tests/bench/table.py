"""Prints what days cost: builds and methods side by side, as ratios of one run.

    python3 tests/bench/table.py NAME=PROGRAM... [--gsl PROGRAM]

NAME=PROGRAM is a build of bench_days, the first of them the one that the others are compared with.
The builds are run in turns, and of each day the least time counts, so that what else the machine
does falls on all alike.
"""

import argparse
import statistics
import subprocess
import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "reference"))
from find_scipy import candidates, has_scipy  # noqa: E402

ROOT = Path(__file__).resolve().parents[2]
SCENARIOS = sorted(path.parent for path in ROOT.glob("scenarios/*/site.csv"))
HOUSE = ROOT / "scenarios" / "hillside-house"
ROUNDS = 3
DAY = ("hillside-house", "pressure-start")


def run(program, *arguments):
    """(days, kilobytes): {(scenario, strategy): (starts, steps, calls, ms)} of a program."""
    words = [program, *map(str, arguments)]
    said = subprocess.run(words, check=True, capture_output=True, text=True).stdout
    days, memory = {}, 0
    for line in said.splitlines():
        name, *fields = line.split()
        if name == "day":
            days[fields[0], fields[1]] = (*map(int, fields[2:5]), float(fields[5]))
        elif name == "memory":
            memory = int(fields[0])
    return days, memory


def least(first, second):
    return {day: min(first.get(day, cost), cost, key=lambda c: c[3]) for day, cost in second.items()}


def measure(builds):
    found, memory = {name: {} for name in builds}, {}
    for _ in range(ROUNDS):
        for name, program in builds.items():
            days, memory[name] = run(program, *SCENARIOS)
            found[name] = least(found[name], days)
    return found, memory


def print_builds(builds):
    found, memory = measure(builds)
    base = next(iter(builds))
    total = sum(cost[3] for cost in found[base].values())
    print(f"days of {len(SCENARIOS)} scenarios under three strategies, one thread")
    print(
        f"{'build':12} {'starts':>7} {'steps':>8} {'a day [ms]':>11} {'ratio':>6}"
        f" {'all [ms]':>9} {'ratio':>6} {'median':>7} {'worst':>7} {'w/m':>5} {'MB':>5}"
    )
    for name, days in found.items():
        starts, steps, _, spent = days[DAY]
        times = [cost[3] for cost in days.values()]
        middle = statistics.median(times)
        print(
            f"{name:12} {starts:7} {steps:8} {spent:11.2f} {spent / found[base][DAY][3]:6.3f}"
            f" {sum(times):9.1f} {sum(times) / total:6.3f} {middle:7.2f} {max(times):7.2f}"
            f" {max(times) / middle:5.1f} {memory[name] / 1024:5.1f}"
        )
    print(f"a day: {DAY[0]} under {DAY[1]}; w/m: the worst day over the median\n")
    return found


def python_day():
    """Seconds that the tests' integration in Python takes for the day; None without SciPy."""
    python = next((path for path in candidates() if has_scipy(path)), None)
    if python is None:
        return None
    code = (
        "import sys, time; sys.path.insert(0, 'tests/reference'); from pathlib import Path; "
        "from reference_day import reference_day; began = time.process_time(); "
        f"reference_day(Path('{HOUSE}'), '{DAY[1]}', []); print(time.process_time() - began)"
    )
    said = subprocess.run([python, "-c", code], check=True, cwd=ROOT, capture_output=True, text=True)
    return float(said.stdout.split()[-1])


def print_methods(spent, gsl):
    print(f"the same day by others ({DAY[0]} under {DAY[1]}); this build: 1")
    if gsl is not None:
        days, _ = run(gsl, HOUSE)
        print(f"  {'GSL, Runge-Kutta, 1e-8':34} {days[DAY][3]:10.1f} ms {days[DAY][3] / spent:9.0f}")
    seconds = python_day()
    if seconds is None:
        print("  SciPy LSODA: skipped, no SciPy")
    else:
        print(f"  {'SciPy LSODA, 1e-8':34} {1e3 * seconds:10.1f} ms {1e3 * seconds / spent:9.0f}")
    print()


def print_draws(program):
    print("draws a day and what the day costs (hillside-house with equal draws)")
    print(f"  {'draws':>6} {'starts':>7} {'steps':>8} {'[ms]':>8} {'[us a draw]':>12}")
    for count in (30, 100, 300, 1000, 2000):
        days, _ = run(program, "--draws", count, "--times", 3, HOUSE)
        starts, steps, _, spent = days[DAY]
        print(f"  {count:6} {starts:7} {steps:8} {spent:8.2f} {1e3 * spent / count:12.1f}")
    print()


def print_days(program):
    print("days one after the other in one workspace")
    print(f"  {'days':>6} {'[ms a day]':>11} {'memory [MB]':>12}")
    for count in (1, 10, 100):
        began = time.perf_counter()
        _, memory = run(program, "--times", count, HOUSE)
        spent = 1e3 * (time.perf_counter() - began) / (3 * count)
        print(f"  {3 * count:6} {spent:11.2f} {memory / 1024:12.1f}")


def main():
    parser = argparse.ArgumentParser(description="what days cost")
    parser.add_argument("build", nargs="+", metavar="NAME=PROGRAM")
    parser.add_argument("--gsl", metavar="PROGRAM")
    options = parser.parse_args()
    builds = dict(build.split("=", 1) for build in options.build)
    found = print_builds(builds)
    packaged = builds.get("packaged", next(iter(builds.values())))
    print_methods(found.get("packaged", next(iter(found.values())))[DAY][3], options.gsl)
    print_draws(packaged)
    print_days(packaged)
    return 0


if __name__ == "__main__":
    sys.exit(main())
