"""Reads good files spoilt at random, as many as wanted: `python scripts/mutate.py --count 1000000 --seed 1`.

Each spoilt text is known again by the seed and its number. Every reading must give a job, or faults with their places;
one in `--size-every` of those that still come out good is sized as well. It may be stopped at any time and then says
how many it has done. The last line is a row for docs/mutations.md. Exit status: 0 no failure, 1 any.
"""

from __future__ import annotations

import argparse
import signal
import sys
import time
from collections import Counter
from datetime import UTC, datetime
from pathlib import Path
from types import FrameType

sys.path.insert(0, str(Path(__file__).parents[1]))

from tests.job.mutations import JOB, check, good_files, spoilt

TELL_EVERY_S = 10.0
SLOW_S = 20.0
"""One reading or sizing that takes longer is told, though it is no failure."""


class Stopped(BaseException):
    """Told to stop: no error, so that nothing takes it for a failure."""


def _stop(_number: int, _frame: FrameType | None) -> None:
    raise Stopped


def run(count: int, seed: int, first: int, size_every: int) -> tuple[int, Counter[str], list[str]]:
    """How many were read, their outcomes, and each failure in one line."""
    sources, outcomes, failures = good_files(), Counter[str](), []
    told = time.monotonic()
    done = 0
    try:
        for number in range(first, first + count):
            source, data = spoilt(sources, seed, number)
            began = time.monotonic()
            try:
                good = sum(outcomes.values()) - outcomes["faults"]
                outcomes[check(source, data, source.kind == JOB and good % size_every == 0)] += 1
            except Exception as error:  # every kind of error is a failure to be told, and the run goes on
                failures.append(f"seed {seed}, number {number}, {source.name}: {type(error).__name__}: {str(error)[:300]}")
                print(failures[-1], flush=True)
            done += 1
            now = time.monotonic()
            if now - began > SLOW_S:
                print(f"seed {seed}, number {number}, {source.name}: {now - began:.0f} s", flush=True)
            if now - told > TELL_EVERY_S:
                told = now
                print(f"{done} of {count}, {len(failures)} failures", file=sys.stderr, flush=True)
    except (Stopped, KeyboardInterrupt):
        print("stopped", file=sys.stderr)
    return done, outcomes, failures


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--count", type=int, default=1_000_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--first", type=int, default=0, help="the number to begin at")
    parser.add_argument("--size-every", type=int, default=200)
    given = parser.parse_args()
    signal.signal(signal.SIGTERM, _stop)
    began = time.monotonic()
    done, outcomes, failures = run(given.count, given.seed, given.first, given.size_every)
    sized = sum(count for name, count in outcomes.items() if name.startswith("good, "))
    for name, count in outcomes.most_common():
        print(f"{count:8} {name}")
    print(f"{time.monotonic() - began:.0f} s")
    today = datetime.now(UTC).date().isoformat()
    print(f"| {today} | {given.seed} | {given.first} | {done} | {outcomes['faults']} | {sized} | {len(failures)} |")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
