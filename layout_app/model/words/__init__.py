"""Sentences about plans, choices, offers and the order of cuts."""
