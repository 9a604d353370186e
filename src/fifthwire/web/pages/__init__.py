"""The pages, a module a place of the register."""
