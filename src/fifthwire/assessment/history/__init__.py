"""A valve's windings over the years, head by head: what a page, a chart and a print are made of."""
