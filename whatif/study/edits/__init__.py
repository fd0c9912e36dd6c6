"""Changes of a study: small frozen records that replay on any draft."""
