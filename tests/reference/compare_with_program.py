"""Holds the program's days against the independent integration.

    python3 tests/reference/compare_with_program.py [SCENARIO...] [--strategy NAME] [--gas LAW]

All scenarios, strategies and gas laws unless chosen.  Starts must be equal, every start within
0.5 s, running time, energy and volume within 0.2 %.  Prints a line a day and exits with 1 if any
fails; exits with 0 and a line `skipped: ...` where SciPy is missing.
"""

from find_scipy import need_scipy

need_scipy()

import argparse  # noqa: E402
import csv  # noqa: E402
import subprocess  # noqa: E402
import sys  # noqa: E402
import tempfile  # noqa: E402
from itertools import product  # noqa: E402
from multiprocessing import Pool  # noqa: E402
from pathlib import Path  # noqa: E402

from day import Chatter  # noqa: E402
from reference_day import GASES, STRATEGIES, reference_day  # noqa: E402
from scenario import PROGRAM  # noqa: E402

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
START_WITHIN = 0.5  # s
TOTAL_WITHIN = 0.002  # relative
# least sizes that a relative difference is taken of: 1 s, 1 kJ, 1 L
LEAST = {"run_time": 1.0, "energy": 1e3, "volume": 1e-3}


def program_day(program, folder, strategy, overrides):
    """Start times and totals of the program's day, SI, from the files that it writes."""
    with tempfile.TemporaryDirectory() as out:
        command = [program, "compare", folder, "--strategy", strategy, "-o", out]
        command += [word for override in overrides for word in ("--set", override)]
        subprocess.run(command, check=True, capture_output=True, text=True)
        with open(Path(out, "summary.csv"), encoding="utf-8") as stream:
            summary = next(csv.DictReader(stream))
        with open(Path(out, "cycles.csv"), encoding="utf-8") as stream:
            runs = list(csv.DictReader(stream))
    # a run that goes on from before midnight is none of the day's starts
    starts = [float(run["start [s]"]) for run in runs if run["start_cause"] != "ran at midnight"]
    totals = {
        "run_time": 3600.0 * float(summary["run_time [h]"]),
        "energy": 3.6e6 * float(summary["energy [kWh]"]),
        "volume": 1e-3 * float(summary["volume [L]"]),
    }
    return int(summary["starts"]), starts, totals


def relative(name, got, expected):
    return abs(got - expected) / max(abs(expected), LEAST[name])


def compare_day(task):
    """(line of the table, passed) of one scenario, strategy and gas law."""
    program, folder, strategy, gas, more = task
    overrides = [f"tank.gas={gas}", *more]
    head = f"{folder.name:18} {strategy:15} {gas:11}"
    try:
        count, starts, totals = program_day(program, folder, strategy, overrides)
        day = reference_day(folder, strategy, overrides)
    except subprocess.CalledProcessError as failure:
        return f"{head} program: {failure.stderr.strip()}", False
    except Chatter:
        return f"{head} reference: too many events", False
    expected = {"run_time": day.run_time, "energy": day.totals[0], "volume": day.totals[2]}
    apart = {name: relative(name, totals[name], expected[name]) for name in LEAST}
    same = count == len(starts) == len(day.start_times)
    shift = max((abs(a - b) for a, b in zip(starts, day.start_times)), default=0.0)
    good = same and shift <= START_WITHIN and max(apart.values()) <= TOTAL_WITHIN
    figures = " ".join(f"{100 * apart[name]:9.5f}" for name in LEAST)
    line = f"{head} {count:6} {len(day.start_times):6} {shift:9.5f} {figures}"
    return f"{line}  {'ok' if good else 'DIFFERS'}", good


def arguments():
    parser = argparse.ArgumentParser(description="program against independent integration")
    parser.add_argument("scenario", nargs="*", type=Path)
    parser.add_argument("--strategy", action="append", choices=STRATEGIES)
    parser.add_argument("--gas", action="append", choices=GASES)
    parser.add_argument("--set", action="append", default=[], metavar="ITEM=VALUE")
    parser.add_argument("--program", default=str(PROGRAM))
    parser.add_argument("--jobs", type=int, default=2)
    return parser.parse_args()


def main():
    options = arguments()
    folders = options.scenario or sorted(path.parent for path in SCENARIOS.glob("*/site.csv"))
    choices = product(folders, options.strategy or STRATEGIES, options.gas or GASES)
    tasks = [(options.program, *choice, options.set) for choice in choices]
    print(f"{'':46} {'starts':>13} {'start':>9} {'run time':>9} {'energy':>9} {'volume':>9}")
    print(
        f"{'scenario':18} {'strategy':15} {'gas':11} {'prog.':>6} {'ref.':>6} {'[s]':>9}"
        f" {'[%]':>9} {'[%]':>9} {'[%]':>9}"
    )
    failures = 0
    with Pool(options.jobs) as pool:
        for line, good in pool.imap(compare_day, tasks):
            print(line, flush=True)
            failures += not good
    print(f"{len(tasks)} days compared, {failures} differ")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
