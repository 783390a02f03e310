"""What each command answers about a site, as a report of all its tables: for the commands and for scripts."""
