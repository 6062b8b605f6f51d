"""Other words of the trade for what the catalogue calls by one name.

Common practice, no source. A name of the catalogue, or of the cook's own variables, always comes
before these; a word that may mean two things (such as "weight" of what stage) means what is asked
for most.
"""

from collections.abc import Iterable, Mapping
from types import MappingProxyType

from pitjournal.domain.catalogue import Catalogue, Variable

OTHER_WORDS: Mapping[str, tuple[str, ...]] = {
    "kind": ("type of cook", "occasion"),
    "place": ("location", "where cooked"),
    "set_point": ("set temperature", "set temp", "setpoint", "target pit temperature", "dialed in"),
    "altitude": ("elevation", "height above sea level"),
    "ambient": (
        "ambient temperature",
        "air temperature",
        "outdoor temperature",
        "temperature outside",
    ),
    "wind": ("wind speed",),
    "humidity": ("relative humidity", "air moisture"),
    "cost": ("total cost", "money", "what it cost"),
    "cooker": ("smoker", "grill", "pit used", "barbecue"),
    "cooker_class": ("type of cooker", "kind of cooker", "type of smoker", "kind of smoker"),
    "fuel": ("charcoal", "coal", "kind of fuel", "type of fuel"),
    "wood": ("smoke wood", "smoking wood", "kind of wood"),
    "fuel_used": ("fuel burned", "fuel burnt", "charcoal used", "charcoal burned", "fuel use"),
    "fuel_rate": ("burn rate", "fuel rate", "charcoal per hour", "burn per hour"),
    "fuel_per_meat": ("fuel per pound", "fuel per kilo", "fuel per pound of meat"),
    "cook_time": ("total time", "start to finish", "lit to off", "length of the cook"),
    "pit_mean": (
        "pit temp",
        "pit",
        "cooking temperature",
        "cooker temperature",
        "smoker temperature",
        "grate temperature",
        "chamber temperature",
    ),
    "pit_spread": ("pit swing", "temperature swing", "swing"),
    "lid_openings": ("lid lifts", "lids", "times the lid was opened"),
    "arm": ("way", "group of the cook"),
    "treatment": ("method", "preparation", "prep"),
    "rub": ("seasoning", "spice rub", "dry rub"),
    "wrap": ("wrapping", "wrapped in", "kind of wrap"),
    "cut": ("meat", "kind of meat", "cut of meat"),
    "grade": ("quality", "quality grade", "meat grade"),
    "supplier": ("butcher", "shop", "where bought", "seller"),
    "lot": ("batch",),
    "pack": ("packet", "package"),
    "slot": ("position", "rack position", "place in the cooker", "spot"),
    "frozen": ("was frozen", "fresh or frozen"),
    "declared_solution": ("solution", "enhanced", "label solution"),
    "price": ("price per pound", "price per kilo", "cost per pound"),
    "thickness": ("thick", "how thick"),
    "mass_bought": ("raw weight", "purchase weight", "bought weight"),
    "mass_trimmed": ("trimmed weight", "weight after trimming"),
    "mass_on": ("weight", "starting weight", "start weight", "weight at the start"),
    "mass_off": ("cooked weight", "finished weight", "final weight", "weight at the end"),
    "pickup": ("pick-up", "uptake", "injection pickup", "brine uptake"),
    "trim_loss": ("trim", "trimmings", "trimming loss"),
    "yield_off": ("cooked yield", "yield off"),
    "yield_edible": ("usable yield", "serving yield", "edible share"),
    "cook_loss": ("weight loss", "shrinkage", "shrink", "cook loss"),
    "salt_in_meat": ("salt", "salt content", "saltiness of the meat"),
    "phosphate_in_meat": ("phosphate", "phosphates"),
    "time_on": (
        "cook time",
        "cooking time",
        "smoke time",
        "time in the cooker",
        "time in the smoker",
        "time cooking",
        "hours on",
    ),
    "time_to_wrap": ("time to wrap", "time before the wrap", "time unwrapped"),
    "time_wrapped": ("wrap time", "wrapped time", "time in the wrap", "time in foil"),
    "time_rested": ("rest time", "resting time", "rest", "hold time", "holding time", "hold"),
    "spritzes": ("spritzing", "sprays", "times spritzed", "mops"),
    "internal_off": (
        "final temperature",
        "final temp",
        "finishing temperature",
        "pull temperature",
        "pull temp",
        "internal temperature",
        "internal temp",
        "internal",
        "meat temperature",
    ),
    "feel_off": ("feel", "doneness", "probe feel", "probe tenderness"),
    "leeway_at_least": ("leeway", "forgiveness", "window", "time right", "stays right"),
    "stall_start": ("time to the stall", "start of the stall", "time to stall"),
    "stall_length": ("stall", "stall time", "stall duration", "stall length", "time in the stall"),
    "stall_level": ("stall temperature", "stall temp"),
    "rise_rate": ("rise rate", "rate of rise"),
    "carry_over": ("carryover", "carry over", "rise after off"),
    "time_4_60": ("danger zone", "time in the danger zone"),
    "cost_per_edible": ("cost per serving weight", "cost per edible pound", "cost per edible kilo"),
    "score.tenderness": ("tender", "bite", "tenderness score", "texture"),
    "score.juiciness": ("juicy", "juice", "moistness", "moisture"),
    "score.flavour": ("flavor", "taste", "flavor score", "flavour score"),
    "score.appearance": ("looks", "presentation", "appearance score"),
    "lethality": ("heat dose", "pasteurisation", "pasteurization"),
    "cook_value": ("cook value", "cooking value"),
}
"""By the key of a variable."""

NOTHING_MEANT: Mapping[str, str] = MappingProxyType({})


def names_of(catalogue: Catalogue) -> dict[str, Variable]:
    """Return the variable of each name a sentence may use: labels, keys, the trade's other words."""
    found: dict[str, Variable] = {}
    for variable in catalogue.values():
        found.setdefault(" ".join(variable.label.casefold().split()), variable)
    for variable in catalogue.values():
        found.setdefault(variable.key.casefold(), variable)
    for key, others in OTHER_WORDS.items():
        if key in catalogue:
            for words in others:
                found.setdefault(words, catalogue[key])
    return found


def meant(variables: Iterable[Variable]) -> dict[str, str]:
    """Return the label that each of the trade's other words stands for."""
    return {
        words: variable.label
        for variable in variables
        for words in OTHER_WORDS.get(variable.key, ())
    }
