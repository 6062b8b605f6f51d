"""Differences and slopes when readings are nested: tasters in pieces, readings in cooks."""

import numpy as np
from numpy.typing import ArrayLike

from pitjournal.science.arrays import Array
from pitjournal.science.mixed import indicator, variance_components
from pitjournal.science.paired import Estimate, blocked_difference, t_estimate
from pitjournal.science.regression import adjusted_difference


def _independent(columns: Array) -> Array:
    """Return the columns that add something to an intercept and to those before them."""
    kept: Array = np.ones((columns.shape[0], 1))
    for column in columns.T:
        wider = np.column_stack([kept, column])
        if np.linalg.matrix_rank(wider) > kept.shape[1]:
            kept = wider
    return kept[:, 1:]


def piece_means(
    values: ArrayLike, piece_codes: ArrayLike, *others: ArrayLike
) -> tuple[Array, list[Array]]:
    """Return the mean of each piece, in order of its code, and its other codes.

    Parameters
    ----------
    values
        Readings, shape (n,); what is not a number is left out.
    piece_codes
        Piece of each reading, shape (n,).
    *others
        Further codes that are one for each piece, such as arm and block, shape (n,).
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    pieces = np.asarray(piece_codes).ravel()[whole]
    names, first, places = np.unique(pieces, return_index=True, return_inverse=True)
    counts = np.bincount(places, minlength=names.size)
    sums = np.asarray(np.bincount(places, weights=y[whole], minlength=names.size), np.float64)
    return sums / counts, [np.asarray(other).ravel()[whole][first] for other in others]


def nested_difference(
    values: ArrayLike,
    arm_codes: ArrayLike,
    piece_codes: ArrayLike,
    arm: int,
    control: int,
    *,
    block_codes: ArrayLike | None = None,
    taster_codes: ArrayLike | None = None,
    covariate: ArrayLike | None = None,
    confidence: float = 0.95,
) -> Estimate:
    """Return arm − control with the piece as the replicate, however many tasted each.

    A mixed model by restricted likelihood; its degrees of freedom never exceed what the
    number of pieces allows. Where the readings show no spread between pieces at all, or too
    few to fit, piece means are compared instead, each taster's kindness taken out of them where
    it is known. `n` is the number of pieces.

    Parameters
    ----------
    values
        Scores, shape (n,).
    arm_codes, piece_codes
        Whole numbers naming arm and piece of each score, shape (n,).
    arm, control
        The two arms to compare.
    block_codes
        Block of each score; None without blocks.
    taster_codes
        Taster of each score where the same tasters meet several pieces; None otherwise.
    covariate
        A number that goes with each score, such as its place in the serving, held at equal.
    confidence
        Of the interval, 0 to 1.
    """
    y = np.asarray(values, dtype=np.float64).ravel()
    whole = np.isfinite(y)
    arms, pieces = (np.asarray(codes).ravel()[whole] for codes in (arm_codes, piece_codes))
    blocks = np.asarray(
        np.zeros(y.size, dtype=np.int64) if block_codes is None else block_codes
    ).ravel()[whole]
    means, (arm_of, block_of) = piece_means(y[whole], pieces, arms, blocks)
    along = None if covariate is None else np.asarray(covariate, dtype=np.float64).ravel()[whole]
    if along is None:
        plain = blocked_difference(means, arm_of, block_of, arm, control, confidence=confidence)
    else:
        held, _ = piece_means(along, pieces)
        plain = adjusted_difference(
            means, arm_of, held, arm, control, block_codes=block_of, confidence=confidence
        )
    if plain.df is None:
        return plain
    others = [name for name in np.unique(arms) if name not in {arm, control}]
    design = [(arms == arm)[:, None], *((arms == name)[:, None] for name in others)]
    design += [] if along is None else [(along - np.mean(along))[:, None]]
    fixed = _independent(np.hstack([*design, indicator(blocks)[:, 1:]]).astype(np.float64))
    sources: dict[str, ArrayLike] = {"piece": pieces}
    if taster_codes is not None:
        sources["taster"] = np.asarray(taster_codes).ravel()[whole]
    fit = variance_components(y[whole], sources, fixed)
    if fit is None:
        return plain
    if not fit.components["piece"]:
        if "taster" not in fit.effects or along is not None:
            return plain
        _, who = np.unique(np.asarray(sources["taster"]), return_inverse=True)
        fair = y[whole] - fit.effects["taster"][who.ravel()]
        means, _ = piece_means(fair, pieces)
        return blocked_difference(means, arm_of, block_of, arm, control, confidence=confidence)
    df = min(float(fit.df[1]), plain.df)
    method = "mixed model, piece as replicate"
    return t_estimate(
        float(fit.coefficients[1]),
        float(fit.errors[1]),
        df,
        means.size,
        method,
        confidence=confidence,
    )


def _for_groups(corner: Array, groups: int) -> Array:
    """Return the relative factor of all groups: heights first, then slopes."""
    return np.asarray(np.kron(corner, np.eye(groups)), dtype=np.float64)
