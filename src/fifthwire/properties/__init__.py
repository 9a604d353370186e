"""Refrigerants on whole arrays: what `physics.refrigerants` tells of one value, for a log of millions."""

from fifthwire.properties.refrigerant_arrays import RefrigerantArrays, refrigerant_arrays

__all__ = ["RefrigerantArrays", "refrigerant_arrays"]
