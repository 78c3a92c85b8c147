"""Finding plans: a first one at once, then ruin and recreate towards less stock and sawing."""
