"""The refrigerant circuit simulated: what a described system does with none, one or several faults."""
