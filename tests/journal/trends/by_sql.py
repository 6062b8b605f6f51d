"""The same question in SQL on the tables of a journal, and in pandas on its plain rows.

Both start from the records and know nothing of what the program works out.
"""

import math
import operator
import sqlite3
from collections.abc import Iterable
from pathlib import Path

import pandas as pd

from pitjournal.analysis.trends.question import By, Part, Question, Sign, Where

Answered = dict[tuple[str, ...], tuple[int, int, float, float, float]]
"""By group: cooks, pieces, mean, standard deviation (NaN of one cook), median."""

SEASON = (
    "CASE (CAST(strftime('%m', c.starts_at) AS INTEGER) % 12) / 3 "
    "WHEN 0 THEN 'winter' WHEN 1 THEN 'spring' WHEN 2 THEN 'summer' ELSE 'autumn' END"
)
WEEKDAY = (
    "CASE strftime('%w', c.starts_at) WHEN '0' THEN 'Sunday' WHEN '1' THEN 'Monday' "
    "WHEN '2' THEN 'Tuesday' WHEN '3' THEN 'Wednesday' WHEN '4' THEN 'Thursday' "
    "WHEN '5' THEN 'Friday' ELSE 'Saturday' END"
)
WORDS = (
    "(' ' || LOWER(c.title || ' ' || c.question || ' ' || c.note || ' ' || COALESCE(p.cut, '')) || ' ' || "
    "COALESCE((SELECT LOWER(GROUP_CONCAT(n.text, ' ')) FROM note n WHERE n.cook_id = c.id), ''))"
)


def mass(stage: str) -> str:
    return f"(SELECT w.mass FROM weighing w WHERE w.piece_id = p.id AND w.stage = '{stage}')"


def score(criterion: str) -> str:
    return (
        "(SELECT AVG(s.value) FROM score s JOIN sample a ON a.id = s.sample_id "
        "JOIN tasting t ON t.id = s.tasting_id WHERE a.piece_id = p.id "
        f"AND t.state = 'revealed' AND s.criterion = '{criterion}')"
    )


KIND = "(SELECT t.kind FROM treatment t WHERE t.arm_id = p.arm_id)"
COLUMNS = {
    "cut": "NULLIF(p.cut, '')",
    "grade": "NULLIF(p.grade, '')",
    "treatment": KIND,
    "control": "(SELECT CASE r.control WHEN 1 THEN 'yes' ELSE 'no' END "
    "FROM arm r WHERE r.id = p.arm_id)",
    # An arm that is named after what was done to it counts, also where no treatment is recorded.
    "non_intact": f"CASE WHEN {KIND} IN ('injected', 'needled', 'blade-tenderised') "
    "OR (SELECT r.name FROM arm r WHERE r.id = p.arm_id) "
    "IN ('injected', 'needled', 'blade-tenderised') THEN 'yes' "
    f"WHEN {KIND} IS NULL THEN NULL ELSE 'no' END",
    "cooker": "(SELECT i.name FROM shelf_item i WHERE i.id = c.cooker_id)",
    "year": "strftime('%Y', c.starts_at)",
    "month": "strftime('%Y-%m', c.starts_at)",
    "season": SEASON,
    "weekday": WEEKDAY,
    "day": "strftime('%Y-%m-%d', c.starts_at)",
    "set_point": "c.set_point",
    "thickness": "p.thickness_1",
    "yield_off": f"{mass('off')} / COALESCE({mass('trimmed')}, {mass('bought')})",
    "score.tenderness": score("tenderness"),
    "score.juiciness": score("juiciness"),
    "words": WORDS,
}
SIGNS = {
    Sign.IS: "=",
    Sign.IS_NOT: "<>",
    Sign.LESS: "<",
    Sign.AT_MOST: "<=",
    Sign.MORE: ">",
    Sign.AT_LEAST: ">=",
}


def column(by: By) -> str:
    return str(by.part) if by.key == "date" else by.key


