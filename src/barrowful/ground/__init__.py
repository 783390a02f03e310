"""Pure relations of ground, material and time: one function a relation, each with its source.

Functions take and give floats in SI units; ``barrowful.relations`` has them for pint quantities.
"""
