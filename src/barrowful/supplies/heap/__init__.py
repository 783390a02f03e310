"""Heaps: recipes, blends, batches, timing, hygiene."""
