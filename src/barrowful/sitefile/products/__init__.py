"""What is made from the description: schema, manual, starter, the outline for help."""
