"""Size any number of drawings made at random from known parts, and print how many came out how.

    python scripts/generated_drawings.py --count 1000 --seed 0 [--trial back,removed,added,wrong] [--show FILE]

Every case has its own seed, counted from --seed; what is not right is written to --show with the job file.
"""

from __future__ import annotations

import argparse
import sys
import traceback
from collections import Counter
from pathlib import Path
from random import Random
from typing import TextIO

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.drawing.generated.check import (
    Verdict,
    case,
    given_back,
    one_added,
    one_removed,
    one_wrong,
)

TRIALS = {"back": given_back, "removed": one_removed, "added": one_added, "wrong": one_wrong}


def one_case(seed: int, trial: str) -> Verdict | None:
    """One trial of one seed; an exception is a verdict too."""
    one, _ = case(seed)
    try:
        return TRIALS[trial](one, Random(seed))
    except Exception as wrong:  # a fault in the program is what is looked for
        where = traceback.format_exc().splitlines()[-4:]
        return Verdict(f"{trial}: {type(wrong).__name__}", False, note="\n".join(where))


def run(count: int, seed: int, trials: list[str], show: TextIO | None) -> Counter[tuple[str, bool, str]]:
    """Every trial of every seed."""
    found: Counter[tuple[str, bool, str]] = Counter()
    for n in range(seed, seed + count):
        for trial in trials:
            verdict = one_case(n, trial)
            if verdict is None:
                continue
            found[trial, verdict.right, verdict.word] += 1
            if show is not None and not verdict.right:
                print(f"=== seed {n} {verdict.word}\n{verdict.note}\n{verdict.text}", file=show, flush=True)
    return found


def main() -> int:
    """Run and print the shares; 1 if any trial was not right."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--trial", default=",".join(TRIALS))
    parser.add_argument("--show", type=Path)
    asked = parser.parse_args()
    show = asked.show.open("w", encoding="utf-8") if asked.show else None
    found = run(asked.count, asked.seed, asked.trial.split(","), show)
    for trial in asked.trial.split(","):
        rows = [(n, right, word) for (t, right, word), n in found.items() if t == trial]
        total = sum(n for n, _, _ in rows)
        for n, right, word in sorted(rows, reverse=True):
            print(f"{trial:8} {n:7} of {total}  {100 * n / total:6.2f} %  {'right' if right else 'WRONG'}  {word}")
    if show is not None:
        show.close()
    return int(any(not right for _, right, _ in found))


if __name__ == "__main__":
    sys.exit(main())
