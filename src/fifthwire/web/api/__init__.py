"""The HTTP interface for other programs: the same workflow as the pages, in JSON, described by its OpenAPI.

The records of `model.kept` are what it answers; there is no second set of models. Quantities are numbers in the unit
that the key ends with.
"""
