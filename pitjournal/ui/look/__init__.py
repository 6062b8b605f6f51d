"""How the window looks: tokens, themes, and the parts that every page is made of."""
