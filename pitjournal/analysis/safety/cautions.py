"""The usual cautions that hold for every cook, each with its source."""

from pitjournal.domain.safety_tables import SafetyRule, safety_rules
from pitjournal.units.figures import trimmed

FIRE = (
    "Every fire makes carbon monoxide, be it charcoal, wood, pellets or gas: never indoors, in a "
    "tent or a closed garage. A grease fire gets no water. (Common practice, no source.)"
)

DEFERENCE = (
    "These are facts with their sources, not advice. Local codes and licensed practice come first."
)


def after_the_cook() -> tuple[str, ...]:
    """Return what holds for holding, cooling and warming up again."""
    rules = safety_rules()
    hold, first, total = rules["fc-hold-hot"], rules["fc-cool-1"], rules["fc-cool-2"]
    warm, within, out = rules["fc-reheat"], rules["fc-reheat-time"], rules["consumer-2h"]
    held = (
        f"Hot holding: {trimmed(hold.value)} °F or more ({hold.citation}). Left out between 40 and "
        f"140 °F: {trimmed(out.value)} h at most, {trimmed(out.second_value)} h above 90 °F ({out.citation})."
    )
    cooled = (
        f"Cooling: from 135 to 70 °F within {trimmed(first.value)} h, and to 41 °F within "
        f"{trimmed(total.value)} h in all; late in the first is too late ({_cited(first, total)})."
    )
    warmed = (
        f"Reheating, to be held hot: every part to {trimmed(warm.value)} °F for {trimmed(warm.second_value)} s, "
        f"within {trimmed(within.value)} h ({_cited(warm, within)})."
    )
    return held, cooled, warmed


def _cited(first: SafetyRule, second: SafetyRule) -> str:
    """Return two citations, of one document where they are."""
    document, _, paragraph = second.citation.rpartition(" ")
    same = first.citation.startswith(document)
    return f"{first.citation} and {paragraph if same else second.citation}"
