"""Who may sign in, who they are, and what they may do."""
