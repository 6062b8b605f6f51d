"""Serving orders: each taster meets the samples in an order of their own."""

import random

from pitjournal.science.designs import williams_rows


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
