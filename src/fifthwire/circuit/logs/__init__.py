"""A recorder's log of a simulated plant, with its truth: invented data, for tests and for trying the screening."""
