"""The running order: as little setting up as brute force finds over every order there is, with precedence kept."""

from __future__ import annotations

import heapq
import random

import pytest

from handwheel.plan.sequence import Found, Run, least_order

WEIGHT = {"a": 1, "b": 2, "c": 5, "d": 8}
Chains = dict[str, list[tuple[str, tuple[str, ...]]]]
Sizes = dict[tuple[str, int], tuple[tuple[str, int], ...]]
"""By part and run: the runs of other parts, by part and place, whose size it wants."""


def weight(key: str) -> int:
    return WEIGHT[key]


def brute(chains: Chains, sizes: Sizes | None = None) -> int:
    """Least sum over every order of single runs, one at a time, a set-up made whenever it is not the one that stands
    (Dijkstra)."""
    names = list(chains)
    begin = ((0,) * len(names), "")
    spent = {begin: 0}
    heap = [(0, begin)]
    while heap:
        cost, (at, standing) = heapq.heappop(heap)
        finished = {n for n, i in zip(names, at, strict=True) if i == len(chains[n])}
        if len(finished) == len(names):
            return cost
        if cost > spent[at, standing]:
            continue
        for k, name in enumerate(names):
            if name in finished or not set(chains[name][at[k]][1]) <= finished:
                continue
            if any(at[names.index(p)] <= i for p, i in (sizes or {}).get((name, at[k]), ())):
                continue
            key = chains[name][at[k]][0]
            after = (*at[:k], at[k] + 1, *at[k + 1 :]), key
            more = cost + (0 if key == standing else WEIGHT[key])
            if more < spent.get(after, 10**9):
                spent[after] = more
                heapq.heappush(heap, (more, after))
    raise AssertionError("no order at all")


def drawn(seed: int) -> Chains:
    """Up to four parts of up to five runs; a run may wait for a part drawn before it, so that no two wait for each other."""
    rng = random.Random(seed)
    chains: Chains = {}
    for k in range(rng.randint(2, 4)):
        keys = [rng.choice("abcd")]
        for _ in range(rng.randint(0, 4)):
            keys.append(rng.choice([c for c in "abcd" if c != keys[-1]]))
        after = [(rng.choice(list(chains)),) if chains and rng.random() < 0.2 else () for _ in keys]
        chains[f"p{k}"] = list(zip(keys, after, strict=True))
    return chains


def ordered(chains: Chains, most: int = 10**6, sizes: Sizes | None = None) -> Found:
    routes = {
        n: [Run(n, key, (10 * i,), after, tuple((p, 10 * j) for p, j in (sizes or {}).get((n, i), ())))
            for i, (key, after) in enumerate(runs)]
        for n, runs in chains.items()
    }  # fmt: skip
    return least_order(routes, weight, most)


def kept(chains: Chains, found: Found, sizes: Sizes | None = None) -> bool:
    """Every run once, each part's in its own order, and none before what it waits for."""
    done: dict[str, int] = dict.fromkeys(chains, 0)
    for key, runs in found.visits:
        for run in runs:
            i = done[run.part]
            own, after = chains[run.part][i]
            if own != key or run.key != key or run.numbers != (10 * i,):
                return False
            if any(done[p] < len(chains[p]) for p in after) or any(done[p] <= j for p, j in (sizes or {}).get((run.part, i), ())):
                return False
            done[run.part] += 1
    return all(done[n] == len(runs) for n, runs in chains.items())


@pytest.mark.parametrize("seed", range(150))
def test_as_little_setting_up_as_brute_force_finds(seed: int) -> None:
    chains = drawn(seed)
    found = ordered(chains)
    assert kept(chains, found)
    assert found.cost == sum(WEIGHT[key] for key, _ in found.visits) == brute(chains)
    assert found.is_least
    assert found.least == found.cost


@pytest.mark.parametrize("seed", range(150))
def test_sizes_that_wait_for_another_part_s_and_neighbours_of_one_set_up(seed: int) -> None:
    """A run may want the size of any run of a part drawn before it; neighbours may be of one set-up."""
    rng = random.Random(1000 + seed)
    chains: Chains = {}
    sizes: Sizes = {}
    for k in range(rng.randint(2, 3)):
        name = f"p{k}"
        chains[name] = [(rng.choice("abc"), ()) for _ in range(rng.randint(1, 5))]
        for i in range(len(chains[name])):
            if k and rng.random() < 0.3:
                other = f"p{rng.randrange(k)}"
                sizes[name, i] = ((other, rng.randrange(len(chains[other]))),)
    found = ordered(chains, sizes=sizes)
    assert kept(chains, found, sizes)
    assert found.is_least
    assert found.cost == brute(chains, sizes)


def test_a_delicate_set_up_is_made_once_where_the_nearest_first_makes_it_twice() -> None:
    """d a for one part, a d for the other: a first for the second part alone, d for both, a again: 1 + 8 + 1, not 8 + 1 + 8."""
    chains: Chains = {"one": [("d", ()), ("a", ())], "other": [("a", ()), ("d", ())]}
    found = ordered(chains)
    assert [key for key, _ in found.visits] == ["a", "d", "a"]
    assert found.cost == 10


def test_what_waits_for_a_part_may_follow_in_the_same_visit() -> None:
    chains: Chains = {"ring": [("a", ()), ("b", ("rod",))], "rod": [("a", ()), ("b", ())]}
    found = ordered(chains)
    assert [(key, [r.part for r in runs]) for key, runs in found.visits] == [("a", ["ring", "rod"]), ("b", ["rod", "ring"])]


def test_a_search_that_is_stopped_keeps_an_order_and_says_how_far_off_it_may_be() -> None:
    rng = random.Random(3)
    chains: Chains = {}
    for k in range(9):
        keys = ["a"]
        while len(keys) < 9:
            keys.append(rng.choice([c for c in "abcd" if c != keys[-1]]))
        chains[f"p{k}"] = [(key, ()) for key in keys]
    stopped, through = ordered(chains, 27), ordered(chains)
    assert kept(chains, stopped)
    assert kept(chains, through)
    assert through.is_least
    assert stopped.least <= through.cost <= stopped.cost


def test_parts_that_wait_for_each_other_are_still_ordered() -> None:
    chains: Chains = {"one": [("a", ("other",))], "other": [("a", ("one",))]}
    assert sum(len(runs) for _, runs in ordered(chains).visits) == 2
