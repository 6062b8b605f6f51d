"""Variables that are much the same thing said in another way, so that one explains no other."""

FAMILIES: tuple[frozenset[str], ...] = tuple(
    frozenset(keys.split())
    for keys in (
        "yield_off yield_edible cook_loss mass_off mass_rested mass_edible cost_per_edible",
        "mass_bought mass_trimmed mass_treated mass_on mass_wrapped mass_off mass_rested mass_edible",
        "mass_bought mass_trimmed trim_loss",
        "time_on cook_time to_60 to_71 to_90 stall_start stall_length stall_ended time_wrapped fuel_used",
        "time_on to_60 to_71 to_90 time_4_60 lethality cook_value internal_off",
        "cook_time fuel_used fuel_rate fuel_per_meat",
        "time_on cook_time time_rested",
        "leeway_at_least leeway_at_most",
        "pit_mean pit_spread pit_outside set_point",
        "treatment arm non_intact control pickup salt_in_meat phosphate_in_meat",
        "wrap arm control time_to_wrap time_wrapped mass_wrapped",
        "cooker cooker_class",
        "place kind",
        "supplier lot pack animal",
        "price cost cost_per_edible",
        "internal_off feel_off",
    )
)
SCORES = "score."

OUTCOMES = frozenset(
    [
        "yield_off",
        "yield_edible",
        "cook_loss",
        "mass_off",
        "mass_rested",
        "mass_edible",
        "mass_wrapped",
        "leeway_at_least",
        "leeway_at_most",
        "cost",
        "cost_per_edible",
        "fuel_used",
        "fuel_rate",
        "fuel_per_meat",
        "spritzes",
        "lid_openings",
        "pit_outside",
        "rise_rate",
        "to_60",
        "to_71",
        "to_90",
        "stall_start",
        "stall_length",
        "stall_level",
        "stall_ended",
        "time_on",
        "cook_time",
        "carry_over",
        "time_4_60",
        "lethality",
        "cook_value",
        "lid_seen",
        "lid_matched",
    ]
)
"""What comes of a cook rather than goes into it: it explains no other outcome."""


def outcome(key: str) -> bool:
    """Whether a variable comes of a cook."""
    return key in OUTCOMES or key.startswith(SCORES)


def related(one: str, two: str) -> bool:
    """Whether two variables, by their keys, say much the same."""
    if one == two or (one.startswith(SCORES) and two.startswith(SCORES)):
        return True
    return any(one in family and two in family for family in FAMILIES)
