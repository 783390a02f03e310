"""What a site file's description is written in: kinds of value, sections, lists, fields."""
