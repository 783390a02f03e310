"""What is grown on the site: stands, living covers, cover crops."""
