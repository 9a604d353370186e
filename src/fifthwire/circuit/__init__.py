"""The refrigerant circuit simulated: what a described system does with none, one or several faults.

Inside the equations names stay short. Where a name does not carry its unit it is: flow kg/s, enthalpy kJ/kg, entropy
kJ/(kg K), volume m³/kg, conductance kW/K, heat and work kW, kpa an absolute pressure. What leaves the room (`States`,
and all that is made of it) carries its units.
"""
