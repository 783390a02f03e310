"""What is known: materials, plants, crops, rates and cautions, every figure with its source."""

#: Printed with every result; raised whenever a figure changes.
CATALOGUE_VERSION = "2026.11.28"
