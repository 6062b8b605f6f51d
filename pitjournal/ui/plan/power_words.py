"""Say what a comparison could show, before the meat is bought."""

from pitjournal.science.power import paired_effect, paired_power


def what_it_can_show(pairs: int, arms: int) -> str:
    """Return what this many pieces of each way can show, against the spread between pieces.

    A difference is counted in standard deviations of the differences within a pack.
    """
    if arms < 2:
        return "With one way there is nothing to compare."
    if pairs < 2:
        return (
            "One piece of each way shows a difference and no more: nothing says how sure it is. "
            "Two packs are the least."
        )
    effect = paired_effect(pairs)
    power = paired_power(1.0, pairs)
    if effect is None or power is None:
        return "Not enough to tell."
    chance = round(10 * power)
    large = f"A difference as large as the spread between packs it finds {chance} times in 10."
    if chance == 0:
        large = "A difference as large as the spread between packs it would hardly ever find."
    return (
        f"{pairs} packs find, four times in five, a difference of {effect:.1f} times the spread "
        f"between packs. {large}"
    )
