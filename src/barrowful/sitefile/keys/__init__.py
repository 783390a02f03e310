"""Every key of the site file, described once."""
