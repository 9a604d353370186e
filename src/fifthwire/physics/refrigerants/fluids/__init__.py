"""Coefficients of the refrigerants, one module each, written by tools/refrigerants.py."""