def measured(question: Question) -> str:
    share = question.measure in {"non_intact", "control"}
    name = f'"{question.measure}"'
    return f"CASE {name} WHEN 'yes' THEN 1.0 WHEN 'no' THEN 0.0 END" if share else name


def test_of(where: Where) -> tuple[str, list[object]]:
    """Return a filter as SQL over `piece_row`."""
    if where.key == "text":
        each = [[f"% {word.lower()}%" for word in str(v).split()] for v in where.values]
        some = " OR ".join(" AND ".join("words LIKE ?" for _ in words) for words in each)
        inside = f"cook_id IN (SELECT cook_id FROM piece_row WHERE {some})"
        return (inside if where.sign is Sign.IS else f"NOT {inside}"), [
            w for ws in each for w in ws
        ]
    if where.key == "date":
        text = str(where.values[0])
        return f"SUBSTR(day, 1, {len(text)}) {SIGNS[where.sign]} ?", [text]
    some = " OR ".join(f'"{where.key}" {SIGNS[Sign.IS]} ?' for _ in where.values)
    if where.sign is Sign.IS:
        return f"({some})", list(where.values)
    if where.sign is Sign.IS_NOT:
        return f'("{where.key}" IS NOT NULL AND NOT ({some}))', list(where.values)
    return f'"{where.key}" {SIGNS[where.sign]} ?', [where.values[0]]


def view() -> str:
    columns = ", ".join(f'{sql} AS "{name}"' for name, sql in COLUMNS.items())
    return f"SELECT c.id AS cook_id, p.id AS piece_id, {columns} FROM cook c LEFT JOIN piece p ON p.cook_id = c.id"


def by_sql(journal: Path, question: Question) -> Answered:
    """Answer by hand-written SQL: pieces, then cooks, then groups."""
    tests, values = ["value IS NOT NULL"], []
    for where in question.where:
        sql, own = test_of(where)
        tests.append(sql)
        values += own
    names = [f'"{column(by)}"' for by in question.by]
    tests += [f"{name} IS NOT NULL" for name in names]
    groups = ", ".join(names) or "'all'"
    both = ""
    if question.within and names:
        both = (
            "WHERE cook_id IN (SELECT cook_id FROM kept GROUP BY cook_id "
            f"HAVING COUNT(DISTINCT {names[0]}) > 1)"
        )
    keys = [f"k{place}" for place in range(max(1, len(names)))]
    cells = ", ".join(
        f"{name} AS {key}" for name, key in zip(names or ["'all'"], keys, strict=True)
    )
    of = ", ".join(keys)
    query = f"""
    WITH piece_row AS ({view()}),
    kept AS (SELECT *, value AS measured FROM (SELECT *, {measured(question)} AS value
             FROM piece_row) WHERE {" AND ".join(tests)}),
    cook_mean AS (SELECT cook_id, {cells}, AVG(measured) AS value,
                  COUNT(piece_id) AS pieces
                  FROM kept {both} GROUP BY cook_id, {groups}),
    ranked AS (SELECT *, AVG(value) OVER (PARTITION BY {of}) AS mean,
               COUNT(*) OVER (PARTITION BY {of}) AS n,
               ROW_NUMBER() OVER (PARTITION BY {of} ORDER BY value) AS place FROM cook_mean)
    SELECT {of}, COUNT(*), SUM(pieces), AVG(value), SUM((value - mean) * (value - mean)),
      AVG(CASE WHEN place IN ((n + 1) / 2, (n + 2) / 2) THEN value END)
    FROM ranked GROUP BY {of}
    """
    found: Answered = {}
    with sqlite3.connect(journal) as connection:
        rows = connection.execute(query, values).fetchall()
    connection.close()
    for *key, cooks, pieces, mean, squares, median in rows:
        sd = (squares / (cooks - 1)) ** 0.5 if cooks > 1 else math.nan
        found[tuple(key) if names else ()] = cooks, pieces, mean, sd, median
    return found


