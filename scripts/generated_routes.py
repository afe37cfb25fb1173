"""Plan any number of parts drawn at random, look at every plan, and print how many came out how.

    python scripts/generated_routes.py --count 1000 --seed 0 [--limit 60] [--show FILE]

Every part has its own seed, counted from --seed. --limit is for one part [s of processor time]. What does not hold, what
raised and what took longer is written to --show with the job file. 1 is returned if there was any.
"""

from __future__ import annotations

import argparse
import re
import signal
import sys
import time
import traceback
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.plan.generated.holds import Found, found
from tests.plan.generated.parts import case


@contextmanager
def no_longer_than(limit_s: float) -> Iterator[None]:
    """Raise TimeoutError when what is inside takes more processor time."""

    def late(*_: object) -> None:
        raise TimeoutError(f"not done in {limit_s:g} s")

    before = signal.signal(signal.SIGVTALRM, late)
    signal.setitimer(signal.ITIMER_VIRTUAL, limit_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
        signal.signal(signal.SIGVTALRM, before)


def looked_at(seed: int, limit_s: float) -> Found:
    """A seed's part; an exception or too long is what does not hold."""
    try:
        with no_longer_than(limit_s):
            return found(seed)
    except Exception as wrong:  # a fault in the program is what is looked for
        return Found(f"raised {type(wrong).__name__}", "", tuple(traceback.format_exc().splitlines()[-4:]))


def main() -> int:
    """Run and print the shares and the reasons; 1 if anything did not hold."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--limit", type=float, default=60.0)
    parser.add_argument("--show", type=Path)
    asked = parser.parse_args()
    words: Counter[str] = Counter()
    reasons: Counter[str] = Counter()
    notes: list[str] = []
    longest = (0.0, asked.seed)
    for seed in range(asked.seed, asked.seed + asked.count):
        began = time.process_time()
        one = looked_at(seed, asked.limit)
        longest = max(longest, (time.process_time() - began, seed))
        words[one.word] += 1
        if one.why:
            reasons[re.sub(r"[\w-]+-\d+x|\d+\.?\d*", "…", one.why)[:100]] += 1
        if one.wrong:
            notes.append(f"=== seed {seed}, {one.word} {one.why}\n" + "\n".join(one.wrong) + f"\n{case(seed).text}")
    for word, n in words.most_common():
        print(f"{n:7} of {asked.count}  {100 * n / asked.count:6.2f} %  {word}")
    for why, n in reasons.most_common():
        print(f"{n:7}  {why}")
    print(f"{len(notes):7}  with something that does not hold; longest {longest[0]:.1f} s, seed {longest[1]}")
    if asked.show:
        asked.show.write_text("\n".join(notes), encoding="utf-8")
    return int(bool(notes))


if __name__ == "__main__":
    sys.exit(main())
