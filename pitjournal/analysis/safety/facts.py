"""Safety facts of a cook: reached, not reached or unknown, each with its source."""

from collections.abc import Iterator, Mapping, Sequence

from pitjournal.analysis.safety.coldest import Logs
from pitjournal.analysis.safety.end_points import AT_ONCE, asked, rows_of, seen
from pitjournal.analysis.safety.over_time import cooling_facts, four_hours, hot_hold, table_fact
from pitjournal.analysis.safety.states import SafetyFact, Seen, State, together
from pitjournal.analysis.traces.heat_dose import WARM
from pitjournal.analysis.traces.readings import Readings
from pitjournal.domain.cuts import meat_of
from pitjournal.domain.cuts.meat import ASKED_ABOUT, GAME, SEAFOOD, Animal, JudgedAs
from pitjournal.domain.judged import PROBED_EARLY, Judged, judged
from pitjournal.domain.piece import Piece
from pitjournal.domain.safety_tables import SafetyRule, safety_rules
from pitjournal.domain.whole_cook import WholeCook
from pitjournal.units.figures import trimmed

_BY_POULTRY_TABLE = ASKED_ABOUT | {JudgedAs.POULTRY}
_BY_MEAT_TABLE = frozenset({JudgedAs.WHOLE, JudgedAs.NON_INTACT, JudgedAs.VARIETY, JudgedAs.GROUND})
_IN_NO_TABLE = SEAFOOD | GAME | {Animal.BISON, Animal.RATITE, Animal.OTHER}
"""FSIS-GD-2021-14 is for meat of cattle, swine, sheep and goats, and for poultry."""


def levels_of(whole: WholeCook) -> list[tuple[float, str]]:
    """Return the levels that a cook's meat is seen against: °C, and the words for it.

    60 °C (140 °F), which meat passes within four hours, and the end point of the rule that asks
    most: where it goes by a time too, that which is met at once.
    """
    rules = {judged(whole, piece).rule for piece in whole.pieces} or {JudgedAs.WHOLE}
    level = {rule: rows_of(rule)[0].celsius for rule in rules}
    by_time = level.keys() & {JudgedAs.NON_INTACT, JudgedAs.RATITE}
    for rule in by_time:
        level[rule] = safety_rules()[AT_ONCE].celsius
    most = max(rules, key=lambda rule: (level[rule], list(JudgedAs).index(rule)))
    words = str(most).removesuffix(" meat") if "non" in most else str(most)
    return [(WARM, "within 4 h"), (level[most], f"at once, {words}" if most in by_time else words)]


def facts_of(whole: WholeCook, readings: Readings) -> tuple[SafetyFact, ...]:
    """Return the facts that apply to a cook's meat."""
    return tuple(_facts(whole, readings))


def _facts(whole: WholeCook, readings: Readings) -> Iterator[SafetyFact]:
    logs_of = Logs(whole, readings)
    by_rule: dict[JudgedAs, list[tuple[Piece, Judged]]] = {}
    for piece in whole.pieces:
        found = judged(whole, piece)
        by_rule.setdefault(found.rule, []).append((piece, found))
    for rule in reversed(JudgedAs):
        if rule in by_rule:
            yield from _end_points(logs_of, rule, by_rule[rule])
    traced = [p for p in whole.pieces if whole.meat_trace(p) is not None]
    for rules, what in ((_BY_POULTRY_TABLE, "poultry"), (_BY_MEAT_TABLE, "meat")):
        pieces = [
            p
            for rule in by_rule
            if rule in rules
            for p, _ in by_rule[rule]
            if not meat_of(p.cut).animals & _IN_NO_TABLE
        ]
        probed = [p for p in traced if p in pieces]
        unknown = {p.id for p, _ in by_rule.get(JudgedAs.UNKNOWN, ())}
        if probed:
            known = all(p.id not in unknown for p in pieces)
            yield table_fact(logs_of, probed, what, len(pieces), known=known)
    if traced:
        yield four_hours(logs_of, traced, len(whole.pieces))
        yield from cooling_facts(logs_of, traced)
    yield from hot_hold(logs_of)


