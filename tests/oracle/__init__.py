"""A slow way to the posterior of a head's cause, by plain enumeration and fine grids, that shares nothing with the
program's own inference but the records of a case and its laws.
"""
