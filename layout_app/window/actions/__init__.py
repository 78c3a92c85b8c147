"""Every action once: what it is called, its key, when it can be used, what it does."""
