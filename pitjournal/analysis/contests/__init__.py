"""What came of contests: totals and places by the rules, and a season of them."""
