"""The window, how it is put together, and what goes on beside the work."""
