"""Heads as cooks write them, in English, German and Spanish, and what each means.

What a word means is the trade's and the languages' (common practice, no source); the cells are of
the size that goes with it.
"""

from collections.abc import Mapping, Sequence

import pytest

from pitjournal.files.old_cooks import read_old_cooks

CELLS: Mapping[str, Sequence[str]] = {
    "mass": ("8.4", "12.1", "3.2"),
    "temp": ("250", "225", "275"),
    "tempc": ("120", "107", "135"),
    "it": ("203", "200", "195"),
    "itc": ("95", "93", "90"),
    "h": ("11.5", "14", "5.25"),
    "min": ("30", "60", "45"),
    "amb": ("68", "75", "40"),
    "ambc": ("18", "24", "5"),
    "text": ("a bit dry, next time longer", "quite good", "windy all day"),
    "score": ("8", "7", "9"),
}

HEADS: Mapping[str, Mapping[str, Sequence[str]]] = {
    "mass_off": {
        "mass": (
            "Off lb",
            "Weight off (lb)",
            "Lbs out",
            "Lb cooked",
            "Cooked lbs",
            "Post-cook weight (lb)",
            "Weight post cook lb",
            "After smoking (lb)",
            "After (lb)",
            "Wt coming off (lb)",
            "Gewicht nach dem Garen (kg)",
            "nachher (kg)",
            "Gew. fertig kg",
            "Fertig kg",
            "Peso después (kg)",
            "Peso ya cocido kg",
            "Kilos finales",
            "Weight @ finish (lb)",
            "Meat wt. post (lb)",
            "Cooked weight in pounds",
            "kg gegart",
            "Peso de salida (kg)",
        ),
    },
    "mass_on": {
        "mass": (
            "Pre-cook lbs",
            "Wt. going on (lb)",
            "Meat wt. pre (lb)",
            "lb on the pit",
            "Total weight (lbs)",
            "Avg weight lb",
            "Butt size (lb)",
            "Gewicht in kg",
            "Fleischmenge (kg)",
            "Peso de entrada (kg)",
            "Peso carne kg",
            "Peso aprox. (kg)",
        ),
    },
    "mass_trimmed": {
        "mass": (
            "Trimmed lb",
            "Trim wt (lb)",
            "Wt after trimming (lb)",
            "Gewicht nach Zuschnitt kg",
            "Gewicht zugeputzt kg",
        ),
    },
    "mass_bought": {
        "mass": (
            "Raw lbs",
            "Gew. roh kg",
            "Rohgew. (kg)",
            "Peso en crudo kg",
            "Weight at the store lbs",
            "kg roh",
            "Gewicht brutto kg",
        ),
    },
    "mass_edible": {
        "mass": (
            "Pulled meat (lb)",
            "Edible lb",
        ),
    },
    "set_point": {
        "temp": (
            "Pit °F",
            "Smoker °F",
            "Smoker set to (F)",
            "Avg grate F",
            "Dome temp F",
            "Target temp (F)",
            "Cook temp (F)",
            "Box temp F",
            "BBQ temp (F)",
            "Oven/pit temp F",
            "Temp (°F)",
            "Temperature in F",
            "Ran at F",
            "Held pit at (F)",
            "Cooking temp °F",
            "Heat (F)",
            "Set temp °F",
            "Kettle temp F",
            "Temp range (F)",
            "T pit F",
        ),
        "tempc": (
            "Garraum °C",
            "GT",
            "Temp. Grill °C",
            "Kammertemperatur °C",
            "Smokertemp. (°C)",
            "Deckelthermometer °C",
            "Temp. del ahumador (°C)",
            "Temp. horno °C",
            "Temp. barril (°C)",
            "T Garraum",
            "Smoker-Temp. °C",
            "Grill °C",
            "Hitze (°C)",
            "Temp. (°C)",
            "Temp. cocción °C",
            "T. ahumador °C",
            "Grados",
        ),
    },
    "internal_off": {
        "it": (
            "Core F",
            "Core temp (F)",
            "IT at pull",
            "Internal (F)",
            "Finish IT",
            "Probe temp F",
            "Pulled at (F)",
            "Meat °F at end",
            "Finished at °F",
            "Done at F",
            "Int temp off F",
            "Final meat temp (F)",
            "Temp when pulled (F)",
            "Off temp F",
            "IT (F)",
            "Target IT F",
        ),
        "itc": (
            "Kerntemp. Ende °C",
            "KT (°C)",
            "Kern °C",
            "Ziel-KT",
            "Kerntemperatur beim Runternehmen",
            "Temp. interior °C",
            "Temp. del centro (°C)",
            "T° interna",
            "Temp. carne (°C)",
            "KT",
            "Kern-T. °C",
            "Fleischtemp. °C",
            "Endkerntemperatur",
            "T. final interna °C",
            "Temp. al retirar (°C)",
        ),
    },
    "time_on": {
        "h": (
            "Hours on",
            "Hrs cooking",
            "Cook (h)",
            "Smoke time (hrs)",
            "Time in smoker (h)",
            "Elapsed hrs",
            "Total (h)",
            "Std. gesamt",
            "Gesamtdauer h",
            "Garzeit (Std.)",
            "Zeit im Smoker (h)",
            "Horas en total",
            "Tiempo total (h)",
            "Horas de ahumado",
            "Tiempo en el ahumador (h)",
            "Time (h)",
            "Cook hrs",
            "# hours",
            "How long (hrs)",
            "Length of cook (h)",
            "Smoked for (h)",
            "Hours smoked",
            "Stunden gesamt",
            "Std.",
            "Zeit (h)",
            "Dauer in Std",
            "Gardauer in h",
            "Horas coc.",
            "Tiempo de cocción (h)",
            "Duración (h)",
        ),
    },
    "time_rested": {
        "min": (
            "Rest min",
            "Rested (min)",
            "Rest/hold (min)",
            "Cooler time (min)",
            "FTC min",
            "Ruhen lassen (min)",
            "Ruhe min",
            "Reposo min",
            "Min. de reposo",
            "Resting time (mins)",
            "Rest before slicing (min)",
            "Hold in cooler (min)",
            "Ruhezeit Min.",
            "Reposo (minutos)",
        ),
    },
    "time_wrapped": {
        "min": (
            "Min wrapped",
            "Wrapped (min)",
            "Minutes in foil",
            "Foil time (min)",
        ),
        "h": (
            "Wrapped for h",
            "Stunden in Folie",
        ),
    },
    "time_to_wrap": {
        "h": (
            "Hours till wrap",
            "Wrapped at h",
            "Wrapped @ hr",
            "Foiled at (h)",
            "Wrapped after (hrs)",
            "Folie nach (h)",
            "Envuelto tras (h)",
        ),
    },
    "ambient": {
        "amb": (
            "Outside °F",
            "Outdoor F",
            "Air temp F",
            "Weather temp (F)",
            "Outside temp F",
            "Temp outdoors F",
            "Ambient F",
            "Yard temp (F)",
        ),
        "ambc": (
            "Außentemp. (°C)",
            "Außen °C",
            "Lufttemperatur °C",
            "Temp. außen",
            "Temp. ambiente °C",
            "Temp. afuera (°C)",
            "Umgebung °C",
            "Tagestemperatur °C",
            "Temp. exterior °C",
        ),
    },
    "notes": {
        "text": (
            "What I'd do different",
            "What I would change",
            "Do differently",
            "Things to remember",
            "How did it turn out?",
            "Observation",
            "Was ist passiert",
            "Fazit",
            "Erfahrung",
            "Beim nächsten Mal",
            "Hinweise",
            "Qué pasó",
            "Para la próxima",
            "Detalles",
            "Lo que aprendí",
            "Details",
            "Diary",
            "Log",
            "Remarks / ideas",
            "My notes",
            "General comments",
            "Anm.",
            "Bem.",
            "Obs.",
            "Info",
            "What worked",
            "Lessons for next time",
            "Was würde ich ändern",
            "Notas y mejoras",
            "Impresiones",
        ),
    },
    "rating": {
        "score": (
            "Rating out of 10",
            "Overall (10)",
            "Score (max 10)",
            "How was it (1-10)",
            "Gesamteindruck (1-10)",
            "Gesamt (1-10)",
            "Geschmack 1-10",
            "Calificación (1-10)",
            "Nota final (1-10)",
            "Rating",
            "Overall score 1-10",
            "My score",
            "Wife's score (1-10)",
            "Taste 1-10",
            "Total score",
            "Gesamtbewertung",
            "Punkte 1-10",
            "Ergebnis (1-10)",
            "Bewertung von 10",
            "Evaluación (1-10)",
            "Puntaje /10",
            "Valoración global (1-10)",
        ),
    },
    "score.flavour": {
        "score": (
            "Sabor (1-10)",
            "Flavor (1-10)",
        ),
    },
    "score.tenderness": {
        "score": (
            "Tenderness 1-9",
            "Zart (1-10)",
            "Terneza (1-10)",
        ),
    },
    "score.bark": {
        "score": (
            "Bark (1-10)",
            "Kruste 1-10",
        ),
    },
    "a note": {
        "score": ("Smoke ring (1-10)",),
        "mass": (
            "Rub (oz)",
            "Trimmings (lb)",
            "Water lost (lb)",
        ),
        "h": (
            "Brine (h)",
            "Hours in brine",
            "Dry brine hrs",
            "Marinierzeit (h)",
        ),
        "min": ("Time unwrapped (min)",),
        "it": (
            "Wrap temp (F)",
            "Wrapped at IT F",
            "Stall temp F",
        ),
    },
    "score.juiciness": {
        "score": (
            "Saftig (1-10)",
            "Jugosidad 1-10",
            "Moistness (1-10)",
        ),
    },
    "fuel_used": {
        "mass": (
            "Charcoal (lb)",
            "Fuel lbs",
            "Pellets burned (lb)",
            "Kohle (kg)",
            "Briketts kg",
            "Carbón (kg)",
            "Kilos de carbón",
            "Lbs charcoal",
            "Charcoal used (lb)",
            "Brikettverbrauch kg",
            "kg Kohle",
            "kg de carbón",
        ),
    },
    "weather": {
        "text": ("Weather that day",),
    },
    "score.smoke": {
        "score": ("Smoke flavour (1-10)",),
    },
    "score.appearance": {
        "score": ("Look (1-10)",),
    },
}