def plain(journal: Path, question: Question) -> pd.DataFrame:
    """Return a plain row a piece, with what is measured as `value`."""
    with sqlite3.connect(journal) as connection:
        table = pd.read_sql_query(view(), connection)
    connection.close()
    value = table[question.measure]
    if question.measure in {"non_intact", "control"}:
        value = value.map({"yes": 1.0, "no": 0.0})
    return table.assign(value=pd.to_numeric(value))


def chosen(table: pd.DataFrame, filters: Iterable[Where]) -> pd.DataFrame:
    """Return the rows that pass each filter."""
    for where in filters:
        table = table[kept(table, where).astype(bool)]
    return table


def by_pandas(journal: Path, question: Question) -> Answered:
    """Answer with pandas: pieces, then cooks, then groups."""
    table = chosen(plain(journal, question), question.where)
    names = [column(by) for by in question.by]
    table = table.dropna(subset=["value", *names])
    if question.within and names:
        several = table.groupby("cook_id")[names[0]].nunique()
        table = table[table["cook_id"].isin(several[several > 1].index)]
    return summed(table, names)


def against_control_by_pandas(journal: Path, question: Question) -> Answered:
    """Answer with each piece's difference from the mean of its cook's control."""
    table = plain(journal, question)
    besides = [w for w in question.where if w.key not in {"treatment", "control", "non_intact"}]
    controls = chosen(table, besides).query("control == 'yes'")
    means = controls.groupby("cook_id")["value"].mean()
    table = chosen(table, question.where).query("control == 'no'")
    table = table.assign(value=table["value"] - table["cook_id"].map(means))
    names = [column(by) for by in question.by]
    return summed(table.dropna(subset=["value", *names]), names)


def summed(table: pd.DataFrame, names: list[str]) -> Answered:
    means = (
        table.groupby([*names, "cook_id"])
        .agg(mean=("value", "mean"), count=("piece_id", "count"))
        .reset_index()
    )
    found: Answered = {}
    for key, own in means.groupby(names) if names else [((), means)]:
        if not len(own):
            continue
        sd = float(own["mean"].std()) if len(own) > 1 else math.nan
        numbers = len(own), int(own["count"].sum()), float(own["mean"].mean()), sd
        found[key if isinstance(key, tuple) else (key,)] = *numbers, float(own["mean"].median())
    return found


def not_recorded_by_pandas(journal: Path, question: Question) -> int:
    """Count the pieces that no filter rules out and that lack something asked for."""
    table = plain(journal, question).dropna(subset=["piece_id"])
    asked, known = pd.Series(True, index=table.index), pd.Series(True, index=table.index)
    for where in question.where:
        passes = kept(table, where).astype(bool)
        told = pd.Series(True, index=table.index)
        if where.key not in {"text", "date"}:
            told = table[where.key].notna()
        asked &= passes | ~told
        known &= passes
    for name in ("value", *(column(by) for by in question.by)):
        known &= table[name].notna()
    return int((asked & ~known).sum())


def kept(table: pd.DataFrame, where: Where) -> "pd.Series[bool]":
    if where.key == "text":
        found = pd.Series(False, index=table.index)
        for value in where.values:
            words = [word.lower() for word in str(value).split()]
            rows = table["words"].map(lambda text, w=words: all(f" {x}" in text for x in w))
            found |= table["cook_id"].isin(table["cook_id"][rows])
        return found if where.sign is Sign.IS else ~found
    if where.key == "date":
        text = str(where.values[0])
        heads = table["day"].str[: len(text)]
        return heads.map(lambda head: COMPARE[where.sign](head, text))
    values = table[where.key]
    if where.sign in {Sign.IS, Sign.IS_NOT}:
        inside = values.isin(where.values)
        return inside if where.sign is Sign.IS else ~inside & values.notna()
    return COMPARE[where.sign](values, where.values[0])


COMPARE = {
    Sign.IS: operator.eq,
    Sign.IS_NOT: operator.ne,
    Sign.LESS: operator.lt,
    Sign.AT_MOST: operator.le,
    Sign.MORE: operator.gt,
    Sign.AT_LEAST: operator.ge,
}
PARTS = tuple(Part)
