"""When it will be done: a model of the piece, an ensemble of it, one's own past cooks, a grade."""
