"""Texts of the trade as values: quantities, sizes, colours, insulation."""
