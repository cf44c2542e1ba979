"""Judgements: small pure functions over snapshots and site settings."""
