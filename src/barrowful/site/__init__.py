"""Frozen records of one holding; they know nothing of files, and hold SI floats, dates and money."""
