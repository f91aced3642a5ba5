"""What the electricity does: conductors, heat, protection, networks."""
