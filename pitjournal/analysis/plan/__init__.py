"""From a question to a day: layout, schedule, sums and lists."""
