"""Make the verdict plate of what a cook showed: its answers in large words, and what is drawn."""

from dataclasses import dataclass

from pitjournal.analysis.findings.across import Across
from pitjournal.analysis.findings.comparison import ArmSummary, Difference
from pitjournal.analysis.findings.factorial import Effect
from pitjournal.analysis.findings.findings import Findings
from pitjournal.analysis.findings.leeway import span
from pitjournal.analysis.findings.plate_words import (
    CONTRADICT,
    NO_MATTER,
    NOT_ENOUGH,
    could_show_words,
    how_much,
    more_or_less,
)
from pitjournal.analysis.findings.went_with import either_words, first_of_effects
from pitjournal.analysis.trade_words import (
    in_points,
    interval,
    many,
    number_of,
    over_cooks,
    signed_size,
)
from pitjournal.domain.catalogue import Variable
from pitjournal.domain.plate import NOT_FELT, Plate, PlatePoint, PlateRow, Reach, Stay
from pitjournal.units import UnitSystem, difference_of, show, to_display, unit_label
from pitjournal.units.first_letter import capital

NOT_TASTED, NOT_RECORDED = "Not tasted yet", "Not recorded"


def plate_of(found: Findings, system: UnitSystem) -> Plate:
    """Return what a cook showed as a plate.

    Parameters
    ----------
    found
        What the cook showed.
    system
        The units of words and numbers.
    """
    outcome = found.outcome
    if outcome is None or len(found.arms) < 2:
        return Plate(lead=found.words, noun=found.noun)
    unit = unit_label(difference_of(outcome.dimension), system)
    measure = capital(outcome.label)
    if outcome.ends is not None:
        measure += f", {show(outcome.ends[0], outcome.dimension, system).split()[0]} to "
        measure += show(outcome.ends[1], outcome.dimension, system).split()[0]
    rows = tuple(_Row(found, arm, outcome, system).made() for arm in found.arms)
    return Plate(rows, (), measure, in_points(f" {unit}").strip() or outcome.label, found.noun)


