"""Words and measures: problems, units, money and calendar steps. The bottom layer."""
