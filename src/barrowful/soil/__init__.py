"""What becomes of material in and on the ground over time."""
