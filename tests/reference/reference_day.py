"""Integrates the days of a scenario with SciPy, independently of the program, and prints CSV.

    python3 tests/reference/reference_day.py SCENARIO [--strategy NAME] [--gas LAW]
                                             [--set ITEM=VALUE]

A line of totals a strategy and, with --starts, the start times (s after midnight) on a line after
it.  SI: s, J, m3.
"""

from find_scipy import need_scipy

need_scipy()

import argparse  # noqa: E402
import sys  # noqa: E402
import time  # noqa: E402
from pathlib import Path  # noqa: E402

from day import RTOL, Day  # noqa: E402
from plant import Plant, Strategy  # noqa: E402
from scenario import Scenario  # noqa: E402

STRATEGIES = ("pressure-start", "flow-start", "peak-only")
GASES = ("isothermal", "polytropic", "thermal")


def reference_day(folder, strategy, overrides=(), rtol=RTOL):
    """One strategy through one scenario's day."""
    plant = Plant(Scenario(folder, overrides))
    return Day(plant, Strategy(strategy, plant), rtol).run()


def totals_line(folder, name, gas, day):
    energy, supplied, delivered, leaked = day.totals
    figures = (day.run_time, energy, supplied, delivered, leaked, day.stored_gain)
    words = [Path(folder).name, name, gas, str(len(day.start_times))]
    return ",".join(words + [f"{figure:.9g}" for figure in figures])


def arguments():
    parser = argparse.ArgumentParser(description="an independent integration of a day")
    parser.add_argument("scenario")
    parser.add_argument("--strategy", action="append", choices=STRATEGIES)
    parser.add_argument("--gas", choices=GASES)
    parser.add_argument("--set", action="append", default=[], metavar="ITEM=VALUE")
    parser.add_argument("--rtol", type=float, default=RTOL)
    parser.add_argument("--starts", action="store_true", help="print the start times too")
    parser.add_argument("--effort", action="store_true", help="print time and segments to stderr")
    return parser.parse_args()


def main():
    options = arguments()
    overrides = options.set + ([f"tank.gas={options.gas}"] if options.gas else [])
    print("scenario,strategy,gas,starts,run_time,energy,supplied,delivered,leaked,stored")
    for name in options.strategy or STRATEGIES:
        began = time.process_time()
        day = reference_day(options.scenario, name, overrides, options.rtol)
        print(totals_line(options.scenario, name, day.plant.gas, day))
        if options.starts:
            print(" ".join(f"{start:.4f}" for start in day.start_times))
        if options.effort:
            spent = time.process_time() - began
            print(f"{name}: {spent:.2f} s, {day.segments} segments", file=sys.stderr)


if __name__ == "__main__":
    main()
