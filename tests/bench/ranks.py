"""Prints how many days of a household a second makes, in threads and in ranks.

    python3 tests/bench/ranks.py PROGRAM [PROGRAM-WITH-MPI]

A rate is that of the days beyond the first few, so that the start of the processes does not count;
it stands in a column of its own.  The least time of some rounds counts, taken in turns.
"""

import os
import resource
import subprocess
import sys
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
DAYS = [
    "days",
    str(ROOT / "scenarios" / "ten-flats"),
    "--strategy",
    "pressure-start",
]
FEW, MANY, ROUNDS = 8, 408, 3
MOST = 4  # ranks tried in any case, as the tests do
CONTAINER = {
    "OMPI_ALLOW_RUN_AS_ROOT": "1",
    "OMPI_ALLOW_RUN_AS_ROOT_CONFIRM": "1",
    "OMPI_MCA_rmaps_base_oversubscribe": "1",
}


def cost(words):
    """(seconds, seconds of processor) of a run."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    began = time.perf_counter()
    subprocess.run(words, check=True, stdout=subprocess.DEVNULL, env={**os.environ, **CONTAINER})
    spent = time.perf_counter() - began
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return spent, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def doubled(most):
    """1, 2, 4 ... and the most."""
    counts = [1]
    while counts[-1] * 2 <= most:
        counts.append(counts[-1] * 2)
    return counts if counts[-1] == most else [*counts, most]


def lines(alone, ranked, processors):
    """{(what, count): words without the number of days}."""
    found = {}
    for count in doubled(processors):
        found["threads", count] = [alone, *DAYS, "--jobs", str(count)]
    for count in doubled(max(processors, MOST)) if ranked else ():
        found["ranks", count] = ["mpirun", "-n", str(count), ranked, *DAYS, "--jobs", "1"]
    return found


def measure(found):
    """{(what, count): (seconds of FEW, seconds of MANY, processor's seconds of the difference)}."""
    least = {}
    for _ in range(ROUNDS):
        for key, words in found.items():
            few = cost([*words, "--count", str(FEW)])
            many = cost([*words, "--count", str(MANY)])
            new = (few[0], many[0], many[1] - few[1])
            least[key] = tuple(map(min, least.get(key, new), new))
    return least


def main():
    alone, ranked = sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else None
    processors = len(os.sched_getaffinity(0))
    least = measure(lines(alone, ranked, processors))
    one = None
    print(f"days of ten-flats under pressure-start, {processors} processors here")
    print(
        f"  {'':12} {'days a second':>14} {'efficiency':>11} {'processor [ms a day]':>21} {'start [s]':>10}"
    )
    for (what, count), (few, many, processor) in least.items():
        rate = (MANY - FEW) / (many - few)
        one = one or rate
        name = f"{count} {what if count > 1 else what[:-1]}"
        start = max(0.0, few - FEW / rate)
        print(
            f"  {name:12} {rate:14.1f} {rate / (one * count):11.2f}"
            f" {1e3 * processor / (MANY - FEW):21.2f} {start:10.2f}"
            f"{'  more than processors' if count > processors else ''}"
        )
    if ranked is None:
        print("  ranks: skipped, no mpicc or mpirun (Debian: openmpi-bin libopenmpi-dev)")
    return 0


if __name__ == "__main__":
    sys.exit(main())
