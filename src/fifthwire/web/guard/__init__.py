"""Who may come in, from where, and what browsers are told never to do: before any page is asked."""
