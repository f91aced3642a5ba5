"""Rows of spreadsheets in and out: CSV and XLSX, wires as rows."""
