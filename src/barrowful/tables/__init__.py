"""Columns, rows, and the writers that turn them into text."""
