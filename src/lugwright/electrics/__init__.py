"""What wires can carry: published tables with their sources, and pure functions of numbers.

``tables``      the table files of ``tables/``, read once when first asked for
``sizes``       strand areas of wire sizes, and the size whose ampacity applies to an area
``resistance``  resistance of copper by area and temperature
``nodal``       nodal analysis of a network of resistors, exactly
``ampacity``    allowed current by size, insulation, engine space and bundle; tab currents
``colours``     conductor colours, their functions and short codes
"""
