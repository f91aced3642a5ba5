"""JSON Schemas, made from the classes that outputs and profiles are written and read by."""
