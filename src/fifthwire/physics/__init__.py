"""Equations with their sources, in plain floats."""
