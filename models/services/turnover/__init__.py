"""What a lead sees and decides between a round and its turnover."""
