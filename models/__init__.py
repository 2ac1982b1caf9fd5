"""All of Witnessmark that is true without a browser."""
