"""From readings to causes: the windings, the movement, the running system, and the faults on top of the three."""
