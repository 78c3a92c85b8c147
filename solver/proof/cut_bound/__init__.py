"""A lower bound on waste pieces, and so on cuts: strips and sheets priced with exact ends."""
