"""Where ground, effort and the site meet: supplies, doses, options and what follows from them."""