def _end_points(
    logs_of: Logs,
    rule: JudgedAs,
    found: Sequence[tuple[Piece, Judged]],
) -> Iterator[SafetyFact]:
    """Yield the end point of pieces that are judged alike."""
    pieces = [piece for piece, _ in found]
    rows = rows_of(rule)
    known = {piece.label: seen(logs_of, piece, rule) for piece in pieces}
    name = _name(rule, found)
    yield SafetyFact(
        f"{name}: {_asks(rows)} all through, {_pieces_known(known)}",
        together([one.state for one in known.values()]),
        _source(rows) + _own_caution(rule, found),
    )
    early = [piece for piece, each in found if each.why == (PROBED_EARLY,)]
    if rule is JudgedAs.NON_INTACT and early:
        rows = rows_of(JudgedAs.WHOLE)
        as_whole = {piece.label: seen(logs_of, piece, JudgedAs.WHOLE) for piece in early}
        yield SafetyFact(
            f"By the row for whole meat, of what was only probed early: {_asks(rows)}, "
            f"{_pieces_known(as_whole)}",
            together([one.state for one in as_whole.values()]),
            _source(rows),
        )
    ratites = [piece for piece in pieces if Animal.RATITE in meat_of(piece.cut).animals]
    if ratites and rule in {JudgedAs.RATITE, JudgedAs.VARIETY, JudgedAs.GROUND}:
        yield _as_poultry(logs_of, ratites)
    if rule is JudgedAs.GROUND:  # two published rules differ: both are shown, never averaged
        rows = rows_of(JudgedAs.NON_INTACT)
        other = [seen(logs_of, piece, JudgedAs.NON_INTACT).state for piece in pieces]
        yield SafetyFact(
            f"The same by the rule for kitchens: {_asks(rows)}", together(other), _source(rows)
        )


def _as_poultry(logs_of: Logs, ratites: Sequence[Piece]) -> SafetyFact:
    """Return what is asked of ostrich, emu and rhea where they count as poultry."""
    row = safety_rules()["fsis-consumer-poultry"]
    states = [seen(logs_of, piece, JudgedAs.POULTRY).state for piece in ratites]
    return SafetyFact(
        f"By the consumers’ chart, if these birds are poultry there as in its inspection: {asked(row)}",
        together(states),
        f"{row.citation}; 9 CFR 381.1, by which ratites are poultry",
    )


def _own_caution(rule: JudgedAs, found: Sequence[tuple[Piece, Judged]]) -> str:
    """Return where a rule was taken by this program's own caution, not by what is published."""
    if rule is JudgedAs.NON_INTACT and any(PROBED_EARLY in each.why for _, each in found):
        return (
            "; that a probe put in early counts as a cut is this program’s own caution, no source"
        )
    return ""


def _source(rows: Sequence[SafetyRule]) -> str:
    return rows[0].citation if len(rows) == 1 else f"{rows[0].citation} and its chart"


def _asks(rows: Sequence[SafetyRule]) -> str:
    """Return what any of some rows asks: "155 °F (68 °C) for 17 s, or 158 °F (70 °C)"."""
    said = [asked(row) for row in rows]
    if len(said) == 1:
        return said[0]
    return f"{said[0]} ({' or '.join(f'{trimmed(row.value)} °F' + _for(row) for row in rows[1:])})"


def _for(row: SafetyRule) -> str:
    if not row.hold:
        return " at once"
    minutes, seconds = divmod(row.hold, 60)
    return f" for {trimmed(minutes)} min" if not seconds else f" for {trimmed(row.hold)} s"


def _name(rule: JudgedAs, found: Sequence[tuple[Piece, Judged]]) -> str:
    """Return what the meat is called, and where something made it so, what."""
    if rule is JudgedAs.NON_INTACT:
        why = dict.fromkeys(one for _, each in found for one in each.why)
        return f"Counts as non-intact ({', '.join(why)})"
    if rule in ASKED_ABOUT:
        cuts = dict.fromkeys(piece.cut.strip() or "not said" for piece, _ in found)
        said = ", ".join(f"“{cut}”" for cut in cuts)
        asks = meat_of(found[0][0].cut).question
        return f"{rule.capitalize()} ({said}). {asks} Until then by the strictest rule"
    why = dict.fromkeys(one for _, each in found for one in each.why)
    if rule in {JudgedAs.GROUND, JudgedAs.STUFFED} and why:
        return f"{rule.capitalize()} ({', '.join(why)})"
    return rule.capitalize()


def _pieces_known(known: Mapping[str, Seen]) -> str:
    """Return how many pieces are known, and why the others are not."""
    told = sum(one.state is not State.UNKNOWN for one in known.values())
    count = "every piece" if told == len(known) else f"{told} of {len(known)} pieces known"
    why: dict[str, list[str]] = {}
    for label, one in known.items():
        if one.why:
            why.setdefault(one.why, []).append(label)
    every = {label for labels in why.values() for label in labels} == set(known) and len(why) == 1
    said = [words if every else f"{words}: {', '.join(labels)}" for words, labels in why.items()]
    return "; ".join((count, *said))
