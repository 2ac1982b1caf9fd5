"""Acts of safety: read, keep and load them; what stands by them on a round."""
