"""What is pasted into a cut's field by mistake is read at once, and is no meat."""

import time

import pytest

from pitjournal.domain.cuts import meat_of


@pytest.mark.parametrize("text", ["x" * 200_000, "pork " + "ab" * 100_000, "- " * 50_000])
def test_that_a_word_without_end_is_no_meat_that_anyone_knows(text: str) -> None:
    # Looking for two words in one takes the cube of its letters: hours, where words have no end.
    begun = time.process_time()
    assert meat_of(text).cut is None
    assert time.process_time() - begun < 20
