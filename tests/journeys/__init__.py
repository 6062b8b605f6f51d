"""Whole cooks through the real window, by keys alone and by mouse, judged by what is seen."""
