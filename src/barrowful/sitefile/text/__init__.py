"""Text and nodes: reading, setting a value, appending an entry; the only modules that know YAML."""
