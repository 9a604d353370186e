"""Fifthwire: one visit's readings into a verdict for every expansion valve that stands up."""

__version__ = "0.1.0"
