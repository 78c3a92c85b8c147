"""The command line: its commands, their options, and what they print."""
