"""Heat and water in meat, pots and pits."""
