"""What a solution takes at the saw, and whether the shop's limits let it be sawn."""