def read_as(head: str, cells: Sequence[str]) -> str | None:
    """Return what a column is read as, beside a day, a cut and a wood."""
    days = ("2021-05-01", "2021-05-15", "2021-06-02")
    rows = zip(
        days, ("pork butt", "brisket", "spare ribs"), ("oak", "cherry", "apple"), strict=True
    )
    lines = [f"Date;Cut;Wood;{head}"]
    lines += [";".join((*row, cell)) for row, cell in zip(rows, cells, strict=True)]
    table = read_old_cooks("\n".join(lines).encode(), "old.csv")
    return table.columns[3].variable


@pytest.mark.parametrize("meant", HEADS)
def test_that_a_head_is_known_by_its_words_and_its_unit(meant: str) -> None:
    wanted = None if meant == "a note" else meant
    for kind, heads in HEADS[meant].items():
        got = {head: read_as(head, CELLS[kind]) for head in heads}
        assert got == dict.fromkeys(heads, wanted)


def test_that_a_word_in_a_heads_sentence_fills_no_empty_cell_from_above() -> None:
    data = (
        b"Date,Meat,Lb,Pulled when it hit\n"
        b"2021-05-01,butt,8,203F\n2021-05-15,ribs,3,\n2021-05-22,thighs,3,\n2021-06-02,flat,6,200F\n"
    )
    cooks = read_old_cooks(data, "old.csv").cooks
    assert [round(cook.values.get("internal_off", 0.0)) for cook in cooks] == [95, 0, 0, 93]  # type: ignore[arg-type]


