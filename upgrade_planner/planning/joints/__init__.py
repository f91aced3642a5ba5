"""Joints: what meets at one terminal is one operation, and what it takes to hold it there."""
