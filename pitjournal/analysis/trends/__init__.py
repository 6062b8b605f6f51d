"""Questions to all the cooks: what is asked, the columns it is asked of, and the answer."""
