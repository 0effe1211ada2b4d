"""The certificate of a calibration: its model, its pages, its chart, and its machine-readable form."""
