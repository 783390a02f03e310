"""Ranges: what answers come to where figures are drawn between their low and their high."""
