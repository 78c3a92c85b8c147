"""Rules and edits on frozen projects; no Qt, no file, no undo."""
