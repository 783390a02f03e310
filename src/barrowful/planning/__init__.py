"""The least-cost plan: a programme over all that may be put on, proved by the ordinary code."""
