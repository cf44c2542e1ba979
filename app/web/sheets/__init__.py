"""Spreadsheets handed in at the desk: kept until stored or discarded, worked on beside the desk."""
