"""What tasters say: scores, ranks, tests of difference, and how far they agree."""
