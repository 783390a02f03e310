"""The season: dated jobs of what is followed, their windows, and the weeks they take."""
