"""What ways cost: orders in the sellers' units, money, and hours."""