@dataclass(frozen=True)
class _Row:
    """A row being made: an arm, and what is known of it."""

    found: Findings
    arm: ArmSummary
    outcome: Variable
    system: UnitSystem

    def made(self) -> PlateRow:
        arm, what = self.arm, self.outcome.dimension
        verdict, line, tells = self._said()
        line = line.replace(" points", "")  # the axis says them
        return PlateRow(
            arm.name,
            arm.look,
            arm.control,
            verdict,
            line,
            tells,
            tuple(
                PlatePoint(p.label, p.block, float(to_display(p.value, what, self.system)))
                for p in arm.points
            ),
            None if arm.mean is None else float(to_display(arm.mean, what, self.system)),
            self._this(),
            self._joined(),
            self.stays,
            self.stayed,
        )

    @property
    def stays(self) -> tuple[Stay, ...]:
        return tuple(
            Stay(
                window.label,
                None if window.at_least is None else window.at_least / 60,
                None if window.at_most is None else window.at_most / 60,
                window.off_right,
            )
            for window in self.found.windows
            if window.axis == "time" and window.look == self.arm.look
        )

    @property
    def stayed(self) -> str:
        """How long its pieces stayed right, in words."""
        mine = [
            one
            for one in self.found.leeways
            if one.axis == "time" and one.arm_id == self.arm.arm_id
        ]
        bounds = span(mine[0].least) if mine else None
        if not self.stays or not mine or not mine[0].pieces:
            return NOT_FELT
        if bounds is None:
            return mine[0].reason.partition(":")[0] or "not felt right"
        low, high = round(bounds[0] / 60), round(bounds[1] / 60)
        return f"at least {low} min" if low == high else f"at least {low} to {high} min"

    @property
    def difference(self) -> Difference | None:
        mine = (d for d in self.found.declared if d.arm_id == self.arm.arm_id)
        return next((d for d in mine if d.estimate is not None), None)

    @property
    def across(self) -> Across | None:
        if self.effect is not None:
            return None
        return next((one for one in self.found.across if one.look == self.arm.look), None)

    @property
    def effect(self) -> Effect | None:
        """What it does in a two-by-two that no other cook made: each way is counted twice."""
        effects = self.found.effects
        if not effects or len(self.found.across) >= len(effects) or self.arm.control:
            return None
        alone = next((e for e in effects if not e.together and e.name == self.arm.name), None)
        return alone or next((e for e in effects if e.together), None)

    def _reach(self, words: str, estimate: float, low: float | None, high: float | None) -> Reach:
        what = difference_of(self.outcome.dimension)
        size, least, most = (
            None if v is None else float(to_display(v, what, self.system))
            for v in (estimate, low, high)
        )
        assert size is not None
        return Reach(words, size, least, most)

    def _this(self) -> Reach | None:
        effect, found = self.effect, self.difference
        if effect is not None and not effect.together:
            return self._reach("this cook", effect.estimate, effect.low, effect.high)
        if found is None or found.estimate is None:
            return None
        return self._reach("this cook", found.estimate, *found.shown)

    def _joined(self) -> Reach | None:
        joined = self.across
        if joined is None:
            return None
        words = number_of(len(joined.cooks), "cook")
        return self._reach(words, joined.estimate, joined.low, joined.high)

    # words

    def _said(self) -> tuple[str, str, bool]:
        """Return the answer, what it rests on, and whether it tells a difference."""
        if not self.arm.points:
            score = self.outcome.key.startswith("score.")
            line = "the scores stay sealed until the codes are revealed" * self.found.blind
            return (NOT_TASTED if score else NOT_RECORDED), line, False
        if self.arm.control or not any(one.control for one in self.found.arms):
            return self._of_control()
        return self._against()

    def _against(self) -> tuple[str, str, bool]:
        """Return what is said of an arm that is held against the control."""
        if self.found.places is not None:
            return self._place, "", False
        if self.effect is not None:
            return self._of_effect(self.effect)
        if self.across is not None:
            return self._of_cooks(self.across)
        if self.difference is not None:
            return self._of_cook(self.difference)
        return NOT_RECORDED, "not recorded for both arms", False

    @property
    def _mean(self) -> str:
        mean = self.arm.mean
        return "" if mean is None else show(mean, self.outcome.dimension, self.system)

    @property
    def _place(self) -> str:
        return f"Mean place {self._mean.partition(' ')[0]}, 1 is best"

    def _of_control(self) -> tuple[str, str, bool]:
        places = self.found.places
        if places is not None:  # what the packs say of their order stands once
            said = " ".join(one.rstrip(".") for one in places.words[1:2])
            return self._place, said, False
        said = self._mean
        if self.stayed.startswith("at least"):
            said += f", right for {self.stayed}"
        packs = {point.block for point in self.arm.points if point.block}
        line = number_of(len(self.arm.points), self.found.noun)
        if len(packs) > 1:
            line += f" from {number_of(len(packs), 'pack')}"
        return said, f"the control; {line}" if self.arm.control else line, False

    def _of_cooks(self, joined: Across) -> tuple[str, str, bool]:
        outcome, system = self.outcome, self.system
        over = over_cooks(len(joined.cooks))
        known = joined.low is not None and joined.high is not None
        bounds = interval(joined.low, joined.high, outcome, system) if known else "no interval"
        line = f"{bounds}, from {joined.pieces} {many(joined.noun)}"
        difference = self.difference
        if difference is not None and difference.estimate is not None:
            line += f". This cook alone: {signed_size(difference.estimate, outcome, system)}"
            if difference.shown[0] is not None:
                line += f", {interval(*difference.shown, outcome, system)}"
        if joined.tells:
            size = how_much(joined.estimate, outcome, system)
            way = more_or_less(joined.estimate, outcome)
            return self._with_company(joined, way, f"by {size} {over}", line)
        if joined.contradicts:
            return CONTRADICT, line, False
        if joined.too_small:
            return self._with_company(joined, NO_MATTER, over, line)
        return NOT_ENOUGH, line.replace(", from", f" {over}, from", 1), False

    def _with_company(
        self, judged: Difference | Across, way: str, size: str, line: str
    ) -> tuple[str, str, bool]:
        """Return a claim on an arm; what went with the arm stands in it, or first in its line."""
        either, always = either_words(judged, self.found.company_of(judged))
        if always:
            return f"{way}, {either}: {size}", line, judged.tells
        return (
            f"{way}: {size}",
            f"{capital(either)}. {line}" if either else line,
            judged.tells,
        )

    def _of_cook(self, found: Difference) -> tuple[str, str, bool]:
        outcome, system = self.outcome, self.system
        assert found.estimate is not None
        size = signed_size(found.estimate, outcome, system)
        count = number_of(found.pieces - found.control_pieces, self.found.noun)
        if found.control_pieces * 2 == found.pieces:
            count += " of each"
        else:
            count += f" against {number_of(found.control_pieces, self.found.noun).split()[0]}"
        if found.shown[0] is None:
            return NOT_ENOUGH, f"{size}, {count}: no interval exists", False
        line = f"{interval(*found.shown, outcome, system)}, {count}"
        if found.tells:
            much = how_much(found.estimate, outcome, system)
            way = more_or_less(found.estimate, outcome)
            return self._with_company(found, way, f"by {much}, this cook", line)
        if found.too_small:
            return self._with_company(found, NO_MATTER, "this cook", f"{size}; {line}")
        could = found.could_show if found.borrowed is None else found.borrowed.could_show
        return NOT_ENOUGH, line + could_show_words(could, outcome, system), False

    def _of_effect(self, effect: Effect) -> tuple[str, str, bool]:
        outcome, system = self.outcome, self.system
        bounds = interval(effect.low, effect.high, outcome, system)
        line = f"{bounds}, with and without the other; {effect.pieces} pieces"
        if effect.together:
            line = f"beyond their sum {signed_size(effect.estimate, outcome, system)}, {bounds}"
            if not effect.tells:
                return "The two add up, or not enough to tell", line, False
            way = "more" if effect.estimate > 0 else "less"
            return f"Together {way} than each adds up to", line, True
        if not effect.tells:
            return NOT_ENOUGH, line, False
        line = first_of_effects(self.found.went_with) + line
        size = how_much(effect.estimate, outcome, system)
        return f"{more_or_less(effect.estimate, outcome)}: by {size}, this cook", line, True


def verdicts(plate: Plate) -> tuple[str, ...]:
    """Return the answer of each arm but the control, by which later ones are told apart."""
    return tuple(f"{row.name}: {row.verdict}" for row in plate.rows if not row.control)


def cooks_behind(found: Findings) -> tuple[str, ...]:
    """Return the ids of the cooks that the answer rests on, this one among them."""
    joined = (cook.cook_id for one in found.across for cook in one.cooks)
    return tuple(dict.fromkeys((found.cook_id, *joined)))
