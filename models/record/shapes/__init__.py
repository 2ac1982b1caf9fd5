"""The shapes of what is sent and kept: their JSON Schemas stand in docs/schemas/."""
