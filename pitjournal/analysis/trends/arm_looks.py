"""The look of groups of arms: the one their arms have in their own cooks."""

from collections.abc import Mapping

import numpy as np

from pitjournal.analysis.trends.columns.frame import Frame

LOOKS = 8
"""So many looks arms have: the control's, and seven more."""


def looks_of_groups(frame: Frame, key: str, arm_looks: Mapping[str, int]) -> dict[str, int]:
    """Return the look of each text of a variable that groups arms.

    It is the look that arms with that text have in the most cooks. Each look is given once: to
    the text with the most cooks, and the others have one that is still free. It does not depend
    on what is filtered, so that an arm keeps its look from question to question.

    Parameters
    ----------
    frame
        The values of all cooks in columns.
    key
        Of a variable of the arm.
    arm_looks
        The look that arms of each name have most often.
    """
    names, texts = frame.choices("arm"), frame.choices(key)
    of_name = np.array([*(arm_looks.get(name, -1) for name in names[1]), -1], dtype=np.int64)
    looks, codes = of_name[names[0]], texts[0].astype(np.int64)
    known = (codes >= 0) & (looks >= 0) & (looks < LOOKS)
    pairs = codes[known] * LOOKS + looks[known]
    cooks = len(frame.cook_names)
    each = np.unique(pairs * cooks + frame.cooks[known]) // max(cooks, 1)  # a cook counts once
    size = len(texts[1]) * LOOKS
    counts = np.bincount(each, minlength=size).reshape(len(texts[1]), LOOKS)
    found: dict[str, int] = {}
    waiting = []
    for place in np.argsort(-counts.sum(axis=1), kind="stable").tolist():
        look = int(counts[place].argmax())
        if counts[place].any() and look not in found.values():
            found[texts[1][place]] = look
        elif counts[place].any():
            waiting.append(texts[1][place])
    free = [look for look in range(1, LOOKS) if look not in found.values()]
    return found | dict(zip(waiting, free, strict=False))
