"""What one snapshot says: circuit states, floodback, sensors, and the facts of valves and of the system as a whole."""
