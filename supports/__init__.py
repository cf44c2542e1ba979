"""The domain: pipe supports, their loads, their settings and the changes made to them."""
