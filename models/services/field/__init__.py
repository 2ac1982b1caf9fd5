"""What a technician does at a card."""
