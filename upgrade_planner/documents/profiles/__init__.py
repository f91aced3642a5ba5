"""Profiles as text that people read and edit."""
