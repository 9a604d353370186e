"""The tables, by topic. All stand in the one `schema.METADATA`."""
