"""Pictures of the wiring: what changes, where it is, terminal by terminal, a whole vehicle."""
