"""Whether a winding changes over the years, told from what moves all readings of a day together."""
