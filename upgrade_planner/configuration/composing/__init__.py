"""Vehicle, systems and changes put together to one configuration."""
