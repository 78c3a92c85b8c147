"""What goes on paper: cutting diagrams that other programs can read."""
