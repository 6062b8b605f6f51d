"""The same invented cooks written as a table in a random dialect, with what it should give back."""

import csv
import io
import random
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

POUND = 453.59237
"""g; exact (international pound, 1959)."""

CUTS: Mapping[str, Mapping[str, Sequence[str]]] = {
    "en": {
        "brisket": ("brisket", "Packer", "whole brisket", "Full packer brisket"),
        "pork butt": ("pork butt", "Boston butt", "Pork shoulder", "BUTT"),
        "spare ribs": ("spare ribs", "Spares", "Spareribs"),
        "back ribs": ("baby backs", "Back ribs", "BB ribs"),
        "chicken thighs": ("chicken thighs", "Thighs, chicken"),
    },
    "de": {"brisket": ("Rinderbrust",), "pork butt": ("Schweinenacken",)},
    "es": {"brisket": ("pecho de res",), "pork butt": ("aguja de cerdo",)},
}
HEADS: Mapping[str, Mapping[str, Sequence[str]]] = {
    "en": {
        "date": ("Date", "Cook date", "DATE", "When"),
        "cut": ("Cut", "Meat", "What"),
        "mass_on": ("Weight", "Wt", "Meat weight"),
        "set_point": ("Pit temp", "Smoker temp", "Temp", "Cook temp"),
        "time_on": ("Cook time", "Total time", "Time"),
        "wrap": ("Wrap", "Wrapped?", "Foil/paper"),
        "rating": ("Rating", "Score", "Overall"),
        "wood": ("Wood", "Smoke wood"),
        "notes": ("Notes", "Comments", "Remarks"),
    },
    "de": {
        "date": ("Datum",),
        "cut": ("Fleisch", "Stück"),
        "mass_on": ("Gewicht",),
        "set_point": ("Garraumtemperatur", "Temperatur"),
        "time_on": ("Dauer", "Garzeit"),
        "wrap": ("eingewickelt?", "Gewickelt"),
        "rating": ("Bewertung", "Note"),
        "wood": ("Holz", "Räucherholz"),
        "notes": ("Bemerkung", "Notizen"),
    },
    "es": {
        "date": ("Fecha",),
        "cut": ("Corte", "Carne"),
        "mass_on": ("Peso",),
        "set_point": ("Temperatura del ahumador", "Temp. ahumador"),
        "time_on": ("Tiempo", "Duración"),
        "wrap": ("Envuelto", "Envoltura"),
        "rating": ("Nota", "Puntuación"),
        "wood": ("Leña", "Madera"),
        "notes": ("Notas", "Observaciones"),
    },
}
WRAPS: Mapping[str, Mapping[str, Sequence[str]]] = {
    "en": {
        "none": ("no", "none", "naked"),
        "foil": ("foil", "alu foil"),
        "paper": ("butcher paper", "paper"),
    },
    "de": {"none": ("ohne", "nein"), "foil": ("Alufolie", "Folie"), "paper": ("Papier",)},
    "es": {
        "none": ("no", "sin envolver"),
        "foil": ("papel de aluminio",),
        "paper": ("papel carnicero",),
    },
}


@dataclass
class Written:
    """A table's bytes, the rows that are cooks with their values, and which columns are open."""

    data: bytes
    cooks: list[dict[str, Any]] = field(default_factory=list)
    heads: dict[str, str] = field(default_factory=dict)
    open_columns: set[str] = field(default_factory=set)


def write(seed: int) -> Written:
    """Return one table."""
    return _Writer(random.Random(seed)).written()


