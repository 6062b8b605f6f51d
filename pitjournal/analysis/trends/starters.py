"""Questions of the trade, ready to ask."""

from pitjournal.analysis.trends.question import By, Part, Question, Sign, Where

RIBS = Where("cut", Sign.IS, ("spare ribs", "St. Louis ribs", "back ribs"))

STARTERS: tuple[tuple[str, Question], ...] = (
    (
        "Does injecting change tenderness?",
        Question("score.tenderness", (By("treatment"),), within=True),
    ),
    (
        "Does injecting change how long it stays right?",
        Question("leeway_at_least", (By("treatment"),), within=True),
    ),
    ("What does each cooker burn?", Question("fuel_rate", (By("cooker"), By("fuel")))),
    ("Does thickness predict time?", Question("time_on", (By("thickness"),), (RIBS,))),
    ("Does weight predict time?", Question("time_on", (By("mass_on"),))),
    ("Does spritzing cost time?", Question("time_on", (By("spritzes"),), (RIBS,))),
    ("Which wrap?", Question("time_on", (By("wrap"),), within=True)),
    ("When to wrap?", Question("score.tenderness", (By("time_to_wrap"),))),
    ("Off by temperature?", Question("score.tenderness", (By("internal_off"),))),
    ("Off by feel?", Question("score.tenderness", (By("feel_off"),))),
    ("Which slots run hot?", Question("time_on", (By("slot"),), (RIBS,))),
    ("Does the better grade pay?", Question("score.tenderness", (By("grade"),))),
    ("What changed over the year?", Question("yield_off", (By("cut"), By("date", Part.SEASON)))),
)
