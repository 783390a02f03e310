"""What each way can bring, when, and what it costs to draw on it."""