class _Writer:
    def __init__(self, dice: random.Random) -> None:
        self.dice = dice
        self.language = dice.choice(("en", "en", "de", "es"))
        self.comma = self.language != "en" and dice.random() < 0.8
        self.delimiter = dice.choice((";", "\t") if self.comma else (",", ";", "\t"))
        self.keys = ["date", "cut", "mass_on", "set_point", "time_on"]
        self.keys += [key for key in ("wrap", "rating", "wood", "notes") if dice.random() < 0.7]
        if dice.random() < 0.4:
            dice.shuffle(self.keys)
        self.open: set[str] = set()
        self.in_head = {key: dice.random() < 0.6 for key in ("mass_on", "set_point", "time_on")}
        self.metric = self.language != "en" or dice.random() < 0.2

    def number(self, value: float, places: int) -> str:
        text = f"{value:.{places}f}"
        return text.replace(".", ",") if self.comma else text

    def written(self) -> Written:
        day_form = self._dates()
        heads = {key: self._head(key) for key in self.keys}
        day = date(2021, 1, 3) + timedelta(days=self.dice.randrange(200))
        rows: list[list[str]] = []
        cooks: list[dict[str, Any]] = []
        top = self._top()
        for _ in range(self.dice.randrange(14, 30)):
            day += timedelta(days=self.dice.randrange(4, 17))
            cells, truth = self._row(day, day_form)
            cooks.append({**truth, "row": len(top) + 2 + len(rows)})
            rows.append([cells[key] for key in self.keys])
            if self.dice.random() < 0.05:
                rows.append(["" for _ in self.keys])
        if self.dice.random() < 0.4:
            rows.append(
                ["Total" if at == 0 else "" if at > 2 else "99" for at in range(len(self.keys))]
            )
        table = [*top, [heads[key] for key in self.keys], *rows]
        out = io.StringIO(newline="")
        csv.writer(
            out, delimiter=self.delimiter, lineterminator=self.dice.choice(("\n", "\r\n"))
        ).writerows(table)
        encoding = self.dice.choice(("utf-8", "utf-8-sig", "cp1252", "utf-16"))
        return Written(out.getvalue().encode(encoding), cooks, heads, self.open)

    def _top(self) -> list[list[str]]:
        if self.dice.random() < 0.7:
            return []
        return [["All that I have smoked"], [""]]

    def _dates(self) -> Callable[[date], str]:
        forms: list[tuple[str, Callable[[date], str]]] = [
            ("iso", date.isoformat),
            ("dots", lambda day: f"{day:%d.%m.%Y}"),
            ("named", lambda day: f"{day.day} {day:%b} {day.year}"),
        ]
        if self.language == "en":
            forms.append(("us", lambda day: f"{day.month}/{day.day}/{day:%y}"))
            forms.append(("spoken", lambda day: f"{day:%B} {day.day}, {day.year}"))
        return self.dice.choice(forms)[1]

    def _head(self, key: str) -> str:
        head = self.dice.choice(HEADS[self.language][key])
        if key == "rating":
            return f"{head} (1-10)"
        if self.in_head.get(key):
            units = {"mass_on": ("lb", "kg"), "set_point": ("°F", "°C"), "time_on": ("h", "h")}[key]
            return self.dice.choice(("{} ({})", "{} [{}]", "{}, {}")).format(
                head, units[self.metric]
            )
        return head

    def _row(
        self, day: date, day_form: Callable[[date], str]
    ) -> tuple[dict[str, str], dict[str, Any]]:
        dice = self.dice
        cut = dice.choice(list(CUTS[self.language]))
        mass = dice.randrange(12, 80) / 10.0
        pit = dice.choice((105, 110, 121, 135) if self.metric else (225, 240, 250, 275))
        minutes = dice.randrange(200, 900)
        wrap = dice.choice(list(WRAPS[self.language]))
        rating = dice.randrange(3, 11)
        wood, notes = (
            dice.choice(("oak", "cherry; oak")),
            dice.choice(("windy, wet", "do it again!", "")),
        )
        cells = {
            "date": day_form(day),
            "cut": dice.choice(CUTS[self.language][cut]),
            "mass_on": self.number(mass, 1)
            + ("" if self.in_head["mass_on"] else " kg" if self.metric else " lb"),
            "set_point": self._pit(pit),
            "time_on": self._time(minutes),
            "wrap": dice.choice(WRAPS[self.language][wrap]),
            "rating": str(rating),
            "wood": wood,
            "notes": notes,
        }
        shown = round(minutes / 60.0, 2) * 60.0 if self.in_head["time_on"] else minutes
        truth: dict[str, Any] = {
            "date": day.isoformat(),
            "cut": cut,
            "mass_on": mass * (1000.0 if self.metric else POUND),
            "set_point": float(pit) if self.metric else (pit - 32.0) / 1.8,
            "time_on": shown,
            "wrap": wrap,
            "rating": {"value": rating, "low": 1, "high": 10},
            "wood": wood,
            **({"notes": notes} if notes else {}),
        }
        return cells, {key: value for key, value in truth.items() if key in self.keys}

    def _pit(self, pit: int) -> str:
        if self.in_head["set_point"]:
            return str(pit)
        return (
            f"{pit} °C"
            if self.metric
            else self.dice.choice((f"{pit}F", f"{pit} °F", f"{pit} deg F"))
        )

    def _time(self, minutes: int) -> str:
        if self.in_head["time_on"]:
            return self.number(minutes / 60.0, 2)
        hours, rest = divmod(minutes, 60)
        if self.language == "de":
            return f"{hours} Std. {rest} Min."
        return self.dice.choice(
            (f"{hours}h {rest}m", f"{hours}:{rest:02d}", f"{hours} hrs {rest} min")
        )
