"""Keys, certificates, seals and the log's chain. No web, no database."""
