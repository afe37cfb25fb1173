"""Equations put in an order in which they can be solved a few at a time.

A block's equations rest only on numbers of its own and of blocks before it. Too many equations for their numbers make
one block, at the beginning; too few make one at the end. Nothing here knows of drawings.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence

Block = tuple[list[int], list[int]]
"""Equations, and the numbers they settle, both by index and in order."""


def ordered_blocks(touched: Sequence[Sequence[int]]) -> list[Block]:
    """Blocks of equations, of which each touches the numbers given."""
    users: dict[int, list[int]] = {}
    for e, places in enumerate(touched):
        for p in places:
            users.setdefault(p, []).append(e)
    place_of, equation_of = _match(touched)
    over = _reached([e for e in range(len(touched)) if e not in place_of], touched, equation_of)
    lost = [p for p in users if p not in equation_of]
    under = _reached_under(lost, users, place_of)
    blocks: list[Block] = []
    if over:
        blocks.append((sorted(over), sorted({p for e in over for p in touched[e]})))
    middle = [e for e in range(len(touched)) if e not in over and e not in under]
    for block in _cycles(middle, touched, equation_of):
        blocks.append((sorted(block), sorted(place_of[e] for e in block)))
    if under or lost:
        blocks.append((sorted(under), sorted({*lost, *(place_of[e] for e in under)})))
    return blocks


def _match(touched: Sequence[Sequence[int]]) -> tuple[dict[int, int], dict[int, int]]:
    """As many equations as can be, each paired with a number of its own."""
    place_of: dict[int, int] = {}
    equation_of: dict[int, int] = {}
    for start in sorted(range(len(touched)), key=lambda e: len(touched[e])):
        came: dict[int, int] = {}
        queue = deque([start])
        end = None
        while queue and end is None:
            e = queue.popleft()
            for p in touched[e]:
                if p in came:
                    continue
                came[p] = e
                if p not in equation_of:
                    end = p
                    break
                queue.append(equation_of[p])
        while end is not None:
            e = came[end]
            before = place_of.get(e)
            place_of[e], equation_of[end] = end, e
            end = before if e != start else None
    return place_of, equation_of


def _reached(starts: Sequence[int], touched: Sequence[Sequence[int]], equation_of: dict[int, int]) -> set[int]:
    found, todo = set(starts), list(starts)
    while todo:
        for p in touched[todo.pop()]:
            other = equation_of[p]
            if other not in found:
                found.add(other)
                todo.append(other)
    return found


def _reached_under(places: Sequence[int], users: dict[int, list[int]], place_of: dict[int, int]) -> set[int]:
    found: set[int] = set()
    todo = list(places)
    while todo:
        for e in users[todo.pop()]:
            if e not in found:
                found.add(e)
                todo.append(place_of[e])
    return found


def _cycles(members: Sequence[int], touched: Sequence[Sequence[int]], equation_of: dict[int, int]) -> list[list[int]]:
    """Equations that rest on each other, the sets they rest on before them (Tarjan's algorithm, without recursion)."""
    inside = set(members)
    number: dict[int, int] = {}
    low: dict[int, int] = {}
    stack: list[int] = []
    on_stack: set[int] = set()
    found: list[list[int]] = []
    for start in members:
        if start in number:
            continue
        number[start] = low[start] = len(number)
        stack.append(start)
        on_stack.add(start)
        path = [(start, iter(touched[start]))]
        while path:
            e, places = path[-1]
            for p in places:
                other = equation_of[p]
                if other not in inside:
                    continue
                if other not in number:
                    number[other] = low[other] = len(number)
                    stack.append(other)
                    on_stack.add(other)
                    path.append((other, iter(touched[other])))
                    break
                if other in on_stack:
                    low[e] = min(low[e], number[other])
            else:
                path.pop()
                if path:
                    low[path[-1][0]] = min(low[path[-1][0]], low[e])
                if low[e] == number[e]:
                    block: list[int] = []
                    while not block or block[-1] != e:
                        block.append(stack.pop())
                        on_stack.discard(block[-1])
                    found.append(block)
    return found
