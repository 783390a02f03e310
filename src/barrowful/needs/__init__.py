"""What each kind of need takes, and when it is met."""
