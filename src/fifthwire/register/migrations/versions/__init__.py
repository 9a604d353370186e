"""One module a version, written by `tools/migration.py`."""
