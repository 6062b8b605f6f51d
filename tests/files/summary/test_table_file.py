import csv
import io
from dataclasses import replace

from pitjournal.files.summary import to_csv
from pitjournal.files.summary.content import SummaryTable, TableColumn
from tests.files.summary.sample import a_summary


def test_that_numbers_are_bare_and_the_unit_stands_in_the_head() -> None:
    rows = list(csv.reader(io.StringIO(to_csv(a_summary()))))
    assert rows[0] == ["Piece", "Arm", "On, kg", "Off, kg"]
    assert rows[1] == ["A1", "Left alone", "1.048", ""]
    assert len(rows) == 10


def test_that_lines_end_as_the_standard_says() -> None:
    # RFC 4180, section 2, rule 1: records end in CRLF.
    text = to_csv(a_summary())
    assert text.count("\r\n") == text.count("\n") == 10


def test_that_quotes_commas_and_breaks_survive() -> None:
    # RFC 4180, section 2, rules 6 and 7.
    hard = 'a "rack", thin\nend'
    table = SummaryTable("Each piece", (TableColumn("Piece", (hard,)),))
    text = to_csv(replace(a_summary(), pieces=table))
    assert text == 'Piece\r\n"a ""rack"", thin\nend"\r\n'


def test_that_words_never_become_a_formula() -> None:
    table = SummaryTable("Each piece", (TableColumn("Piece", ("=1+1", "@x", "fine")),))
    rows = list(csv.reader(io.StringIO(to_csv(replace(a_summary(), pieces=table)))))
    assert rows[1:] == [["'=1+1"], ["'@x"], ["fine"]]
