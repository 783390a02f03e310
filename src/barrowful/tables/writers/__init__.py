"""The writers: text, csv and tsv, json, markdown. Each returns the whole text of a report."""
