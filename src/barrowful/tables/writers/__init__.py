"""The writers of reports (text, csv, tsv, json, markdown) and charts (svg, plot); each returns the whole."""
