"""The questions of the trade, ready to ask."""

from dataclasses import dataclass

from pitjournal.analysis.trends.question import By, Picture, Question, Sign, Where

RIBS = Where("cut", Sign.IS, ("ribs",))


@dataclass(frozen=True)
class Starter:
    """A question in a cook's words; `sources` asks first where the spread comes from."""

    words: str
    question: Question
    sources: bool = False


STARTERS: tuple[Starter, ...] = (
    Starter(
        "Does injecting change tenderness?",
        Question("score.tenderness", (By("treatment"),), within=True),
    ),
    Starter(
        "Does injecting change how long it stays right?",
        Question("leeway_at_least", (By("treatment"),), within=True),
    ),
    Starter("What does each cooker burn?", Question("fuel_rate", (By("cooker"), By("fuel")))),
    Starter("Does weight predict time?", Question("time_on", (By("mass_on"), By("cut")))),
    Starter("Does spritzing cost time?", Question("time_on", (By("spritzes"),), (RIBS,))),
    Starter("Which wrap?", Question("time_on", (By("wrap"),), within=True)),
    Starter(
        "Off by temperature or by feel?",
        Question("score.tenderness", (By("internal_off"), By("feel_off"))),
    ),
    Starter(
        "How long does a hold keep it right?", Question("score.tenderness", (By("time_rested"),))
    ),
    Starter("Which slots run hot?", Question("time_on", (By("slot"),), (RIBS,))),
    Starter("Does the better grade pay?", Question("score.tenderness", (By("grade"),))),
    Starter("How early must I start?", Question("cook_time", (By("cut"),), picture=Picture.SPREAD)),
    Starter(
        "Do my panel and the judges agree?",
        Question("score.tenderness (contest)", (By("score.tenderness"),)),
    ),
    Starter(
        "What did we change before we placed better?",
        Question("field_beaten", (By("contest_carried"), By("contest_category"))),
    ),
    Starter(
        "Which judge-to-judge spread is usual?",
        Question("card_spread", (By("contest_category"),), picture=Picture.SPREAD),
    ),
    Starter(
        "Where does the spread come from?",
        Question("score.tenderness", (By("cooker"),)),
        sources=True,
    ),
)
