"""A visit filled in on the page: its list, then a page a valve that is walked from top to bottom."""
