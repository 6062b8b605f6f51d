"""Sources: Hollander & Wolfe (1973) mucociliary efficiency, as R's kruskal.test help has it

(from memory); Box, Hunter & Hunter penicillin (data/README.md).
"""

import numpy as np
import pandas as pd
import pytest
from statsmodels.formula.api import ols
from statsmodels.stats.anova import anova_lm

from pitjournal.science.group_tests import centred, groups_differ
from tests.science.reference import check, rows

PENICILLIN = rows("penicillin_rcb_bhh")


def test_that_ranks_of_lungs_differ_as_published() -> None:
    # chi-squared 0.77143 with 2 degrees of freedom: p 0.68.
    efficiency = [2.9, 3.0, 2.5, 2.6, 3.2, 3.8, 2.7, 4.0, 2.4, 2.8, 3.4, 3.7, 2.2, 2.0]
    p = groups_differ(efficiency, [0] * 5 + [1] * 4 + [2] * 5)
    assert p == pytest.approx(0.68, abs=0.0005)


def test_that_treatments_within_blends_have_the_published_chance() -> None:
    p = groups_differ(
        [float(r["yield"]) for r in PENICILLIN],
        [r["treatment"] for r in PENICILLIN],
        [r["blend"] for r in PENICILLIN],
    )
    check("PB44", p)


def test_that_gaps_in_the_blocks_give_the_f_of_columns_for_blocks() -> None:
    some = [row for number, row in enumerate(PENICILLIN) if number not in {2, 7, 13}]
    columns = (
        [float(r["yield"]) for r in some],
        [r["treatment"] for r in some],
        [r["blend"] for r in some],
    )
    names = dict(zip(("y", "arm", "block"), columns, strict=True))
    table = anova_lm(ols("y ~ C(block) + C(arm)", pd.DataFrame(names)).fit())  # a reference library
    assert groups_differ(*columns) == pytest.approx(table.loc["C(arm)", "PR(>F)"])


def test_that_nothing_to_compare_has_no_chance() -> None:
    assert groups_differ([1.0, 2.0, 3.0], [0, 0, 0]) is None
    assert groups_differ([1.0, 1.0, 1.0], [0, 1, 1]) is None
    assert groups_differ([1.0, 2.0], [0, 1]) is None
    # every group alone in its block: nothing can be told from the blocks
    assert groups_differ([1.0, 2.0, 3.0, 5.0], [0, 1, 2, 3], [0, 1, 2, 3]) is None


def test_that_centred_columns_have_no_mean_in_any_block() -> None:
    columns = np.arange(12.0).reshape(6, 2) ** 2
    blocks = [0, 1, 0, 2, 1, 0]
    got = centred(columns, blocks)
    for block in set(blocks):
        inside = np.array(blocks) == block
        assert np.allclose(got[inside].mean(axis=0), 0.0)
