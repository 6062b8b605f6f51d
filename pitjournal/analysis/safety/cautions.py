"""The usual cautions that hold for every cook, each with its source."""

from pitjournal.domain.safety_tables import SafetyRule, safety_rules

FIRE = (
    "Every fire makes carbon monoxide, be it charcoal, wood, pellets or gas: never indoors, in a "
    "tent or a closed garage. A grease fire gets no water. (Common practice, no source.)"
)


def after_the_cook() -> tuple[str, ...]:
    """Return what holds for holding, cooling and warming up again."""
    rules = safety_rules()
    hold, first, total = rules["fc-hold-hot"], rules["fc-cool-1"], rules["fc-cool-2"]
    warm, within, out = rules["fc-reheat"], rules["fc-reheat-time"], rules["consumer-2h"]
    held = (
        f"Hot holding: {hold.value:g} °F or more ({hold.citation}). Left out between 40 and "
        f"140 °F: {out.value:g} h at most, {out.second_value:g} h above 90 °F ({out.citation})."
    )
    cooled = (
        f"Cooling: from 135 to 70 °F within {first.value:g} h, and to 41 °F within "
        f"{total.value:g} h in all; late in the first is too late ({_cited(first, total)})."
    )
    warmed = (
        f"Reheating, to be held hot: every part to {warm.value:g} °F for {warm.second_value:g} s, "
        f"within {within.value:g} h ({_cited(warm, within)})."
    )
    return held, cooled, warmed


def _cited(first: SafetyRule, second: SafetyRule) -> str:
    """Return two citations, of one document where they are."""
    document, _, paragraph = second.citation.rpartition(" ")
    same = first.citation.startswith(document)
    return f"{first.citation} and {paragraph if same else second.citation}"
