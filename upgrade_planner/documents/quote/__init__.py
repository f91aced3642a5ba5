"""The quotation, and the shop's own calculation."""
