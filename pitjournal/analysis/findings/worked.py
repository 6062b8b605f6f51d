"""How a difference was worked out: data, method, formula, source and what it takes for granted."""

from dataclasses import dataclass

from pitjournal.units.figures import trimmed

WITHIN = "pieces compared within blocks"
BETWEEN = "every piece, within blocks and between them"


@dataclass(frozen=True)
class Worked:
    """How a difference was worked out, for whoever wants to follow it."""

    data: str
    method: str
    formula: str
    source: str
    assumptions: str


def worked_out(pieces: tuple[int, int], method: str, df: float | None) -> Worked:
    """Return how a difference of one cook was worked out.

    Parameters
    ----------
    pieces
        How many of the control and of the arm.
    method
        In words; `WITHIN` and `BETWEEN` are those of packs.
    df
        Degrees of freedom.
    """
    data = f"{pieces[0]} and {pieces[1]} pieces"
    if method == BETWEEN:
        formula = (
            "differences within packs and means of packs, weighed by how well each is known ± t × "
            "the standard error"
        )
        source = (
            "Patterson & Thompson (1971), Biometrika 58, 545–554; Kenward & Roger (1997), "
            "Biometrics 53, 983–997"
        )
        assumptions = (
            "Packs lacking an arm are like the others, and which piece is in which pack was left "
            "to chance. Tasters are averaged within a piece and are no replicates."
        )
    elif method == WITHIN:
        formula = "mean of the differences within blocks ± t × its standard error"
        source = "Student (1908), Biometrika 6, 1–25; least squares where blocks are not whole"
        assumptions = (
            "Blocks shift all their pieces alike; what is left scatters about evenly and like a "
            "bell. Tasters are averaged within a piece and are no replicates."
        )
    else:
        formula = "difference of the means ± t × its standard error"
        source = "Welch (1947), Biometrika 34, 28–35"
        assumptions = (
            "Pieces are independent of each other and scatter like a bell in each arm. Tasters "
            "are averaged within a piece and are no replicates."
        )
    freedom = "" if df is None else f", {trimmed(df, 3)} degrees of freedom"
    return Worked(data, method + freedom, formula, source, assumptions)
