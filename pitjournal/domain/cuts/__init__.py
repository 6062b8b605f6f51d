"""The catalogue of meats and cuts: what a cook wrote, and what it means."""

from pitjournal.domain.cuts.catalogue import (
    GROUND_OFF,
    GUARDED_OFF,
    all_cuts,
    cut_names,
    cuts_under,
    find_cut,
    form_in,
    groups_among,
    means,
    meat_of,
    same_cut,
    served_as,
    usual_of,
    written_as,
)

__all__ = [
    "GROUND_OFF",
    "GUARDED_OFF",
    "all_cuts",
    "cut_names",
    "cuts_under",
    "find_cut",
    "form_in",
    "groups_among",
    "means",
    "meat_of",
    "same_cut",
    "served_as",
    "usual_of",
    "written_as",
]
