"""From patterns to trees of cuts, and from trees to numbered cuts."""
