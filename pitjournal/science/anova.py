"""Whether arms differ at all: analysis of variance, with blocks or without."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import ROUNDING, Array, largest
from pitjournal.science.mixed import indicator


@dataclass(frozen=True)
class Line:
    """One line of the table: sum of squares, degrees of freedom, F and p where they exist."""

    squares: float
    df: int
    f: float | None
    p: float | None


@dataclass(frozen=True)
class Anova:
    """Blocks first, then arms within them.

    Attributes
    ----------
    arms
        Of the arms, blocks taken out.
    blocks
        Of the blocks, arms not taken out; None without blocks.
    residual, residual_df, residual_sd
        Squares, degrees of freedom and spread left.
    n
        Values.
    """

    arms: Line
    blocks: Line | None
    residual: float
    residual_df: int
    residual_sd: float
    n: int


def _left(y: Array, design: Array) -> tuple[float, int]:
    """Return the residual squares and the rank of a design."""
    fitted = design @ np.linalg.lstsq(design, y, rcond=None)[0]
    left = y - fitted
    return float(left @ left), int(np.linalg.matrix_rank(design))


def analysis_of_variance(
    values: ArrayLike, arm_codes: ArrayLike, block_codes: ArrayLike | None = None
) -> Anova | None:
    """Return the table of arms, within blocks where there are any.

    Parameters
    ----------
    values
        Shape (n,); what is not a number is left out.
    arm_codes, block_codes
        Codes of arm and block, shape (n,); None without blocks.

    Returns
    -------
    Anova or None
        None with one arm, or nothing left to judge by.
    """
    from scipy import stats

    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    if np.count_nonzero(whole) < 2:
        return None
    y = y[whole] - np.mean(y[whole])
    size = largest(np.asarray(values, dtype=np.float64).ravel()[whole])
    arms = indicator(np.asarray(arm_codes).ravel()[whole])
    base = np.ones((y.size, 1))
    if block_codes is not None:
        base = indicator(np.asarray(block_codes).ravel()[whole])
    total = float(y @ y)
    base_left, base_rank = _left(y, base)
    left, rank = _left(y, np.hstack([base, arms]))
    df = y.size - rank
    if rank == base_rank or df < 1 or left / df <= (4 * ROUNDING * size) ** 2:
        return None
    variance = left / df

    def line(squares: float, own: int) -> Line:
        f = squares / own / variance
        return Line(squares, own, f, float(stats.f.sf(f, own, df)))

    blocks = line(total - base_left, base_rank - 1) if base_rank > 1 else None
    return Anova(
        line(base_left - left, rank - base_rank), blocks, left, df, float(np.sqrt(variance)), y.size
    )
