"""What readings are judged by: choices, given figures, checked rows, judging again."""
