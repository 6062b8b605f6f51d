"""What stands behind the button "How was this worked out?"."""

from pitjournal.analysis.derived import values_of
from pitjournal.analysis.findings.explain import explanations
from pitjournal.analysis.findings.findings import findings_of
from pitjournal.analysis.findings.slow_findings import slow_findings_of
from pitjournal.units import UnitSystem
from tests.analysis.findings.test_across_cooks import made
from tests.analysis.makers import CATALOGUE, compared, no_readings

ARMS = ("Left alone", "Injected", "Needled")
SCORES = ((6, 7, 6.5), (7, 8.2, 7), (6, 7.1, 6.4))


def test_that_each_number_has_its_data_method_formula_source_and_assumptions() -> None:
    whole = compared(ARMS, SCORES)
    others = [made(whole), made(compared(ARMS, SCORES))]
    values = values_of(whole, no_readings)
    found = findings_of(whole, values, CATALOGUE, no_readings, UnitSystem.US, others)
    deeper = slow_findings_of(whole, values.pieces, others[:1])
    said = dict(explanations(found, deeper, UnitSystem.US))
    for title in ("Injected", "Injected over several cooks", "Leeway as bounds"):
        worked = said[title]
        for text in (
            worked.data,
            worked.method,
            worked.formula,
            worked.source,
            worked.assumptions,
        ):
            assert text.strip(), title
    assert "A1 6 points (pack 1)" in said["Injected"].data
    assert "Needled" not in said["Injected"].data
    assert "Holm's p" in said["Injected"].method
    assert "4 degrees of freedom" in said["Injected"].method
    assert "cook 0" in said["Injected over several cooks"].data


def test_that_two_ways_need_no_correction() -> None:
    whole = compared(ARMS[:2], SCORES[:2])
    values = values_of(whole, no_readings)
    found = findings_of(whole, values, CATALOGUE, no_readings, UnitSystem.US)
    deeper = slow_findings_of(whole, values.pieces, [made(whole)])
    said = dict(explanations(found, deeper, UnitSystem.US))
    assert "Holm" not in said["Injected"].method
