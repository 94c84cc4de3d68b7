"""Holds the program's days against the independent integration.

    python3 tests/reference/compare_with_program.py [SCENARIO...] [--strategy NAME] [--gas LAW]
                                                    [--kept FOLDER]

All scenarios, strategies and gas laws unless chosen.  Starts must be equal, every start within
0.5 s, running time, energy and volume within 0.2 %.  Prints a line a day and exits with 1 if any
fails; exits with 0 and a line `skipped: ...` where SciPy is missing.

The integration takes seconds a day and knows nothing of the program but the items' defaults: with
--kept its days are kept in a folder, each under a name made of all that it depends on, and taken
from there.
"""

from find_scipy import need_scipy

need_scipy()

import argparse  # noqa: E402
import csv  # noqa: E402
import hashlib  # noqa: E402
import json  # noqa: E402
import os  # noqa: E402
import subprocess  # noqa: E402
import sys  # noqa: E402
import tempfile  # noqa: E402
from itertools import product  # noqa: E402
from multiprocessing import Pool  # noqa: E402
from pathlib import Path  # noqa: E402

import scipy  # noqa: E402

from day import Chatter  # noqa: E402
from reference_day import GASES, STRATEGIES, reference_day  # noqa: E402
from scenario import PROGRAM, program_defaults  # noqa: E402

SCENARIOS = Path(__file__).resolve().parents[2] / "scenarios"
NOT_OF_A_DAY = ("find_scipy", "test_reference")
START_WITHIN = 0.5  # s
TOTAL_WITHIN = 0.002  # relative
# least sizes that a relative difference is taken of: 1 s, 1 kJ, 1 L
LEAST = {"run_time": 1.0, "energy": 1e3, "volume": 1e-3}


def program_day(program, folder, strategy, overrides):
    """Start times and totals of the program's day, SI, from the files that it writes."""
    with tempfile.TemporaryDirectory() as out:
        command = [program, "compare", folder, "--strategy", strategy, "--units", "si", "-o", out]
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


def integrated_day(folder, strategy, overrides):
    """Start times and totals of the integration's day, SI."""
    day = reference_day(folder, strategy, overrides)
    totals = {"run_time": day.run_time, "energy": day.totals[0], "volume": day.totals[2]}
    return day.start_times, totals


def name_of_day(folder, strategy, overrides):
    """A digest of all that the integration's day depends on: its code, SciPy, the scenario, and
    the defaults of items, which are the program's."""
    words = (scipy.__version__, strategy, overrides, sorted(program_defaults().items()))
    digest = hashlib.sha256(repr(words).encode())
    code = [path for path in Path(__file__).parent.glob("*.py") if path.stem not in NOT_OF_A_DAY]
    for path in sorted([*code, *Path(folder).glob("*.csv")]):
        digest.update(path.name.encode() + b"\0" + path.read_bytes() + b"\0")
    return digest.hexdigest()


def kept_day(kept, folder, strategy, overrides):
    """The integration's day from the folder of kept days, where it is put if it is not there."""
    if kept is None:
        return integrated_day(folder, strategy, overrides)
    path = Path(kept, name_of_day(folder, strategy, overrides) + ".json")
    if not path.exists():
        Path(kept).mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(f".{os.getpid()}")
        part.write_text(json.dumps(integrated_day(folder, strategy, overrides)))
        part.replace(path)
    return json.loads(path.read_text())


def relative(name, got, expected):
    return abs(got - expected) / max(abs(expected), LEAST[name])


def compare_day(task):
    """(line of the table, passed) of one scenario, strategy and gas law."""
    program, kept, folder, strategy, gas, more = task
    overrides = [f"tank.gas={gas}", *more]
    head = f"{folder.name:18} {strategy:15} {gas:11}"
    try:
        count, starts, totals = program_day(program, folder, strategy, overrides)
        other_starts, expected = kept_day(kept, folder, strategy, overrides)
    except subprocess.CalledProcessError as failure:
        return f"{head} program: {failure.stderr.strip()}", False
    except Chatter:
        return f"{head} reference: too many events", False
    apart = {name: relative(name, totals[name], expected[name]) for name in LEAST}
    same = count == len(starts) == len(other_starts)
    shift = max((abs(a - b) for a, b in zip(starts, other_starts)), default=0.0)
    good = same and shift <= START_WITHIN and max(apart.values()) <= TOTAL_WITHIN
    figures = " ".join(f"{100 * apart[name]:9.5f}" for name in LEAST)
    line = f"{head} {count:6} {len(other_starts):6} {shift:9.5f} {figures}"
    return f"{line}  {'ok' if good else 'DIFFERS'}", good


def arguments():
    parser = argparse.ArgumentParser(description="program against independent integration")
    parser.add_argument("scenario", nargs="*", type=Path)
    parser.add_argument("--strategy", action="append", choices=STRATEGIES)
    parser.add_argument("--gas", action="append", choices=GASES)
    parser.add_argument("--set", action="append", default=[], metavar="ITEM=VALUE")
    parser.add_argument("--program", default=str(PROGRAM))
    parser.add_argument("--kept", metavar="FOLDER")
    parser.add_argument("--jobs", type=int, default=2)
    return parser.parse_args()


def main():
    options = arguments()
    folders = options.scenario or sorted(path.parent for path in SCENARIOS.glob("*/site.csv"))
    choices = product(folders, options.strategy or STRATEGIES, options.gas or GASES)
    tasks = [(options.program, options.kept, *choice, options.set) for choice in choices]
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
