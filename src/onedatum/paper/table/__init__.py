"""Papers of a tank table: the same record as plain text, CSV, XLSX and PDF. Each form is imported by who needs it."""
