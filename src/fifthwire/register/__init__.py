"""The register: every table and every statement that reads or writes one. Rows never leave this room; records do."""
