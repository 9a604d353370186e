"""What was seen, felt and measured of a valve besides its windings, as facts with the codes of the likelihood table."""
