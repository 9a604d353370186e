"""Long runs by hand: what no input may do, and whether the tests notice a changed line."""
