"""The calls behind the commands, for scripts too."""
