"""Invented cooks with what is hidden in them, for the tests of Trends."""

import numpy as np

from pitjournal.analysis.trends.columns.frame import Frame
from pitjournal.domain.blocks import Value
from pitjournal.journal.queries.values import Row
from tests.analysis.trends.frames import frame_of

CUTS = ("brisket", "back ribs", "chicken thighs")
COOKERS = ("drum", "offset", "kettle")


def a_journal(count: int = 60, seed: int = 1, *, hot: float = 0.0) -> Frame:
    """Return cooks of two racks left alone and two injected.

    Injecting gives 1 point of tenderness; a pit hotter by 10 °C gives `hot` points. In the
    drum the pit is 12 °C hotter than elsewhere. Wind, thickness and wood say nothing.
    """
    lot = np.random.default_rng(seed)
    rows: list[Row] = []
    for number in range(count):
        cook = f"c{number:03d}"
        cooker = COOKERS[number % 3]
        pit = 120.0 + 12.0 * (cooker == "drum") + lot.normal(0, 6)
        day = lot.normal(0, 0.4)
        date = f"{2024 + number % 2}-{1 + number % 12:02d}-{1 + number % 28:02d}T12:00:00+00:00"
        values: dict[str, Value] = {
            "cooker": cooker,
            "date": date,
            "pit_mean": pit,
            "wind": float(lot.normal(3, 1)),
            "wood": ("oak", "apple", "cherry")[int(lot.integers(3))],
        }
        rows.append((cook, cook, "cook", values))
        for piece in range(4):
            injected = piece % 2 == 1
            tender = 6 + 1.0 * injected + hot * (pit - 120) / 10 + day + lot.normal(0, 0.4)
            rows.append(
                (
                    f"{cook}-{piece}",
                    cook,
                    "piece",
                    {
                        "cut": CUTS[int(lot.integers(3))],
                        "treatment": "injected" if injected else "left alone",
                        "thickness": float(lot.normal(0.03, 0.004)),
                        "score.tenderness": float(tender),
                    },
                )
            )
    return frame_of(rows)
