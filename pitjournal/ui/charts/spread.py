"""Put labels beside each other so that none covers another."""

from collections.abc import Sequence


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Return places near the wanted ones, at least `gap` apart where there is room.

    Parameters
    ----------
    wanted
        Where each would stand.
    gap
        The least distance between two.
    low, high
        The room.
    """
    order = sorted(range(len(wanted)), key=lambda place: wanted[place])
    if not order:
        return []
    room = max(high - low, 0.0)
    step = min(gap, room / max(len(order) - 1, 1)) if len(order) > 1 else 0.0
    placed: list[float] = []
    for place in order:
        least = placed[-1] + step if placed else low
        placed.append(max(least, min(max(wanted[place], low), high)))
    over = placed[-1] - high
    if over > 0:
        placed[-1] = high
        for place in range(len(placed) - 2, -1, -1):
            placed[place] = min(placed[place], placed[place + 1] - step)
    found = [0.0] * len(order)
    for place, value in zip(order, placed, strict=True):
        found[place] = value
    return found
