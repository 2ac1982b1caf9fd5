"""Planning a round: its cards and points, who does them and when, which editions."""
