"""What an owner's engineer sees over the years."""