def test_that_a_space_between_thousands_is_read() -> None:
    """SI brochure, 9th edition, 5.4.4: digits may be divided in groups of three by a thin space."""
    data = "Datum;Stück;Rohgewicht g;Fertig g\n8.1.2022;Pute;5 600;4\u202f450\n"
    (cook,) = read_old_cooks(data.encode(), "old.csv").cooks
    assert (cook.values["mass_bought"], cook.values["mass_off"]) == (5600.0, 4450.0)


def test_that_one_head_over_the_scores_gives_them_their_scale() -> None:
    data = (
        b",,,Scores (1-9),,,\nDate,Cut,Lb,Look,Taste,Overall,Remarks\n"
        b"2024-02-03,butt,8,8,7,6,a\n2024-02-17,brisket,12,7,8,8,b\n"
    )
    first = read_old_cooks(data, "old.csv").cooks[0].values
    scores = ("score.appearance", "score.flavour", "rating")
    assert [first[key] for key in scores] == [
        {"value": value, "low": 1, "high": 9} for value in (8, 7, 6)
    ]
    assert first["notes"] == "a"


def test_that_what_tells_itself_is_not_asked() -> None:
    """DIN 5008: a date with points is day, month, year; Grad is a degree of Celsius there."""
    data = (
        "Tag,Was,Menge,Temp.,Dauer\n"
        '01.02.2020,Spareribs,"1,6 kg",110 Grad,"5,5 h"\n05.03.2020,Rinderbrust,5 kg,115 Grad,14 h\n'
    )
    read = read_old_cooks(data.encode(), "old.csv")
    assert [column.header for column in read.columns if column.question] == []
    values = read.cooks[0].values
    assert str(read.cooks[0].date) == "2020-02-01"
    assert (values["mass_on"], values["set_point"], values["time_on"]) == (1600.0, 110.0, 330.0)


def test_that_words_behind_a_figure_do_not_hide_it() -> None:
    data = (
        b"Date,Cut,Pit (F),Verdict\n2022-03-12,butt,350ish,9/10\n"
        b"2022-04-02,ribs,275 or so,8/10 a bit salty\n2022-05-14,brisket,250,7/10\n"
    )
    first, second, _ = read_old_cooks(data, "old.csv").cooks
    assert first.values["set_point"] == pytest.approx((350 - 32) / 1.8)
    assert second.values["set_point"] == pytest.approx(135.0)
    assert second.values["rating"] == {"value": 8, "low": 1, "high": 10}
    assert second.written["rating"] == "8/10 a bit salty"
