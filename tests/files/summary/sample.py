"""A summary of an invented cook, made by hand."""

from pitjournal.files.summary.content import (
    AnsweredQuestion,
    Caution,
    Curve,
    CurveChart,
    Interval,
    IntervalChart,
    PointChart,
    Points,
    Summary,
    SummaryArm,
    SummaryPhoto,
    SummaryTable,
    TableColumn,
)

ONE_PIXEL = bytes.fromhex(
    "89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4"
    "890000000d49444154789c6360606060000000050001a5f645400000000049454e44ae426082"
)
"""A PNG of one clear pixel (the PNG specification's smallest truecolour-with-alpha file)."""

ARMS = (
    SummaryArm("Left alone", 0, "left alone", control=True),
    SummaryArm("Injected", 1, "injected"),
    SummaryArm("Needled", 2, "needled"),
)


def pieces(rows: int = 9) -> SummaryTable:
    """Return a table of pieces."""
    looks = tuple(row // 3 % 3 for row in range(rows))
    masses = tuple(1.048 + row / 100 for row in range(rows))
    return SummaryTable(
        "Each piece",
        (
            TableColumn(
                "Piece", tuple(f"{'ABC'[look]}{row % 3 + 1}" for row, look in enumerate(looks))
            ),
            TableColumn("Arm", tuple(ARMS[look].name for look in looks)),
            TableColumn("On", tuple(f"{mass:.2f}" for mass in masses), "kg", masses),
            TableColumn("Off", ("not recorded",) * rows, "kg", (None,) * rows),
        ),
        looks,
    )


def a_summary(title: str = "Does injecting change the bite?", *, rows: int = 9) -> Summary:
    """Return a summary with everything in it."""
    hours = tuple(step / 10 for step in range(50))
    return Summary(
        title=title,
        under_title="2 May 2026 · practice · St. Louis ribs",
        question="Is the bite more tender?",
        words=("Injected racks bit 0.8 points more tender than racks left alone.",),
        protects=("Injected and needled meat counts as non-intact.", "Allergen: milk."),
        arms=ARMS,
        facts=(("Cooker", "drum"), ("Set point", "135 °C")),
        tables=(
            SummaryTable(
                "Difference from left alone",
                (
                    TableColumn("Arm", ("Injected", "Needled")),
                    TableColumn("Tenderness", ("+0.8", "+0.1")),
                ),
                (1, 2),
                "95 % intervals.",
            ),
        ),
        pieces=pieces(rows),
        points=PointChart(
            "Tenderness, each piece",
            "points",
            tuple(
                Points(
                    arm.look,
                    arm.name,
                    tuple((f"{arm.name} {n}", f"pack {n}", 6.0 + n / 2) for n in range(3)),
                    6.5,
                )
                for arm in ARMS
            ),
        ),
        intervals=IntervalChart(
            "Difference, 95 % interval",
            "points",
            (
                Interval(1, "Injected", 0.8, 0.1, 1.6, "+0.8"),
                Interval(2, "Needled", 0.1, None, None, "+0.1"),
            ),
        ),
        curves=CurveChart(
            "Temperature",
            "°C",
            (
                Curve("pit", None, hours, (135.0,) * 50),
                Curve("Injected", 1, hours, tuple(5 + 2 * step for step in range(50))),
            ),
            ((0.0, "on"), (2.0, "wrap"), (2.02, "lid")),
        ),
        cautions=(Caution("Poultry reached 165 °F", "unknown", "FSIS chart"),),
        deference="Local codes and licensed practice come first.",
        notes=("The wind turned at noon.",),
        photos=(SummaryPhoto("The racks", "image/png", ONE_PIXEL),),
        leaves=("pieces", "notes"),
        left_out=("place",),
        asked=(
            AnsweredQuestion(
                "tenderness by cut",
                "pitjournal:ask?tenderness%20by%20cut",
                SummaryTable("Asked of all cooks", (TableColumn("Cut", ("brisket",)),)),
                ("Exploratory: a hint, not a test.",),
            ),
        ),
    )
