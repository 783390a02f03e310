"""Pure relations of ground, material and time: one function a relation, each with its source.

Functions take and give pint quantities; ``.si`` on each is the same relation on SI floats.
"""
