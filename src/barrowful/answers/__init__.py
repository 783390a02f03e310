"""What the commands answer: options, choices, orders, sizes, course, ledger, cautions."""
