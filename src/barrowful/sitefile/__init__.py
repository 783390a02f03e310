"""From the bytes of a site file to checked values, with a place for every problem."""
