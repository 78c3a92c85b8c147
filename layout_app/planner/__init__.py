"""The worker as the window sees it: when it plans, what it offers and advises."""
