"""Serving orders: each taster meets the samples in an order of their own."""

import random


def williams_rows(samples: int) -> list[list[int]]:
    """Return a Williams design as rows of sample numbers from 0.

    Every sample stands equally often in every place, and follows every other equally often:
    once for an even number, twice for an odd one, which takes twice the rows
    (Williams 1949, Australian Journal of Scientific Research A 2, 149-168; from memory).
    """
    first = [0]
    low, high = 1, samples - 1
    while len(first) < samples:
        first.append(low if len(first) % 2 else high)
        low, high = (low + 1, high) if len(first) % 2 == 0 else (low, high - 1)
    rows = [[(value + step) % samples for value in first] for step in range(samples)]
    return rows if samples % 2 == 0 else rows + [row[::-1] for row in rows]


def serving_orders(samples: int, tasters: int, seed: int) -> list[list[int]]:
    """Return an order of the sample numbers for each taster, drawn by lot.

    Whole Williams designs are dealt out, each with its samples renumbered by lot. Where the
    tasters do not fill a whole design, the balance is only partial.
    """
    lot = random.Random(seed)  # noqa: S311 - a lot that can be drawn again, no secret
    orders: list[list[int]] = []
    while len(orders) < tasters:
        names = list(range(samples))
        lot.shuffle(names)
        rows = [[names[value] for value in row] for row in williams_rows(samples)]
        lot.shuffle(rows)
        orders += rows
    return orders[:tasters]
