"""Variables of the cook's own: made, and filled wherever built-in ones are."""
